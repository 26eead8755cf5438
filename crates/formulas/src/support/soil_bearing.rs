//! The pressure that a soil is taken to bear, from a test at the site.

use quantity::exact::pressure::pound_per_square_foot;
use quantity::exact::torque::pound_force_inch_of_torque;
use quantity::{Kind, Pressure, Torque};

use crate::{
    Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source, table::Table,
};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/soil_classes.csv"));

/// A test that was made at the site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SoilTest {
    /// Blows of the standard penetration test (ASTM D1586).
    Blows(f64),
    /// Torque of a probe, as for ground anchors.
    Probe(Torque),
}

/// A class of soil and what it is taken to bear.
#[derive(Clone, Debug, PartialEq)]
pub struct SoilClass {
    /// Its name in the table.
    pub class: &'static str,
    /// The allowable pressure.
    pub allowable: Pressure,
    /// Whether the row was read; the others are from memory.
    pub is_read: bool,
}

/// The class of a soil by its test (24 CFR 3285.202, table).
///
/// # Errors
/// [`Problem::OutOfRange`] for soils so soft that a professional decides.
pub fn soil_bearing(test: SoilTest) -> Result<SoilClass, Problem> {
    let (column, value) = match test {
        SoilTest::Blows(blows) => ("blows_least", blows),
        // The table is in pound-force inches; room for rounding in the conversion.
        SoilTest::Probe(torque) => {
            ("torque_least", torque.get::<pound_force_inch_of_torque>() * (1.0 + 1e-12))
        }
    };
    TABLE
        .rows()
        .find(|row| value >= row.number(column))
        .map(|row| SoilClass {
            class: row.text("class"),
            allowable: Pressure::new::<pound_per_square_foot>(row.number("allowable")),
            is_read: row.text("row_confirmed") == "read",
        })
        .ok_or_else(|| {
            Problem::out_of_range(
                "the soil is too soft for the table: what it bears is for a soils engineer to say",
            )
        })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "support.soil_bearing",
    summary: "Pressure that a soil is taken to bear, from a penetration test or a probe's torque.",
    inputs: &[
        Input::quantity(
            "blows",
            Kind::Number,
            "blow count of a standard penetration test; or torque",
        )
        .optional()
        .accepting(Accepts::Between("0", "200")),
        Input::quantity("torque", Kind::Torque, "torque of a soil probe; or blows")
            .optional()
            .accepting(Accepts::Between("0 lbf in", "5000 lbf in")),
    ],
    result: Gives::quantity("allowable", "psf", "allowable pressure"),
    parts: &[Gives::words("class", "the class of the table")],
    valid: "soils of classes 2 to 4B; rock, and what is too soft, are for other rows and a professional",
    sources: &[
        Source {
            document: "24 CFR 3285.202, table",
            section: "class 2",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "24 CFR 3285.202, table",
            section: "classes 3 to 5",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("torque", "400 lbf in")],
    compute: |inputs| {
        let blows: Option<f64> = inputs.optional("blows")?;
        let test = match (blows, inputs.optional::<Torque>("torque")?) {
            (Some(blows), None) => SoilTest::Blows(blows),
            (None, Some(torque)) => SoilTest::Probe(torque),
            (Some(_), Some(_)) => {
                return Err(Problem::input(
                    "torque",
                    "is given beside blows; accepted: one of the two",
                ));
            }
            (None, None) => {
                return Err(Problem::input(
                    "blows",
                    "is missing, and so is torque; accepted: one of the two",
                ));
            }
        };
        let soil = soil_bearing(test)?;
        let mut outcome = Outcome::new(soil.allowable)
            .part("class", Output::words(soil.class))
            .note(
                "peat, organic clay and loose fill need a professional whatever the test says; without a test, \
                 record or table 1500 psf are taken",
            );
        if !soil.is_read {
            outcome = outcome.note("this row is from memory");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Problem,
        tests::{call, check, refuses},
    };

    const NAME: &str = "support.soil_bearing";

    /// 24 CFR 3285.202: 40 blows or more than 550 lbf in are class 2 (read); the other rows from memory.
    #[test]
    fn each_class_begins_at_its_printed_figure() {
        for (blows, psf) in
            [("40", 2_000.0), ("39", 1_500.0), ("24", 1_500.0), ("23", 1_000.0), ("12", 1_000.0)]
        {
            check(NAME, &[("blows", blows)], psf, "psf", 1e-9);
        }
        for (torque, psf) in [
            ("551 lbf in", 2_000.0),
            ("550 lbf in", 1_500.0),
            ("351 lbf in", 1_500.0),
            ("350 lbf in", 1_000.0),
            ("175 lbf in", 1_000.0),
        ] {
            check(NAME, &[("torque", torque)], psf, "psf", 1e-9);
        }
    }

    #[test]
    fn a_row_from_memory_says_so() {
        let says = |blows| {
            let outcome = call(NAME, &[("blows", blows)]).unwrap();
            outcome.notes.iter().any(|note| note.contains("from memory"))
        };
        assert!(says("30") && !says("45"));
    }

    #[test]
    fn soft_soil_is_for_a_professional_and_one_test_is_asked_for() {
        for pairs in [[("blows", "11")], [("torque", "174 lbf in")]] {
            assert!(matches!(refuses(NAME, &pairs, "soils engineer"), Problem::OutOfRange { .. }));
        }
        assert!(matches!(refuses(NAME, &[], "one of the two"), Problem::Input { .. }));
        refuses(NAME, &[("blows", "30"), ("torque", "400 lbf in")], "one of the two");
        refuses(NAME, &[("blows", "-1")], "not possible");
    }
}
