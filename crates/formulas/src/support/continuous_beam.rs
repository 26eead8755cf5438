//! How a continuous frame rail shares its weight among equally spaced piers.

use quantity::{Force, Kind, Quantity};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Reactions of a continuous beam of equal spans under a uniform load, end to end.
///
/// Clapeyron's three moments, `M(i−1) + 4 M(i) + M(i+1) = −w L²/2` at every inner support, and from them
/// the reactions. They depend on the whole weight alone, neither on the span nor on the stiffness; all
/// supports are taken as level and unyielding.
///
/// # Errors
/// [`Problem::Input`] if the number of spans is no whole number from 1 to 50.
pub fn continuous_beam(spans: f64, weight: Force) -> Result<Vec<Force>, Problem> {
    let count =
        (1_u8..=50).find(|count| (f64::from(*count) - spans).abs() < 1e-9).ok_or_else(|| {
            Problem::input(
                "spans",
                format!("{spans} is no count of spans; accepted: a whole number from 1 to 50"),
            )
        })?;
    let moments = moments(usize::from(count));
    let each_span = weight / spans.round();
    Ok((0..moments.len())
        .map(|at| {
            let own = moments[at];
            let left = at.checked_sub(1).map(|before| 0.5 + moments[before] - own);
            let right = moments.get(at + 1).map(|after| 0.5 + after - own);
            each_span * (left.unwrap_or(0.0) + right.unwrap_or(0.0))
        })
        .collect())
}

/// Moments over the supports in units of w L², the ends included, where they are zero.
fn moments(spans: usize) -> Vec<f64> {
    // Elimination down the tridiagonal system with 4 on the diagonal and 1 beside it.
    let mut moments = vec![0.0; spans + 1];
    let mut above = vec![0.0; spans + 1];
    for at in 1..spans {
        let pivot = 4.0 - above[at - 1];
        above[at] = 1.0 / pivot;
        moments[at] = (-0.5 - moments[at - 1]) / pivot;
    }
    for at in (1..spans).rev() {
        let below: f64 = moments[at + 1];
        moments[at] -= above[at] * below;
    }
    moments
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.continuous_beam",
    summary: "Loads of equally spaced piers under a continuous rail with a uniform load.",
    inputs: &[
        Input::quantity(
            "spans",
            Kind::Number,
            "spans between piers, one less than there are piers",
        ),
        Input::quantity("weight", Kind::Force, "whole weight on the rail")
            .accepting(Accepts::AtLeast("0 lbf")),
    ],
    result: Gives::quantity("reactions", "lbf", "load of each pier, end to end"),
    parts: &[Gives::quantity("largest", "lbf", "the greatest of them")],
    valid: "1 to 50 equal spans, uniform load, all piers level and in contact",
    sources: &[Source {
        document: "theorem of three moments (Clapeyron)",
        section: "agrees with PyNiteFEA 3.2.0",
        confirmed: Confirmed::Derived,
    }],
    example: &[("spans", "4"), ("weight", "3200 lbf")],
    compute: |inputs| {
        let reactions = continuous_beam(inputs.get("spans")?, inputs.get("weight")?)?;
        let largest = reactions.iter().map(|reaction| reaction.base()).fold(0.0, f64::max);
        Ok(Outcome::new(Output::list(reactions))
            .part("largest", Force::from_base(largest))
            .note("a pier that has settled or has a gap carries nothing: its neighbours carry more than this"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, check_part, in_unit, refuses},
    };

    const NAME: &str = "support.continuous_beam";

    /// Written by reference/support/generate.py with PyNiteFEA 3.2.0.
    const REFERENCE: &str = include_str!("../../../../reference/support/reactions.csv");

    fn reactions(spans: &str, weight: &str) -> Vec<f64> {
        let Output::Quantities(values) =
            call(NAME, &[("spans", spans), ("weight", weight)]).unwrap().result
        else {
            panic!("no list")
        };
        values.into_iter().map(|value| in_unit(value, "lbf")).collect()
    }

    fn agree(got: &[f64], want: &[f64], tolerance: f64) {
        assert_eq!(got.len(), want.len());
        for (got, want) in got.iter().zip(want) {
            assert!((got - want).abs() <= tolerance, "{got}, expected {want}");
        }
    }

    /// Structural handbooks, four equal spans: 0.3929, 1.1429 and 0.9286 w L; 100 lbf/ft over spans of 8 ft.
    #[test]
    fn four_spans_are_shared_as_in_the_handbooks() {
        agree(&reactions("4", "3200 lbf"), &[314.3, 914.3, 742.9, 914.3, 314.3], 0.05);
        check_part(NAME, &[("spans", "4"), ("weight", "3200 lbf")], "largest", 914.3, "lbf", 0.05);
    }

    #[test]
    fn one_and_two_spans_are_shared_as_in_the_handbooks() {
        agree(&reactions("1", "1000 lbf"), &[500.0, 500.0], 1e-9);
        agree(&reactions("2", "1000 lbf"), &[187.5, 625.0, 187.5], 1e-9);
    }

    /// PyNiteFEA 3.2.0, stiff supports, 1 to 12 spans of 100 lbf/ft: within its solver's rounding.
    #[test]
    fn reactions_agree_with_finite_elements() {
        let mut rows = 0;
        for row in REFERENCE.lines().skip(1) {
            let cells: Vec<&str> = row.split(',').collect();
            let want: Vec<f64> = cells[2].split(' ').map(|cell| cell.parse().unwrap()).collect();
            agree(&reactions(cells[0], &format!("{} lbf", cells[1])), &want, 1e-3);
            rows += 1;
        }
        assert_eq!(rows, 12);
    }

    #[test]
    fn all_reactions_together_are_the_weight() {
        for spans in 1..=50 {
            let sum: f64 = reactions(&spans.to_string(), "5000 lbf").iter().sum();
            assert!((sum - 5_000.0).abs() < 1e-6, "{spans}: {sum}");
        }
    }

    #[test]
    fn part_of_a_span_is_refused() {
        for spans in ["0", "1.5", "51", "-4"] {
            let problem = refuses(NAME, &[("spans", spans), ("weight", "1 lbf")], "whole number");
            assert!(matches!(problem, Problem::Input { .. }));
        }
    }
}
