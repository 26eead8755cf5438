//! Tongue weight with a bathroom scale and a beam.

use quantity::{Kind, Length, Mass};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// The jack post stands on a beam between a scale and a pivot: `reading · (a + b) / b`, a from scale to
/// post, b from post to pivot.
#[must_use]
pub fn beam_scale(reading: Mass, scale_to_post: Length, post_to_pivot: Length) -> Mass {
    reading * ((scale_to_post + post_to_pivot) / post_to_pivot)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.beam_scale",
    summary: "Weight on a jack post that stands on a beam between a scale and a pivot.",
    inputs: &[
        Input::quantity(
            "reading",
            Kind::Mass,
            "what the scale shows, less half the beam's own weight",
        )
        .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity(
            "scale_to_post",
            Kind::Length,
            "from the scale to the post, along the beam",
        )
        .accepting(Accepts::AtLeast("0 ft")),
        Input::quantity(
            "post_to_pivot",
            Kind::Length,
            "from the post to the pivot, along the beam",
        )
        .accepting(Accepts::Above("0 ft")),
    ],
    result: Gives::quantity("tongue", "lb", "weight on the post"),
    parts: &[],
    valid: "a level beam",
    sources: &[Source {
        document: "a trailer maker's owner's manual",
        section: "tongue weight with a household scale: 1 ft and 2 ft, times three",
        confirmed: Confirmed::Read,
    }],
    example: &[("reading", "220 lb"), ("scale_to_post", "2 ft"), ("post_to_pivot", "1 ft")],
    compute: |inputs| {
        let weight = beam_scale(
            inputs.get("reading")?,
            inputs.get("scale_to_post")?,
            inputs.get("post_to_pivot")?,
        );
        Ok(Outcome::new(weight)
            .note("chock the wheels before the coupler is free; keep hands and feet from under the tongue")
            .note("the weight on the jack post is more than that on the ball: see weights.jack_load"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, refuses};

    const NAME: &str = "weights.beam_scale";

    fn with<'a>(reading: &'a str, scale: &'a str, pivot: &'a str) -> [(&'a str, &'a str); 3] {
        [("reading", reading), ("scale_to_post", scale), ("post_to_pivot", pivot)]
    }

    /// A trailer maker's manual: 1 ft and 2 ft, times three.
    #[test]
    fn two_feet_and_one_foot_triple_the_reading() {
        check(NAME, &with("220 lb", "2 ft", "1 ft"), 660.0, "lb", 1e-6);
        check(NAME, &with("220 lb", "1 ft", "1 ft"), 440.0, "lb", 1e-6);
        check(NAME, &with("220 lb", "1 ft", "2 ft"), 330.0, "lb", 1e-6);
    }

    #[test]
    fn a_post_on_the_pivot_is_refused() {
        refuses(NAME, &with("220 lb", "2 ft", "0 ft"), "not possible");
    }
}
