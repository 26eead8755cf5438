//! Carbon monoxide in flue gas, with the excess air taken out.

use quantity::{Kind, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Oxygen in air, by volume.
const OXYGEN_IN_AIR: f64 = 0.209;

/// Carbon monoxide as if no excess air were in the sample: `CO·20.9/(20.9 − O₂)`.
///
/// # Errors
/// [`Problem::Input`] for more oxygen than air has; [`Problem::OutOfRange`] from 20 % oxygen on, where the
/// sample is all but air and the quotient blows up.
pub fn air_free_co(co: Ratio, oxygen: Ratio) -> Result<Ratio, Problem> {
    if oxygen.base() > OXYGEN_IN_AIR {
        return Err(Problem::input(
            "oxygen",
            "is more than the 20.9 % of air: calibrate the analyser; accepted: 0 % to 20.9 %",
        ));
    }
    if oxygen.base() >= 0.2 {
        return Err(Problem::out_of_range(
            "valid below 20 % oxygen: this sample is almost all air; move the probe into the flue gas",
        ));
    }
    Ok(co * (OXYGEN_IN_AIR / (OXYGEN_IN_AIR - oxygen.base())))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.air_free_co",
    summary: "Carbon monoxide in flue gas as if no excess air were in the sample.",
    inputs: &[
        Input::quantity("co", Kind::Ratio, "carbon monoxide measured in the flue gas")
            .accepting(Accepts::Between("0 ppm", "100000 ppm")),
        Input::quantity("oxygen", Kind::Ratio, "oxygen measured in the same sample")
            .accepting(Accepts::Between("0 %", "100 %")),
    ],
    result: Gives::quantity("air_free_co", "ppm", "carbon monoxide without excess air"),
    parts: &[],
    valid: "below 20 % oxygen",
    sources: &[Source {
        document: "Canadian gas-technician training text",
        section: "unit 3: air-free carbon monoxide",
        confirmed: Confirmed::Read,
    }],
    example: &[("co", "100 ppm"), ("oxygen", "7 %")],
    compute: |inputs| {
        let oxygen: Ratio = inputs.get("oxygen")?;
        let mut outcome = Outcome::new(air_free_co(inputs.get("co")?, oxygen)?);
        if oxygen.base() > 0.15 {
            outcome = outcome.note(
                "over 15 % oxygen the sample is much diluted: a few ppm of error are multiplied; move the \
                 probe and measure again",
            );
        }
        Ok(outcome.note(
            "for flue gas; carbon monoxide in the room itself: leave, ventilate, shut the appliance off",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{call, check, refuses};

    const NAME: &str = "gas.air_free_co";

    fn sample<'a>(co: &'a str, oxygen: &'a str) -> [(&'a str, &'a str); 2] {
        [("co", co), ("oxygen", oxygen)]
    }

    /// 100 ppm at 7.0 % is the worked example of the Canadian gas-technician training text, unit 3; 87 ppm at
    /// 5 % that of a trade article, printed 114; the others worked from the equation.
    #[test]
    fn excess_air_is_taken_out() {
        for (co, oxygen, ppm, tolerance) in [
            ("100 ppm", "7.0 %", 150.0, 0.5),
            ("87 ppm", "5 %", 114.4, 0.05),
            ("50 ppm", "9 %", 87.8, 0.05),
            ("225 ppm", "13 %", 595.3, 0.05),
            ("0 ppm", "6 %", 0.0, 0.0),
        ] {
            check(NAME, &sample(co, oxygen), ppm, "ppm", tolerance);
        }
    }

    /// 20 ppm at 18 % oxygen already reads 144 ppm.
    #[test]
    fn near_air_the_quotient_is_doubted_and_then_refused() {
        check(NAME, &sample("20 ppm", "18 %"), 144.1, "ppm", 0.1);
        let notes = call(NAME, &sample("20 ppm", "18 %")).unwrap().notes;
        assert!(notes[0].contains("diluted"), "{notes:?}");
        for oxygen in ["20 %", "20.5 %", "20.9 %"] {
            let problem = refuses(NAME, &sample("20 ppm", oxygen), "almost all air");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let problem = refuses(NAME, &sample("20 ppm", "21.2 %"), "calibrate");
        assert!(matches!(problem, Problem::Input { name, .. } if name == "oxygen"));
    }

    #[test]
    fn a_number_without_its_unit_is_no_concentration() {
        refuses(NAME, &sample("100", "7 %"), "not possible");
    }
}
