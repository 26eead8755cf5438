//! What a meter's accuracy sheet means for one reading.

use quantity::uom::si::ratio::percent;
use quantity::{Kind, Ratio, Specification, Value, units};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Output, Problem, Source};

/// A reading and its meter's sheet, as the call gives them.
fn uncertainty(inputs: &Inputs<'_>) -> Result<(Kind, f64, f64), Problem> {
    let reading = inputs.value("reading")?;
    let share = inputs.get::<Ratio>("percent")?.get::<percent>();
    if reading.kind == Kind::Temperature && share > 0.0 {
        return Err(Problem::input(
            "percent",
            "of a temperature depends on the scale's zero; accepted: 0 %, with the accuracy in degrees as \
             counts of the resolution",
        ));
    }
    let step = super::difference_kind(reading.kind);
    let resolution = inputs.value("resolution")?;
    if resolution.kind != step {
        return Err(super::another_kind("resolution", resolution.kind, step));
    }
    let calibration = match inputs.optional_value("calibration_u") {
        Some(value) if value.kind != step => {
            return Err(super::another_kind("calibration_u", value.kind, step));
        }
        value => value.map_or(0.0, |value| value.base),
    };
    for (name, value) in [("resolution", resolution.base), ("calibration_u", calibration)] {
        if value < 0.0 {
            return Err(Problem::input(name, "is below zero; accepted: zero or more"));
        }
    }
    // In a unit whose step is one base unit, so that base numbers pass unchanged.
    let unit = units::of_kind(step)
        .find(|unit| (unit.step() - 1.0).abs() < 1e-12)
        .ok_or_else(|| Problem::input("reading", "is of a kind that no meter reads"))?;
    // The reading of a temperature takes no share; its difference from zero stands in for it.
    let shown = if reading.kind == step { reading.base } else { 0.0 };
    let counts: f64 = inputs.get("counts")?;
    let sheet = Specification { percent: share, counts, digit: resolution.base, calibration, unit };
    let found = sheet
        .uncertainty(Value::new(step, shown), 0)
        .map_err(|error| Problem::input("percent", error.to_string()))?;
    let half_width = share / 100.0 * shown.abs() + counts * resolution.base;
    Ok((step, found.standard(), half_width))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "decision.instrument",
    summary: "Standard uncertainty of a reading from its meter's accuracy sheet.",
    inputs: &[
        Input::any_quantity("reading", "the reading, of any kind"),
        Input::quantity("percent", Kind::Ratio, "of the reading, by the sheet: such as 0.7 %")
            .accepting(Accepts::AtLeast("0 %")),
        Input::quantity("counts", Kind::Number, "counts of the last digit, by the sheet")
            .accepting(Accepts::AtLeast("0")),
        Input::any_difference("resolution", "size of the last digit, of the reading's kind"),
        Input::any_difference(
            "calibration_u",
            "standard uncertainty of the calibration, of the reading's kind; 0 if left out",
        )
        .optional(),
    ],
    result: Gives::like_input("standard_uncertainty", "reading", "all parts together"),
    parts: &[
        Gives::like_input(
            "expanded_uncertainty",
            "reading",
            "twice the standard uncertainty, k = 2",
        ),
        Gives::like_input(
            "half_width",
            "reading",
            "percent and counts together, as the sheet has them",
        ),
    ],
    valid: "an accuracy stated as ± (percent of reading + counts), taken as rectangular",
    sources: &[
        Source {
            document: "JCGM 100:2008",
            section: "4.3.7, rectangular distribution; 5.1.2, sum of squares",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "a calibration maker's training slides",
            section: "± (percent of reading + counts) as a rectangle",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[
        ("reading", "118.4 V"),
        ("percent", "0.7 %"),
        ("counts", "2"),
        ("resolution", "0.1 V"),
    ],
    compute: |inputs| {
        let (kind, standard, half_width) = uncertainty(inputs)?;
        let value = |base: f64| Output::Quantity(Value::new(kind, base));
        Ok(Outcome::new(value(standard))
            .part("expanded_uncertainty", value(2.0 * standard))
            .part("half_width", value(half_width))
            .note(
                "counts often include the resolution already; here it is added once more, which errs to the \
                 safe side",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "decision.instrument";

    fn pairs<'a>(
        reading: &'a str,
        percent: &'a str,
        counts: &'a str,
        resolution: &'a str,
    ) -> [(&'static str, &'a str); 4] {
        [("reading", reading), ("percent", percent), ("counts", counts), ("resolution", resolution)]
    }

    /// Worked out from JCGM 100:2008, 4.3.7 and 5.1.2.
    #[test]
    fn a_sheet_becomes_a_standard_uncertainty() {
        for (reading, percent, counts, resolution, unit, half_width, standard) in [
            ("118.4 V", "0.7 %", "2", "0.1 V", "V", 1.028_8, 0.594_679),
            ("113.9 V", "0.7 %", "2", "0.1 V", "V", 0.997_3, 0.576_515),
            ("12.64 V", "0.5 %", "2", "0.01 V", "V", 0.083_2, 0.048_122),
            ("-12.64 V", "0.5 %", "2", "0.01 V", "V", 0.083_2, 0.048_122),
            ("12.64 V", "0.05 %", "1", "0.001 V", "V", 0.007_32, 0.004_236),
            ("4.3 mA", "2 %", "3", "0.1 mA", "mA", 0.386, 0.224_719),
        ] {
            let pairs = pairs(reading, percent, counts, resolution);
            check(NAME, &pairs, standard, unit, 6e-7);
            check_part(NAME, &pairs, "half_width", half_width, unit, 1e-9);
            check_part(NAME, &pairs, "expanded_uncertainty", 2.0 * standard, unit, 1.2e-6);
        }
    }

    /// 0.7 % and 2 counts on 120 V: the display may show 118.96 V to 121.04 V (a maker's slide).
    #[test]
    fn the_published_band_of_a_display_is_reproduced() {
        check_part(NAME, &pairs("120 V", "0.7 %", "2", "0.1 V"), "half_width", 1.04, "V", 1e-9);
    }

    /// ± 0.9 °F as nine counts of 0.1 °F: 0.9/√3 and 0.1/√12.
    #[test]
    fn a_thermometers_accuracy_is_in_degrees() {
        let pairs = pairs("70 degF", "0 %", "9", "0.1 degF");
        let standard = (0.9_f64 * 0.9 / 3.0 + 0.01 / 12.0).sqrt();
        check(NAME, &pairs, standard, "ddegF", 1e-9);
    }

    #[test]
    fn calibration_adds_in_quadrature() {
        let sheet = pairs("118.4 V", "0.7 %", "2", "0.1 V");
        let with = [sheet[0], sheet[1], sheet[2], sheet[3], ("calibration_u", "0.3 V")];
        check(NAME, &with, (0.594_679_f64 * 0.594_679 + 0.09).sqrt(), "V", 1e-6);
    }

    #[test]
    fn what_does_not_belong_together_is_an_input_error() {
        for (pairs, words) in [
            (pairs("118.4 V", "0.7 %", "2", "0.1 A"), "is a current"),
            (pairs("70 degF", "1 %", "0", "0.1 degF"), "depends on the scale"),
            (pairs("118.4 V", "-1 %", "2", "0.1 V"), "at least 0 %"),
            (pairs("118.4 V", "1 %", "2", "-0.1 V"), "below zero"),
        ] {
            assert!(matches!(refuses(NAME, &pairs, words), Problem::Input { .. }));
        }
    }
}
