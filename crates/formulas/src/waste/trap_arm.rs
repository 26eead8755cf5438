//! How far a trap may stand from its vent.

use quantity::Length;
use quantity::uom::si::length::inch;

use crate::table::Table;
use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

static ARMS: Table = Table::of(include_str!("../../../../data/tables/trap_arms.csv"));

/// Longest trap arm of a nominal trap size under a code, and how far that number was confirmed.
///
/// # Errors
/// [`Problem::OutOfRange`] for a size that the code's table does not have.
pub fn trap_arm(trap: &str, code: &str) -> Result<(Length, &'static str), Problem> {
    ARMS.rows()
        .find(|row| row.text("code") == code && row.text("trap") == trap)
        .map(|row| (Length::new::<inch>(row.number("longest")), row.text("confirmed")))
        .ok_or_else(|| {
            Problem::out_of_range(format!("the table of {code} has no trap of {trap} in"))
        })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "waste.trap_arm",
    summary: "Longest trap arm, from the trap to its vent.",
    inputs: &[
        Input::word("trap", &["1-1/4", "1-1/2", "2", "3", "4"], "nominal trap size in inches"),
        Input::word(
            "code",
            &["upc", "ipc", "hud"],
            "upc (Uniform), ipc (International), hud (24 CFR 3280, manufactured homes; from memory)",
        ),
    ],
    result: Gives::quantity("longest", "in", "longest trap arm"),
    parts: &[Gives::words("confirmed", "how far this number was confirmed")],
    valid: "hud: up to 3 in",
    sources: &[
        Source {
            document: "California Plumbing Code 2013 (Uniform Plumbing Code)",
            section: "Table 1002.2",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "International Residential and Plumbing Codes",
            section: "trap-arm tables, as trade texts quote them",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "24 CFR 3280",
            section: "3280.611(c)(5)",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("trap", "1-1/2"), ("code", "upc")],
    compute: |inputs| {
        let (longest, confirmed) = trap_arm(inputs.words("trap")?, inputs.words("code")?)?;
        Ok(Outcome::new(longest)
            .part("confirmed", Output::words(confirmed))
            .note("an arm is at least two pipe diameters long; the code in force decides"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "waste.trap_arm";

    /// California Plumbing Code 2013, Table 1002.2; the International tables as quoted; 24 CFR 3280.611(c)(5) from
    /// memory.
    #[test]
    fn codes_differ_in_the_longest_trap_arm() {
        for (trap, code, inches) in [
            ("1-1/4", "upc", 30.0),
            ("1-1/2", "upc", 42.0),
            ("2", "upc", 60.0),
            ("3", "upc", 72.0),
            ("4", "upc", 120.0),
            ("1-1/4", "ipc", 60.0),
            ("1-1/2", "ipc", 72.0),
            ("2", "ipc", 96.0),
            ("3", "ipc", 144.0),
            ("4", "ipc", 192.0),
            ("1-1/4", "hud", 54.0),
            ("1-1/2", "hud", 54.0),
            ("2", "hud", 60.0),
            ("3", "hud", 72.0),
        ] {
            check(NAME, &[("trap", trap), ("code", code)], inches, "in", 1e-9);
        }
    }

    #[test]
    fn what_nobody_read_says_so() {
        let outcome = call(NAME, &[("trap", "2"), ("code", "hud")]).unwrap();
        assert_eq!(part_of(&outcome, "confirmed"), &Output::words("from memory"));
        let problem = refuses(NAME, &[("trap", "4"), ("code", "hud")], "no trap of 4 in");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
