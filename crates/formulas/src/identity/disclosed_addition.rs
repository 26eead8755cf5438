//! How much a dealer may add to a trailer before the weight label must say so.

use quantity::exact::mass::avoirdupois_pound;
use quantity::{Kind, Mass};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Share of the gross rating above which an addition is disclosed.
const SHARE: f64 = 0.015;
/// Weight above which an addition is disclosed. lb
const WEIGHT: f64 = 100.0;

/// The lesser of 1.5 % of the gross rating and 100 lb (72 FR 68442).
#[must_use]
pub fn disclosed_addition(gross_rating: Mass) -> Mass {
    let share = gross_rating * SHARE;
    let weight = Mass::new::<avoirdupois_pound>(WEIGHT);
    if share < weight { share } else { weight }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.disclosed_addition",
    summary: "Weight added before the first retail sale above which the labels must say so.",
    inputs: &[Input::quantity("gross_rating", Kind::Mass, "gross vehicle weight rating")
        .accepting(Accepts::Above("0 lb"))],
    result: Gives::quantity("addition", "lb", "more than this is disclosed"),
    parts: &[],
    valid: "recreational vehicle trailers with a federal label, from 2 June 2008",
    sources: &[Source {
        document: "72 FR 68442 (FMVSS 110 and 120, S10)",
        section: "additions before the first retail sale",
        confirmed: Confirmed::Read,
    }],
    example: &[("gross_rating", "7600 lb")],
    compute: |inputs| {
        Ok(Outcome::new(disclosed_addition(inputs.get("gross_rating")?))
            .note("what an owner added later is on no label: only a scale tells"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, refuses};

    const NAME: &str = "identity.disclosed_addition";

    /// Worked from 72 FR 68442: 1.5 % up to 6666.7 lb, 100 lb above.
    #[test]
    fn the_lesser_of_share_and_weight_counts() {
        for (rating, pounds) in [("5000 lb", 75.0), ("6666.7 lb", 100.0), ("7600 lb", 100.0)] {
            check(NAME, &[("gross_rating", rating)], pounds, "lb", 0.001);
        }
        refuses(NAME, &[("gross_rating", "0 lb")], "not possible");
    }
}
