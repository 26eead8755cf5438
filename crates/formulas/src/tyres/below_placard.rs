//! How far a tyre's cold pressure lies below what the placard asks for.

use quantity::{Kind, Pressure, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// `(placard − pressure) / placard`; negative above the placard's pressure. Both above the atmosphere's.
#[must_use]
pub fn below_placard(pressure: Pressure, placard: Pressure) -> Ratio {
    (placard - pressure) / placard
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.below_placard",
    summary: "How far a tyre's cold pressure lies below the placard's.",
    inputs: &[
        Input::quantity("pressure", Kind::Pressure, "cold pressure, as the gauge shows it")
            .accepting(Accepts::Between("0 psi", "200 psi")),
        Input::quantity("placard", Kind::Pressure, "cold pressure on the placard")
            .accepting(Accepts::AboveUpTo("0 psi", "200 psi")),
    ],
    result: Gives::quantity("below", "%", "share of the placard's pressure; negative above it"),
    parts: &[],
    valid: "cold tyres: about three hours after driving, out of the sun (common practice)",
    sources: &[
        Source {
            document: "definition: difference divided by the placard's pressure",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "20 % below counts as run flat",
            section: "",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[("pressure", "48 psi"), ("placard", "60 psi")],
    compute: |inputs| {
        let below = below_placard(inputs.get("pressure")?, inputs.get("placard")?);
        let mut outcome = Outcome::new(below);
        if below.base() > 0.0 {
            outcome =
                outcome.note("inflate it cold to the placard; if it falls again, find the leak");
        }
        if below.base() >= 0.2 * (1.0 - 1e-12) {
            outcome = outcome.note(
                "a fifth or more below counts as run flat: the tyre comes off for a look inside before it \
                 carries load (common practice)",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, refuses};

    const NAME: &str = "tyres.below_placard";

    fn at(pressure: &str) -> [(&str, &str); 2] {
        [("pressure", pressure), ("placard", "60 psi")]
    }

    #[test]
    fn the_difference_is_a_share_of_the_placard() {
        for (pressure, percent) in
            [("60 psi", 0.0), ("57 psi", 5.0), ("48 psi", 20.0), ("0 psi", 100.0), ("63 psi", -5.0)]
        {
            check(NAME, &at(pressure), percent, "%", 1e-9);
        }
    }

    #[test]
    fn a_fifth_below_is_said_to_count_as_run_flat() {
        let says = |pressure| {
            let outcome = call(NAME, &at(pressure)).unwrap();
            outcome.notes.iter().any(|note| note.contains("run flat"))
        };
        assert!(says("48 psi") && says("0 psi"));
        assert!(!says("48.5 psi") && !says("61 psi"));
        refuses(NAME, &[("pressure", "48 psi"), ("placard", "0 psi")], "not possible");
        refuses(NAME, &at("-1 psi"), "not possible");
    }
}
