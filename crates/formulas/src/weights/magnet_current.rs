//! What a supplier's sheet expects electric brake magnets to draw.

use quantity::uom::si::{
    electric_current::ampere, electric_potential::volt, electrical_resistance::ohm, length::inch,
};
use quantity::{Current, Kind, Length, Resistance, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source, table::Table};

static TABLE: Table = Table::of(include_str!("../../../../data/tables/brake_magnet_currents.csv"));

/// Current of all magnets together, and the resistance of one coil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MagnetCurrent {
    /// Least current of all together.
    pub low: Current,
    /// Greatest current of all together.
    pub high: Current,
    /// Least resistance of one coil.
    pub coil_low: Resistance,
    /// Greatest resistance of one coil.
    pub coil_high: Resistance,
}

/// The row of the sheet for a drum, a voltage at the brakes and a number of brakes.
///
/// # Errors
/// [`Problem::OutOfRange`] where the sheet has no row.
pub fn magnet_current(
    drum: Length,
    voltage: Voltage,
    brakes: f64,
) -> Result<MagnetCurrent, Problem> {
    let (inches, volts) = (drum.get::<inch>(), voltage.get::<volt>());
    TABLE
        .rows()
        .find(|row| {
            (row.number("drum") - inches).abs() < 1e-6
                && (row.number("brakes") - brakes).abs() < 1e-9
                && volts >= row.number("voltage_low") - 1e-9
                && volts <= row.number("voltage_high") + 1e-9
        })
        .map(|row| MagnetCurrent {
            low: Current::new::<ampere>(row.number("low")),
            high: Current::new::<ampere>(row.number("high")),
            coil_low: Resistance::new::<ohm>(row.number("coil_low")),
            coil_high: Resistance::new::<ohm>(row.number("coil_high")),
        })
        .ok_or_else(|| {
            Problem::out_of_range(
                "the sheet has drums of 7, 10 and 12 in, 2, 4 and 6 brakes, and 9 to 10.5 V or 12 to 13 V",
            )
        })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "weights.magnet_current",
    summary: "Current that a supplier's sheet expects of electric brake magnets, fully applied.",
    inputs: &[
        Input::quantity("drum", Kind::Length, "drum diameter: 7, 10 or 12 in")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("voltage", Kind::Voltage, "at the brakes, fully applied")
            .accepting(Accepts::Above("0 V")),
        Input::quantity("brakes", Kind::Number, "how many brakes: 2, 4 or 6")
            .accepting(Accepts::Above("0")),
    ],
    result: Gives::quantity("low", "A", "least current of all brakes together"),
    parts: &[
        Gives::quantity("high", "A", "greatest current of all brakes together"),
        Gives::quantity("coil_low", "ohm", "least resistance of one coil"),
        Gives::quantity("coil_high", "ohm", "greatest resistance of one coil"),
    ],
    valid: "drums of 7, 10 and 12 in; 2, 4 or 6 brakes; 9 to 10.5 V or 12 to 13 V",
    sources: &[Source {
        document: "technical sheet of an axle parts supplier",
        section: "magnet amperage",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("drum", "10 in"), ("voltage", "12.6 V"), ("brakes", "4")],
    compute: |inputs| {
        let found =
            magnet_current(inputs.get("drum")?, inputs.get("voltage")?, inputs.get("brakes")?)?;
        Ok(Outcome::new(found.low)
            .part("high", found.high)
            .part("coil_low", found.coil_low)
            .part("coil_high", found.coil_high)
            .note("the brake maker's figure goes before this sheet"))
    },
};

#[cfg(test)]
mod tests {
    use super::TABLE;
    use crate::{
        Output, Problem,
        tests::{call, check, check_part, in_unit, part_of, refuses},
    };

    const NAME: &str = "weights.magnet_current";

    fn with<'a>(drum: &'a str, voltage: &'a str, brakes: &'a str) -> [(&'a str, &'a str); 3] {
        [("drum", drum), ("voltage", voltage), ("brakes", brakes)]
    }

    /// Rows of the supplier's sheet.
    #[test]
    fn rows_of_the_sheet_are_given_as_printed() {
        check(NAME, &with("10 in", "12.6 V", "4"), 15.0, "A", 1e-9);
        check_part(NAME, &with("12 in", "12.6 V", "4"), "high", 16.3, "A", 1e-9);
        check(NAME, &with("7 in", "12 V", "2"), 6.3, "A", 1e-9);
        check_part(NAME, &with("7 in", "9 V", "6"), "high", 16.0, "A", 1e-9);
        check_part(NAME, &with("10 in", "13 V", "2"), "coil_low", 3.2, "ohm", 1e-9);
    }

    /// All currents of the supplier's sheet: 7 in, then 10 and 12 in, which it lists together.
    #[test]
    fn every_current_of_the_sheet_is_given_as_printed() {
        let printed = [
            (
                "9.5 V",
                [(4.7, 5.6), (9.5, 11.0), (14.3, 16.0)],
                [(5.6, 6.6), (11.3, 13.3), (17.0, 20.0)],
            ),
            (
                "12.5 V",
                [(6.3, 6.8), (12.6, 13.7), (19.0, 20.6)],
                [(7.5, 8.2), (15.0, 16.3), (22.6, 24.5)],
            ),
        ];
        for (voltage, small, large) in printed {
            for (drum, bands) in [("7 in", small), ("10 in", large), ("12 in", large)] {
                for (brakes, (low, high)) in ["2", "4", "6"].into_iter().zip(bands) {
                    check(NAME, &with(drum, voltage, brakes), low, "A", 1e-9);
                    check_part(NAME, &with(drum, voltage, brakes), "high", high, "A", 1e-9);
                }
            }
        }
    }

    /// Ohm's law for two brakes at the ends of the sheet: 12 V and 13 V through 3.2 and 3.8 ohm.
    #[test]
    fn two_magnets_draw_what_ohms_law_says() {
        for (drum, ends) in [("10 in", [7.50, 8.125]), ("7 in", [6.316, 6.842])] {
            let ohms = if drum == "7 in" { 3.8 } else { 3.2 };
            for ((volts, amperes), part) in [12.0, 13.0].into_iter().zip(ends).zip(["low", "high"])
            {
                let by_law: f64 = 2.0 * volts / ohms;
                assert!((by_law - amperes).abs() < 0.001, "{by_law}");
                let outcome = call(NAME, &with(drum, "12.5 V", "2")).unwrap();
                let printed = match part {
                    "low" => outcome.result,
                    _ => part_of(&outcome, part).clone(),
                };
                let Output::Quantity(printed) = printed else { panic!("no quantity") };
                // The sheet rounds to a tenth, upward at its upper end.
                assert!((in_unit(printed, "A") - by_law).abs() < 0.08, "{drum} {volts}");
            }
        }
    }

    /// Ohm's law: at 12 to 13 V, low is 12 V through the lower coil resistance and high 13 V through it for
    /// 10 and 12 in drums; for 7 in drums the higher resistance bounds the low end.
    #[test]
    fn the_sheet_agrees_with_ohms_law() {
        for row in TABLE.rows() {
            let coil = |volts: &str, ohms: &str| {
                row.number("brakes") * row.number(volts) / row.number(ohms)
            };
            let (least, most) =
                (coil("voltage_low", "coil_high"), coil("voltage_high", "coil_low"));
            assert!(row.number("low") > 0.98 * least, "{least} {:?}", row.text("low"));
            assert!(row.number("high") < 1.02 * most, "{most} {:?}", row.text("high"));
        }
    }

    #[test]
    fn what_the_sheet_lacks_is_out_of_range() {
        for pairs in
            [with("9 in", "12 V", "2"), with("10 in", "11 V", "2"), with("10 in", "12 V", "3")]
        {
            assert!(matches!(refuses(NAME, &pairs, "the sheet has"), Problem::OutOfRange { .. }));
        }
    }
}
