//! What the jack post carries when the ball does not.

use quantity::{Kind, Length, Mass};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// `J = tongue · L(ball) / L(jack)`, both distances from the middle of the axles.
#[must_use]
pub fn jack_load(tongue: Mass, ball_distance: Length, jack_distance: Length) -> Mass {
    tongue * (ball_distance / jack_distance)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.jack_load",
    summary: "Load on the tongue jack, which stands nearer to the axles than the ball.",
    inputs: &[
        Input::quantity("tongue", Kind::Mass, "weight on the ball")
            .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity("ball_distance", Kind::Length, "from the middle of the axles to the ball")
            .accepting(Accepts::Above("0 ft")),
        Input::quantity(
            "jack_distance",
            Kind::Length,
            "from the middle of the axles to the jack post",
        )
        .accepting(Accepts::Above("0 ft")),
    ],
    result: Gives::quantity("load", "lb", "weight on the jack post"),
    parts: &[],
    valid: "a level trailer on one group of axles",
    sources: &[Source { document: "law of the lever", section: "", confirmed: Confirmed::Derived }],
    example: &[("tongue", "900 lb"), ("ball_distance", "20 ft"), ("jack_distance", "18 ft")],
    compute: |inputs| {
        let load = jack_load(
            inputs.get("tongue")?,
            inputs.get("ball_distance")?,
            inputs.get("jack_distance")?,
        );
        Ok(Outcome::new(load)
            .note("a jack is chosen for 1.25 times its load or more (common practice)"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, refuses};

    const NAME: &str = "weights.jack_load";

    /// 900 lb at 20 ft and a jack at 18 ft, worked from the law of the lever.
    #[test]
    fn the_jack_carries_more_than_the_ball() {
        let pairs = [("tongue", "900 lb"), ("ball_distance", "20 ft"), ("jack_distance", "18 ft")];
        check(NAME, &pairs, 1_000.0, "lb", 1e-6);
    }

    #[test]
    fn a_jack_at_the_axle_is_refused() {
        let pairs = [("tongue", "900 lb"), ("ball_distance", "20 ft"), ("jack_distance", "0 ft")];
        refuses(NAME, &pairs, "not possible");
    }
}
