//! Ply rating and greatest cold pressure by the load range letter of a special trailer tyre.

use quantity::Pressure;
use quantity::exact::pressure::pound_per_square_inch;

use crate::{Confirmed, Formula, Gives, Input, Outcome, Problem, Source, table::Table};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/tyre_load_ranges.csv"));
const LETTERS: &[&str] = &["B", "C", "D", "E", "F", "G"];

/// What a load range letter stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadRange {
    /// Ply rating, a strength and not a count of plies.
    pub ply_rating: f64,
    /// Greatest cold pressure.
    pub pressure: Pressure,
    /// Whether a source was read; the letters F and G are from memory.
    pub is_read: bool,
}

/// The row of a load range letter.
///
/// # Errors
/// [`Problem::Input`] if there is no such letter in the table.
pub fn load_range(letter: &str) -> Result<LoadRange, Problem> {
    let table = &TABLE;
    table
        .rows()
        .find(|row| row.text("range") == letter)
        .map(|row| LoadRange {
            ply_rating: row.number("ply"),
            pressure: Pressure::new::<pound_per_square_inch>(row.number("pressure")),
            is_read: row.text("row_confirmed") == "quoted",
        })
        .ok_or_else(|| {
            Problem::input(
                "range",
                format!("`{letter}` is no load range; accepted: {}", LETTERS.join(", ")),
            )
        })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.load_range",
    summary: "Greatest cold pressure of a special trailer tyre by its load range.",
    inputs: &[Input::word("range", LETTERS, "load range letter on the sidewall")],
    result: Gives::quantity("pressure", "psi", "greatest cold pressure"),
    parts: &[Gives::quantity("ply_rating", "", "ply rating")],
    valid: "metric special trailer tyres",
    sources: &[
        Source {
            document: "trade charts of special trailer tyres",
            section: "load ranges B to E",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "trade charts of special trailer tyres",
            section: "load ranges F and G",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("range", "D")],
    compute: |inputs| {
        let range = load_range(inputs.words("range")?)?;
        let mut outcome = Outcome::new(range.pressure)
            .part("ply_rating", range.ply_rating)
            .note("the pressure on the sidewall goes before this one");
        if !range.is_read {
            outcome = outcome.note("this row is from memory");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use super::{LETTERS, TABLE};
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "tyres.load_range";

    #[test]
    fn every_row_has_its_letter() {
        let table = &TABLE;
        assert_eq!(table.rows().map(|row| row.text("range")).collect::<Vec<_>>(), LETTERS);
    }

    /// A trade chart and its restatement agree on B to E.
    #[test]
    fn letters_stand_for_a_pressure_and_a_ply_rating() {
        for (letter, ply, psi) in
            [("B", 4.0, 35.0), ("C", 6.0, 50.0), ("D", 8.0, 65.0), ("E", 10.0, 80.0)]
        {
            check(NAME, &[("range", letter)], psi, "psi", 1e-9);
            check_part(NAME, &[("range", letter)], "ply_rating", ply, "", 0.0);
        }
    }

    #[test]
    fn a_row_from_memory_says_so() {
        let says = |letter| {
            let outcome = call(NAME, &[("range", letter)]).unwrap();
            outcome.notes.iter().any(|note| note.contains("from memory"))
        };
        assert!(says("F") && says("G") && !says("E"));
        refuses(NAME, &[("range", "H")], "accepted: B, C, D, E, F, G");
    }
}
