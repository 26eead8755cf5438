//! How two supports share a weight.

use quantity::{Force, Kind, Length, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// What the first and the second support carry: `R₁ = W (x₂ − x) / (x₂ − x₁)`, and the rest. Positions are
/// measured along the unit from one point.
///
/// # Errors
/// [`Problem::Input`] if the supports are at one place, or the middle of the weight lies outside them: it
/// would tip.
pub fn two_supports(
    weight: Force,
    first: Length,
    second: Length,
    centre: Length,
) -> Result<(Force, Force), Problem> {
    if first == second {
        return Err(Problem::input("second", "is where the first is; accepted: another place"));
    }
    let share = (second - centre) / (second - first);
    if !(-1e-12..=1.0 + 1e-12).contains(&share.base()) {
        return Err(Problem::input(
            "centre",
            "lies outside the two supports: the unit would tip; accepted: a place between them",
        ));
    }
    let first_load = weight * share;
    Ok((first_load, weight - first_load))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.two_supports",
    summary: "What each of two supports carries of a weight between them.",
    inputs: &[
        Input::quantity("weight", Kind::Force, "whole weight").accepting(Accepts::AtLeast("0 lbf")),
        Input::quantity("first", Kind::Length, "place of the first support along the unit"),
        Input::quantity("second", Kind::Length, "place of the second support"),
        Input::quantity("centre", Kind::Length, "place of the centre of gravity"),
    ],
    result: Gives::quantity("largest", "lbf", "the greater of the two loads"),
    parts: &[
        Gives::quantity("first_load", "lbf", "on the first support"),
        Gives::quantity("second_load", "lbf", "on the second support"),
    ],
    valid: "two supports with the centre of gravity between them",
    sources: &[Source { document: "law of the lever", section: "", confirmed: Confirmed::Derived }],
    example: &[("weight", "9000 lbf"), ("first", "0 ft"), ("second", "24 ft"), ("centre", "14 ft")],
    compute: |inputs| {
        let (first, second) = two_supports(
            inputs.get("weight")?,
            inputs.get("first")?,
            inputs.get("second")?,
            inputs.get("centre")?,
        )?;
        Ok(Outcome::new(if first > second { first } else { second })
            .part("first_load", first)
            .part("second_load", second)
            .note("a jack is chosen for 1.25 times its load or more (common practice)")
            .note("stabilizer jacks of a recreational vehicle never lift it; never go under a unit on jacks alone"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, check_part, refuses},
    };

    const NAME: &str = "support.two_supports";

    fn with<'a>(first: &'a str, second: &'a str, centre: &'a str) -> [(&'a str, &'a str); 4] {
        [("weight", "9000 lbf"), ("first", first), ("second", second), ("centre", centre)]
    }

    /// 9000 lbf at 14 ft between supports at 0 and 24 ft, worked from the law of the lever.
    #[test]
    fn the_nearer_support_carries_more() {
        let pairs = with("0 ft", "24 ft", "14 ft");
        check_part(NAME, &pairs, "first_load", 3_750.0, "lbf", 1e-6);
        check_part(NAME, &pairs, "second_load", 5_250.0, "lbf", 1e-6);
        check(NAME, &pairs, 5_250.0, "lbf", 1e-6);
        check_part(NAME, &with("24 ft", "0 ft", "14 ft"), "first_load", 5_250.0, "lbf", 1e-6);
        check_part(NAME, &with("0 ft", "24 ft", "24 ft"), "first_load", 0.0, "lbf", 1e-6);
    }

    #[test]
    fn a_unit_that_would_tip_is_refused() {
        for pairs in [with("0 ft", "24 ft", "25 ft"), with("0 ft", "24 ft", "-1 ft")] {
            assert!(matches!(refuses(NAME, &pairs, "would tip"), Problem::Input { .. }));
        }
        let problem = refuses(NAME, &with("3 ft", "3 ft", "3 ft"), "where the first is");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
