//! The torque of trailer wheel nuts, stage by stage.

use quantity::Torque;
use quantity::exact::torque::pound_force_foot_of_torque;

use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source, table::Table};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/wheel_torques.csv"));

const WHEELS: &[&str] =
    &["12_or_13_in", "14_to_16_in", "16.5x9.75", "17.5_clamp_ring", "17.5_flanged_5/8_stud"];

/// From and to which torque nuts are tightened in one stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueBand {
    /// Least torque.
    pub low: Torque,
    /// Greatest torque.
    pub high: Torque,
}

/// The three stages for a wheel, the last being the final torque.
///
/// # Errors
/// [`Problem::Input`] if the table has no such wheel.
pub fn wheel_torque(wheel: &str) -> Result<Vec<TorqueBand>, Problem> {
    let table = &TABLE;
    let stages: Vec<TorqueBand> = table
        .rows()
        .filter(|row| row.text("wheel") == wheel)
        .map(|row| TorqueBand {
            low: Torque::new::<pound_force_foot_of_torque>(row.number("low")),
            high: Torque::new::<pound_force_foot_of_torque>(row.number("high")),
        })
        .collect();
    if stages.is_empty() {
        return Err(Problem::input(
            "wheel",
            format!("`{wheel}` is not in the table; accepted: {}", WHEELS.join(", ")),
        ));
    }
    Ok(stages)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.wheel_torque",
    summary: "Torque of trailer wheel nuts, tightened in three stages.",
    inputs: &[Input::word(
        "wheel",
        WHEELS,
        "rim size; 14_to_16_in is for studs of 1/2 and 9/16 in",
    )],
    result: Gives::quantity("low", "lbf ft", "least final torque"),
    parts: &[
        Gives::quantity("high", "lbf ft", "greatest final torque"),
        Gives::quantity("stages_low", "lbf ft", "least torque of each stage"),
        Gives::quantity("stages_high", "lbf ft", "greatest torque of each stage"),
    ],
    valid: "the wheels of the table; tables differ by stud and nut seat for studs of 5/8 in",
    sources: &[Source {
        document: "owner's manuals of a trailer maker and an axle maker",
        section: "wheel nut torque, the same table in both",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("wheel", "14_to_16_in")],
    compute: |inputs| {
        let wheel = inputs.words("wheel")?;
        let stages = wheel_torque(wheel)?;
        let last =
            stages.last().copied().ok_or_else(|| Problem::input("wheel", "has no stages"))?;
        let mut outcome = Outcome::new(last.low)
            .part("high", last.high)
            .part("stages_low", Output::list(stages.iter().map(|stage| stage.low)))
            .part("stages_high", Output::list(stages.iter().map(|stage| stage.high)))
            .note("the wheel maker's figure goes before this one; stud diameter and nut seat decide, and sources differ for studs of 5/8 in (140 to 160 against 275 to 325)")
            .note("tighten again after 10, 25 and 50 miles whenever a wheel was off");
        if wheel.starts_with("12_or_13") {
            outcome = outcome.note("one manual allows up to 65 lbf ft in the last stage");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use quantity::Quantity;

    use super::{TABLE, WHEELS};
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "tyres.wheel_torque";

    #[test]
    fn every_wheel_of_the_table_has_its_word_and_three_rising_stages() {
        let table = &TABLE;
        let mut wheels: Vec<&str> = table.rows().map(|row| row.text("wheel")).collect();
        assert_eq!(wheels.len(), 3 * WHEELS.len());
        wheels.dedup();
        assert_eq!(wheels, WHEELS);
        for wheel in WHEELS {
            let stages = super::wheel_torque(wheel).unwrap();
            assert!(stages.windows(2).all(|pair| pair[0].low < pair[1].low));
            assert!(stages.iter().all(|stage| stage.low < stage.high));
        }
    }

    /// Two manuals with the same table, all of it.
    #[test]
    fn stages_are_given_as_printed() {
        for (wheel, printed) in [
            ("12_or_13_in", [(20.0, 25.0), (35.0, 40.0), (50.0, 60.0)]),
            ("14_to_16_in", [(20.0, 25.0), (50.0, 60.0), (90.0, 120.0)]),
            ("16.5x9.75", [(55.0, 60.0), (120.0, 125.0), (175.0, 225.0)]),
            ("17.5_clamp_ring", [(50.0, 60.0), (100.0, 120.0), (190.0, 220.0)]),
            ("17.5_flanged_5/8_stud", [(50.0, 60.0), (90.0, 200.0), (275.0, 325.0)]),
        ] {
            let stages = super::wheel_torque(wheel).unwrap();
            assert_eq!(stages.len(), printed.len(), "{wheel}");
            for (stage, (low, high)) in stages.iter().zip(printed) {
                let newton_metres = |pounds: f64| pounds * 4.448_221_615_260_5 * 0.304_8;
                assert!((stage.low.base() - newton_metres(low)).abs() < 1e-6, "{wheel} {low}");
                assert!((stage.high.base() - newton_metres(high)).abs() < 1e-6, "{wheel} {high}");
            }
        }
    }

    /// Two manuals with the same table; 90 to 120 lbf ft are 122 to 163 N m.
    #[test]
    fn the_last_stage_is_the_final_torque() {
        let wheel = [("wheel", "14_to_16_in")];
        check(NAME, &wheel, 90.0, "lbf ft", 1e-9);
        check_part(NAME, &wheel, "high", 120.0, "lbf ft", 1e-9);
        check(NAME, &wheel, 122.0, "N m", 0.5);
        check_part(NAME, &wheel, "high", 163.0, "N m", 0.5);
        check(NAME, &[("wheel", "17.5_flanged_5/8_stud")], 275.0, "lbf ft", 1e-9);
        refuses(NAME, &[("wheel", "18_in")], "accepted: 12_or_13_in");
    }
}
