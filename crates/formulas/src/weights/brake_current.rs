//! The current that each electric brake takes, against the maker's rating.

use quantity::{Current, Kind};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

use super::whole_count::whole_count;

/// How far below the rated maximum the average may be.
const LOW: f64 = 0.70;
/// How far above the rated maximum the average may be.
const HIGH: f64 = 1.20;

/// Average current of the brakes, and what it should lie between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BrakeCurrent {
    /// Measured maximum divided by the number of brakes.
    pub per_brake: Current,
    /// Least acceptable average.
    pub low: Current,
    /// Greatest acceptable average.
    pub high: Current,
    /// Average to expect if one magnet is open and the others draw their rating.
    pub one_open: Current,
}

/// The measured maximum divided by the number of brakes, and its band: 30 % below to 20 % above the
/// maker's maximum for one brake (49 CFR 570.58; the two percentages are from memory).
///
/// # Errors
/// [`Problem::Input`] if the number of brakes is no whole number from 1 to 12.
pub fn brake_current(
    current: Current,
    brakes: f64,
    rated_per_brake: Current,
) -> Result<BrakeCurrent, Problem> {
    let brakes = whole_count("brakes", brakes, 12.0)?;
    Ok(BrakeCurrent {
        per_brake: current / brakes,
        low: rated_per_brake * LOW,
        high: rated_per_brake * HIGH,
        one_open: rated_per_brake * ((brakes - 1.0) / brakes),
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.brake_current",
    summary: "Average current of the electric brakes, and the band around the maker's maximum.",
    inputs: &[
        Input::quantity(
            "current",
            Kind::Current,
            "greatest current between controller and brakes, fully applied",
        )
        .accepting(Accepts::AtLeast("0 A")),
        Input::quantity("brakes", Kind::Number, "how many brakes"),
        Input::quantity(
            "rated_per_brake",
            Kind::Current,
            "the brake maker's maximum for one brake",
        )
        .accepting(Accepts::Above("0 A")),
    ],
    result: Gives::quantity("per_brake", "A", "average current of one brake"),
    parts: &[
        Gives::quantity("low", "A", "least acceptable average: 30 % below the maximum"),
        Gives::quantity("high", "A", "greatest acceptable average: 20 % above the maximum"),
        Gives::quantity("one_open", "A", "average to expect if one magnet is open"),
    ],
    valid: "",
    sources: &[
        Source {
            document: "49 CFR 570.58",
            section: "ammeter between controller and brakes, divided by their number",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "49 CFR 570.58",
            section: "20 % above and 30 % below the maker's maximum",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("current", "15 A"), ("brakes", "4"), ("rated_per_brake", "4.0 A")],
    compute: |inputs| {
        let found = brake_current(
            inputs.get("current")?,
            inputs.get("brakes")?,
            inputs.get("rated_per_brake")?,
        )?;
        Ok(Outcome::new(found.per_brake)
            .part("low", found.low)
            .part("high", found.high)
            .part("one_open", found.one_open)
            .note("zero with the brakes off, under a minute fully applied, and steady: a current that swings is a fault by itself")
            .note("an average hides one open magnet among several: near one_open, or where in doubt, measure each brake"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{check, check_part, refuses},
    };

    const NAME: &str = "weights.brake_current";

    fn with(current: &str) -> [(&str, &str); 3] {
        [("current", current), ("brakes", "4"), ("rated_per_brake", "4.0 A")]
    }

    /// Worked from 49 CFR 570.58 for four brakes of 4.0 A.
    #[test]
    fn the_average_stands_beside_its_band() {
        for (current, average) in
            [("15.0 A", 3.75), ("10.8 A", 2.70), ("19.4 A", 4.85), ("11.25 A", 2.8125)]
        {
            check(NAME, &with(current), average, "A", 1e-9);
            check_part(NAME, &with(current), "low", 2.80, "A", 1e-9);
            check_part(NAME, &with(current), "high", 4.80, "A", 1e-9);
        }
    }

    /// Three of four magnets of 3.75 A: 11.25 A, which the band lets pass.
    #[test]
    fn one_open_magnet_of_four_can_hide_in_the_band() {
        let pairs = [("current", "11.25 A"), ("brakes", "4"), ("rated_per_brake", "3.75 A")];
        check(NAME, &pairs, 2.8125, "A", 1e-9);
        check_part(NAME, &pairs, "one_open", 2.8125, "A", 1e-9);
        check_part(NAME, &pairs, "low", 2.625, "A", 1e-9);
    }

    #[test]
    fn brakes_are_counted() {
        for brakes in ["0", "-2", "2.5", "13"] {
            let pairs = [("current", "15 A"), ("brakes", brakes), ("rated_per_brake", "4 A")];
            let problem = refuses(NAME, &pairs, "whole number from 1 to 12");
            assert!(matches!(problem, Problem::Input { .. }), "{brakes}");
        }
        refuses(
            NAME,
            &[("current", "-1 A"), ("brakes", "2"), ("rated_per_brake", "4 A")],
            "not possible",
        );
    }
}
