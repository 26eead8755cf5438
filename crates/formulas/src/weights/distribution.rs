//! What a weight-distributing hitch gives back to the front axle and to the trailer.

use quantity::{Kind, Mass, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// The three weights of a coupled combination.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleWeights {
    /// Tow vehicle's front axle.
    pub front: Mass,
    /// Tow vehicle's rear axle.
    pub rear: Mass,
    /// Trailer's axles together.
    pub trailer: Mass,
}

impl AxleWeights {
    fn sum(self) -> Mass {
        self.front + self.rear + self.trailer
    }
}

/// What tightening the bars did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distribution {
    /// Share of the weight lost by the front axle that came back to it.
    pub front_restored: Ratio,
    /// Weight sent to the trailer's axles.
    pub trailer_gain: Mass,
    /// Sum of all axles tight, less the same slack: what the weighing does not explain.
    pub closure: Mass,
}

/// `(front tight − front slack) / (front alone − front slack)`.
///
/// # Errors
/// [`Problem::OutOfRange`] if coupling took nothing off the front axle.
pub fn distribution(
    alone_front: Mass,
    slack: AxleWeights,
    tight: AxleWeights,
) -> Result<Distribution, Problem> {
    let lost = alone_front - slack.front;
    if lost.base() <= 0.0 {
        return Err(Problem::out_of_range(
            "valid where coupling takes weight off the front axle; here it took none",
        ));
    }
    Ok(Distribution {
        front_restored: (tight.front - slack.front) / lost,
        trailer_gain: tight.trailer - slack.trailer,
        closure: tight.sum() - slack.sum(),
    })
}

const fn axle(name: &'static str, about: &'static str) -> Input {
    Input::quantity(name, Kind::Mass, about).accepting(Accepts::Above("0 lb"))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.distribution",
    summary: "Share of the front axle's lost weight that a weight-distributing hitch gives back.",
    inputs: &[
        axle("alone_front", "front axle, tow vehicle alone"),
        axle("slack_front", "front axle, coupled, bars slack"),
        axle("slack_rear", "rear axle, coupled, bars slack"),
        axle("slack_trailer", "trailer's axles, coupled, bars slack"),
        axle("tight_front", "front axle, coupled, bars tight"),
        axle("tight_rear", "rear axle, coupled, bars tight"),
        axle("tight_trailer", "trailer's axles, coupled, bars tight"),
    ],
    result: Gives::quantity("front_restored", "%", "share of the front axle's lost weight"),
    parts: &[
        Gives::quantity("trailer_gain", "lb", "weight sent to the trailer's axles"),
        Gives::quantity(
            "closure",
            "lb",
            "all axles tight less all axles slack; zero but for the scale",
        ),
    ],
    valid: "hitches that take weight off the front axle",
    sources: &[Source {
        document: "definition: weight given back divided by weight lost",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[
        ("alone_front", "3000 lb"),
        ("slack_front", "2700 lb"),
        ("slack_rear", "3500 lb"),
        ("slack_trailer", "6200 lb"),
        ("tight_front", "2850 lb"),
        ("tight_rear", "3150 lb"),
        ("tight_trailer", "6400 lb"),
    ],
    compute: |inputs| {
        let slack = AxleWeights {
            front: inputs.get("slack_front")?,
            rear: inputs.get("slack_rear")?,
            trailer: inputs.get("slack_trailer")?,
        };
        let tight = AxleWeights {
            front: inputs.get("tight_front")?,
            rear: inputs.get("tight_rear")?,
            trailer: inputs.get("tight_trailer")?,
        };
        let found = distribution(inputs.get("alone_front")?, slack, tight)?;
        Ok(Outcome::new(found.front_restored)
            .part("trailer_gain", found.trailer_gain)
            .part("closure", found.closure)
            .note("if closure is more than a division or two of the scale, re-weigh"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, check_part, refuses},
    };

    const NAME: &str = "weights.distribution";

    fn weighed(alone: &'static str, tight_rear: &'static str) -> [(&'static str, &'static str); 7] {
        [
            ("alone_front", alone),
            ("slack_front", "2700 lb"),
            ("slack_rear", "3500 lb"),
            ("slack_trailer", "6200 lb"),
            ("tight_front", "2850 lb"),
            ("tight_rear", tight_rear),
            ("tight_trailer", "6400 lb"),
        ]
    }

    /// 150 of 300 lb came back to the front axle, 200 lb went to the trailer: from the definition.
    #[test]
    fn half_of_what_the_front_lost_came_back() {
        check(NAME, &weighed("3000 lb", "3150 lb"), 50.0, "%", 1e-9);
        check_part(NAME, &weighed("3000 lb", "3150 lb"), "trailer_gain", 200.0, "lb", 1e-6);
        check_part(NAME, &weighed("3000 lb", "3150 lb"), "closure", 0.0, "lb", 1e-6);
        check_part(NAME, &weighed("3000 lb", "3190 lb"), "closure", 40.0, "lb", 1e-6);
    }

    #[test]
    fn a_front_axle_that_lost_nothing_is_out_of_range() {
        let problem = refuses(NAME, &weighed("2700 lb", "3150 lb"), "it took none");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
