//! The smallest leak that a pressure test can see.

use quantity::{Kind, Pressure, Quantity, Temperature, Time, Volume, VolumeFlow};

use super::propane::{VapourBasis, standard_flow, standard_temperature};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Leak that moves a gauge by its resolution in the time of the test: `q = V/t · Tₛ/pₛ · Δp/T`.
///
/// # Errors
/// [`Problem::OutOfRange`] for a test shorter than two minutes.
pub fn leak_check_least(
    volume: Volume,
    resolution: Pressure,
    time: Time,
    temperature: Temperature,
) -> Result<VolumeFlow, Problem> {
    if time.base() < 120.0 {
        return Err(Problem::out_of_range("valid for tests of 2 min or longer"));
    }
    Ok(standard_flow(volume, time, resolution.base() / temperature.base()))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.leak_check_least",
    summary: "Smallest leak that a pressure test of gas piping can see.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "inside volume of the tested piping")
            .accepting(Accepts::Above("0 ft3")),
        Input::quantity("resolution", Kind::Pressure, "smallest change that the gauge shows")
            .accepting(Accepts::Above("0 inH2O")),
        Input::quantity("time", Kind::Time, "length of the test").accepting(Accepts::Above("0 s")),
        Input::quantity(
            "temperature",
            Kind::Temperature,
            "temperature of the pipe; 60 degF without it",
        )
        .optional()
        .accepting(Accepts::Between("-40 degF", "140 degF")),
    ],
    result: Gives::quantity("flow", "cc/min", "leak that moves the gauge by its resolution"),
    parts: &[Gives::quantity(
        "power",
        "Btu/h",
        "heat that this much propane carries, at 2,516 Btu/ft³",
    )],
    valid: "tests of 2 min or longer, at a steady pipe temperature",
    sources: &[Source {
        document: "ideal-gas law, written for the gas at 60 degF and 14.696 psi",
        section: "",
        confirmed: Confirmed::Derived,
    }],
    example: &[("volume", "0.0741 ft3"), ("resolution", "0.1 inH2O"), ("time", "10 min")],
    compute: |inputs| {
        let temperature = inputs.optional("temperature")?.unwrap_or_else(standard_temperature);
        let least = leak_check_least(
            inputs.get("volume")?,
            inputs.get("resolution")?,
            inputs.get("time")?,
            temperature,
        )?;
        Ok(Outcome::new(least)
            .part("power", VapourBasis::AfterVaporisation.power(least))
            .note("a tenth of a degF of the pipe hides as much as 0.08 inH2O"))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "gas.leak_check_least";

    /// Worked from the ideal-gas law: a tenth of an inch in ten minutes on 0.0741 ft³ at 70 °F.
    #[test]
    fn a_tenth_of_an_inch_in_ten_minutes_is_a_quarter_of_a_btu_an_hour() {
        let given = [
            ("volume", "0.0741 ft3"),
            ("resolution", "0.1 inH2O"),
            ("time", "10 min"),
            ("temperature", "70 degF"),
        ];
        check(NAME, &given, 0.051, "cc/min", 0.000_5);
        check_part(NAME, &given, "power", 0.27, "Btu/h", 0.005);
    }

    #[test]
    fn a_minute_is_no_test() {
        let given = [("volume", "0.1 ft3"), ("resolution", "0.1 inH2O"), ("time", "1 min")];
        refuses(NAME, &given, "2 min");
    }
}
