//! The share of the gross weight that rests on the coupling.

use quantity::{Kind, Mass, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Tongue weight divided by gross weight.
///
/// # Errors
/// [`Problem::Input`] if the tongue weighs more than the whole trailer.
pub fn tongue_percent(tongue: Mass, gross: Mass) -> Result<Ratio, Problem> {
    if tongue > gross {
        return Err(Problem::input(
            "tongue",
            "is heavier than the whole trailer; accepted: at most the gross weight",
        ));
    }
    Ok(tongue / gross)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.tongue_percent",
    summary: "Share of the trailer's gross weight that rests on the coupling.",
    inputs: &[
        Input::quantity("tongue", Kind::Mass, "weight on the ball or pin")
            .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity("gross", Kind::Mass, "weight of the loaded trailer, tongue included")
            .accepting(Accepts::Above("0 lb")),
    ],
    result: Gives::quantity("tongue_percent", "%", "share of the gross weight"),
    parts: &[],
    valid: "",
    sources: &[Source {
        document: "definition: part divided by whole",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("tongue", "800 lb"), ("gross", "7000 lb")],
    compute: |inputs| {
        Ok(Outcome::new(tongue_percent(inputs.get("tongue")?, inputs.get("gross")?)?))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, refuses};

    /// 800 lb of 7000 lb, 400 of 7000 and 2200 of 11 400: worked from the definition.
    #[test]
    fn the_share_is_part_over_whole() {
        for (tongue, gross, percent) in [
            ("800 lb", "7000 lb", 11.43),
            ("400 lb", "7000 lb", 5.71),
            ("2200 lb", "11400 lb", 19.30),
        ] {
            check(
                "weights.tongue_percent",
                &[("tongue", tongue), ("gross", gross)],
                percent,
                "%",
                0.005,
            );
        }
    }

    #[test]
    fn a_tongue_heavier_than_the_trailer_is_refused() {
        refuses(
            "weights.tongue_percent",
            &[("tongue", "8 lb"), ("gross", "7 lb")],
            "heavier than the whole trailer",
        );
    }
}
