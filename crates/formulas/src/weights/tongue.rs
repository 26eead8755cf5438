//! Tongue weight from weighing the tow vehicle alone and coupled.

use quantity::{Kind, Mass, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// What the tow vehicle's two axles carry more when coupled, with the weight-distributing bars slack:
/// `(front + rear, coupled) − (front + rear, alone)`.
///
/// # Errors
/// [`Problem::Input`] if it comes out negative.
pub fn tongue(
    alone_front: Mass,
    alone_rear: Mass,
    coupled_front: Mass,
    coupled_rear: Mass,
) -> Result<Mass, Problem> {
    let tongue = (coupled_front + coupled_rear) - (alone_front + alone_rear);
    if tongue.base() < 0.0 {
        return Err(Problem::input(
            "coupled_rear",
            "with coupled_front is less than the tow vehicle alone, a negative tongue weight: nothing \
             can be judged from it, re-weigh",
        ));
    }
    Ok(tongue)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.tongue",
    summary: "Tongue weight from the tow vehicle's axles, alone and coupled.",
    inputs: &[
        Input::quantity("alone_front", Kind::Mass, "front axle, tow vehicle alone")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("alone_rear", Kind::Mass, "rear axle, tow vehicle alone")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("coupled_front", Kind::Mass, "front axle, coupled, bars slack")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("coupled_rear", Kind::Mass, "rear axle, coupled, bars slack")
            .accepting(Accepts::Above("0 lb")),
    ],
    result: Gives::quantity("tongue", "lb", "weight on the ball or pin"),
    parts: &[],
    valid: "coupled with the weight-distributing bars slack; the same load in the tow vehicle",
    sources: &[Source {
        document: "trailer makers' owner's manuals",
        section: "weighing the tow vehicle alone and coupled",
        confirmed: Confirmed::Quoted,
    }],
    example: &[
        ("alone_front", "3000 lb"),
        ("alone_rear", "2400 lb"),
        ("coupled_front", "2700 lb"),
        ("coupled_rear", "3500 lb"),
    ],
    compute: |inputs| {
        let tongue = tongue(
            inputs.get("alone_front")?,
            inputs.get("alone_rear")?,
            inputs.get("coupled_front")?,
            inputs.get("coupled_rear")?,
        )?;
        Ok(Outcome::new(tongue).note(
            "only with the bars slack: under tension they send weight back to the trailer's axles and \
             the tongue comes out too light",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, refuses},
    };

    const NAME: &str = "weights.tongue";

    fn weighed<'a>(alone: [&'a str; 2], coupled: [&'a str; 2]) -> [(&'a str, &'a str); 4] {
        [
            ("alone_front", alone[0]),
            ("alone_rear", alone[1]),
            ("coupled_front", coupled[0]),
            ("coupled_rear", coupled[1]),
        ]
    }

    /// Two conventional trailers and a fifth wheel, worked from the definition.
    #[test]
    fn the_tongue_is_what_the_tow_vehicle_carries_more() {
        for (alone, coupled, pounds) in [
            (["3000 lb", "2400 lb"], ["2700 lb", "3500 lb"], 800.0),
            (["3000 lb", "2400 lb"], ["2850 lb", "2950 lb"], 400.0),
            (["4200 lb", "3000 lb"], ["4180 lb", "5220 lb"], 2_200.0),
        ] {
            check(NAME, &weighed(alone, coupled), pounds, "lb", 1e-6);
        }
    }

    #[test]
    fn a_negative_tongue_weight_is_weighed_again() {
        let pairs = weighed(["3000 lb", "2400 lb"], ["2700 lb", "2600 lb"]);
        assert!(matches!(refuses(NAME, &pairs, "re-weigh"), Problem::Input { .. }));
    }
}
