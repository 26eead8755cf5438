//! Tongue weight from the whole trailer and its axles while coupled.

use quantity::{Kind, Mass, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Gross weight minus what the trailer's axles carry while coupled, bars slack.
///
/// # Errors
/// [`Problem::Input`] if the axles carry more than the whole trailer.
pub fn from_gross(gross: Mass, axles_coupled: Mass) -> Result<Mass, Problem> {
    let tongue = gross - axles_coupled;
    if tongue.base() < 0.0 {
        return Err(Problem::input(
            "axles_coupled",
            "is more than the whole trailer, a negative tongue weight: nothing can be judged from it, \
             re-weigh",
        ));
    }
    Ok(tongue)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.from_gross",
    summary: "Tongue weight from the whole trailer and its axles while coupled.",
    inputs: &[
        Input::quantity(
            "gross",
            Kind::Mass,
            "the uncoupled trailer, all wheels and the jack on the scale",
        )
        .accepting(Accepts::Above("0 lb")),
        Input::quantity(
            "axles_coupled",
            Kind::Mass,
            "the trailer's axles while coupled, bars slack",
        )
        .accepting(Accepts::AtLeast("0 lb")),
    ],
    result: Gives::quantity("tongue", "lb", "weight on the ball or pin"),
    parts: &[],
    valid: "coupled with the weight-distributing bars slack, trailer level",
    sources: &[Source {
        document: "a trailer maker's owner's manual",
        section: "tongue weight on a platform scale",
        confirmed: Confirmed::Read,
    }],
    example: &[("gross", "7000 lb"), ("axles_coupled", "6200 lb")],
    compute: |inputs| {
        let tongue = from_gross(inputs.get("gross")?, inputs.get("axles_coupled")?)?;
        Ok(Outcome::new(tongue)
            .note("weigh it level: a high or low nose moves weight between the axles"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, refuses},
    };

    const NAME: &str = "weights.from_gross";

    /// The same trailer weighed by its tow vehicle gives 800 lb too.
    #[test]
    fn the_tongue_is_what_the_axles_do_not_carry() {
        check(NAME, &[("gross", "7000 lb"), ("axles_coupled", "6200 lb")], 800.0, "lb", 1e-6);
        let problem =
            refuses(NAME, &[("gross", "6200 lb"), ("axles_coupled", "7000 lb")], "re-weigh");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
