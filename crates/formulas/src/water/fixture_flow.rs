//! What a fixture should get.

use quantity::{Pressure, VolumeFlow, exact};

use crate::table::Table;
use crate::{Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static FIXTURES: Table = Table::of(include_str!("../../../../data/tables/fixture_flows.csv"));

/// Least flow, and the flowing pressure at it, that supply pipe to a fixture is designed for.
///
/// # Errors
/// [`Problem::Input`] for a fixture that the table does not have.
pub fn fixture_flow(fixture: &str) -> Result<(VolumeFlow, Pressure), Problem> {
    FIXTURES
        .rows()
        .find(|row| row.text("fixture") == fixture)
        .map(|row| {
            (
                VolumeFlow::new::<exact::volume_rate::us_gallon_per_minute>(row.number("flow")),
                Pressure::new::<exact::pressure::pound_per_square_inch>(row.number("pressure")),
            )
        })
        .ok_or_else(|| Problem::input("fixture", format!("`{fixture}` is no listed fixture")))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.fixture_flow",
    summary: "Least flow that the supply pipe of a fixture is designed for.",
    inputs: &[Input::word(
        "fixture",
        &[
            "lavatory",
            "kitchen_sink",
            "shower",
            "shower_balanced",
            "bathtub",
            "hose_bibb",
            "tank_toilet",
        ],
        "the fixture; shower_balanced has a balancing mixing valve",
    )],
    result: Gives::quantity("flow", "gpm", "least flow"),
    parts: &[Gives::quantity("pressure", "psi", "flowing pressure at it")],
    valid: "",
    sources: &[Source {
        document: "International Plumbing Code",
        section: "Table 604.3",
        confirmed: Confirmed::Read,
    }],
    example: &[("fixture", "shower")],
    compute: |inputs| {
        let (flow, pressure) = fixture_flow(inputs.words("fixture")?)?;
        Ok(Outcome::new(flow)
            .part("pressure", pressure)
            .note("a design value for supply pipe; fixtures that save water are made to give less"))
    },
};

#[cfg(test)]
mod tests {
    use super::{FIXTURES, FORMULA};
    use crate::Takes;
    use crate::tests::{check, check_part};

    /// International Plumbing Code, Table 604.3.
    #[test]
    fn fixtures_have_their_design_flow() {
        for (fixture, gpm, psi) in [
            ("lavatory", 0.8, 8.0),
            ("kitchen_sink", 1.75, 8.0),
            ("shower", 2.5, 8.0),
            ("shower_balanced", 2.5, 20.0),
            ("bathtub", 4.0, 20.0),
            ("hose_bibb", 5.0, 8.0),
            ("tank_toilet", 3.0, 20.0),
        ] {
            check(FORMULA.name, &[("fixture", fixture)], gpm, "gpm", 1e-9);
            check_part(FORMULA.name, &[("fixture", fixture)], "pressure", psi, "psi", 1e-9);
        }
    }

    #[test]
    fn the_words_are_those_of_the_table() {
        let Takes::Word(words) = FORMULA.inputs[0].takes else { panic!("no words") };
        let table = &FIXTURES;
        assert_eq!(table.rows().map(|row| row.text("fixture")).collect::<Vec<_>>(), words);
    }
}
