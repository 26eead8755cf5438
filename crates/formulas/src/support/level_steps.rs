//! Steps of level from one pier to the next.

use quantity::{Kind, Length};

use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Absolute differences of level between neighbouring readings, in order.
///
/// # Errors
/// [`Problem::Input`] with fewer than two readings.
pub fn level_steps(readings: &[Length]) -> Result<Vec<Length>, Problem> {
    if readings.len() < 2 {
        return Err(Problem::input(
            "readings",
            "holds one; accepted: two or more, from pier to pier",
        ));
    }
    Ok(readings.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect())
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.level_steps",
    summary: "Differences of level between neighbouring piers, and the largest.",
    inputs: &[Input::list("readings", Kind::Length, "level at each pier, in order along the rail")],
    result: Gives::quantity("largest", "in", "largest difference between neighbours"),
    parts: &[Gives::quantity("differences", "in", "each difference, in order")],
    valid: "",
    sources: &[Source {
        document: "24 CFR 3285.6",
        section: "difference between adjacent pier supports; the limit is judged apart",
        confirmed: Confirmed::Read,
    }],
    example: &[("readings", "0, -0.25, -0.40 in")],
    compute: |inputs| {
        let steps = level_steps(&inputs.list("readings")?)?;
        let zero = Length::default();
        let largest =
            steps.iter().copied().fold(zero, |most, step| if step > most { step } else { most });
        Ok(Outcome::new(largest)
            .part("differences", Output::list(steps))
            .note("the rule is for each pair, whatever their spacing; doors and windows must not bind either"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, check, in_unit, part_of, refuses},
    };

    const NAME: &str = "support.level_steps";

    fn differences(readings: &str) -> Vec<f64> {
        let outcome = call(NAME, &[("readings", readings)]).unwrap();
        let Output::Quantities(values) = part_of(&outcome, "differences") else {
            panic!("no list")
        };
        values.iter().map(|value| in_unit(*value, "in")).collect()
    }

    fn near(got: &[f64], want: &[f64]) {
        assert_eq!(got.len(), want.len());
        assert!(got.iter().zip(want).all(|(got, want)| (got - want).abs() < 1e-9), "{got:?}");
    }

    /// Two rails, worked by hand.
    #[test]
    fn each_pair_has_its_difference() {
        let rail = "0, -0.25, -0.40 in";
        near(&differences(rail), &[0.25, 0.15]);
        check(NAME, &[("readings", rail)], 0.25, "in", 1e-9);
        let rail = "0.00 in; -0.30 in; -0.55 in; -0.45 in; -0.20 in";
        near(&differences(rail), &[0.30, 0.25, 0.10, 0.25]);
        check(NAME, &[("readings", rail)], 0.30, "in", 1e-9);
    }

    /// 24 CFR 3285.6 asks for a quarter of an inch; a copy that lost the fraction bar prints 14 inch.
    #[test]
    fn a_quarter_of_an_inch_keeps_its_fraction_bar() {
        check(NAME, &[("readings", "0 in, 1/4 in")], 0.25, "in", 1e-12);
        check(NAME, &[("readings", "0 in, 14 in")], 14.0, "in", 1e-12);
    }

    #[test]
    fn a_single_pier_has_no_neighbour() {
        assert!(matches!(
            refuses(NAME, &[("readings", "0 in")], "two or more"),
            Problem::Input { .. }
        ));
    }
}
