//! How unevenly a trailer's two sides are loaded.

use quantity::{Kind, Mass, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// `|left − right| / (left + right)`.
///
/// # Errors
/// [`Problem::Input`] if neither side weighs anything.
pub fn side_imbalance(left: Mass, right: Mass) -> Result<Ratio, Problem> {
    let whole = left + right;
    if whole.base() <= 0.0 {
        return Err(Problem::input(
            "left",
            "and right are both zero; accepted: a weight on one side at least",
        ));
    }
    Ok((left - right).abs() / whole)
}

/// `left`, `right` or `neither`.
pub(super) fn heavier_side(left: Mass, right: Mass) -> &'static str {
    if left > right {
        "left"
    } else if right > left {
        "right"
    } else {
        "neither"
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.side_imbalance",
    summary: "Difference between a trailer's two sides, as a share of their sum.",
    inputs: &[
        Input::quantity("left", Kind::Mass, "all wheels of the left side")
            .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity("right", Kind::Mass, "all wheels of the right side")
            .accepting(Accepts::AtLeast("0 lb")),
    ],
    result: Gives::quantity("imbalance", "%", "share of the sum"),
    parts: &[Gives::words("heavier", "the heavier side")],
    valid: "",
    sources: &[Source {
        document: "definition: difference divided by sum",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("left", "3300 lb"), ("right", "2700 lb")],
    compute: |inputs| {
        let (left, right): (Mass, Mass) = (inputs.get("left")?, inputs.get("right")?);
        let heavier = heavier_side(left, right);
        Ok(Outcome::new(side_imbalance(left, right)?).part("heavier", Output::words(heavier)).note(
            "no legal limit: above 5 % is noted and above 10 % acted on (common practice); what binds \
             is each wheel against its tyre's capacity",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output,
        tests::{call, check, part_of, refuses},
    };

    const NAME: &str = "weights.side_imbalance";

    /// A tandem with 3300 lb on the left and 2700 lb on the right, worked from the definition.
    #[test]
    fn the_difference_is_a_share_of_the_sum() {
        let pairs = [("left", "3300 lb"), ("right", "2700 lb")];
        check(NAME, &pairs, 10.0, "%", 1e-9);
        assert_eq!(part_of(&call(NAME, &pairs).unwrap(), "heavier"), &Output::words("left"));
        check(NAME, &[("left", "0 lb"), ("right", "2700 lb")], 100.0, "%", 1e-9);
    }

    #[test]
    fn nothing_on_either_side_is_refused() {
        refuses(NAME, &[("left", "0 lb"), ("right", "0 lb")], "both zero");
    }
}
