//! The pressure that closed gas piping shows at another temperature, if nothing leaks.

use quantity::{Kind, Pressure, Quantity};

use super::propane::standard_pressure;
use super::{TrappedGas, leak_free_end_pressure};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// −40 °F and 140 °F, in kelvins.
const PIPE: std::ops::RangeInclusive<f64> = 233.15..=333.151;

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.leak_free_pressure",
    summary: "Pressure that closed gas piping shows at another temperature, if nothing leaks.",
    inputs: &[
        Input::quantity(
            "start_pressure",
            Kind::Pressure,
            "pressure above the atmosphere's at the start",
        )
        .accepting(Accepts::Above("0 inH2O")),
        Input::quantity(
            "start_temperature",
            Kind::Temperature,
            "temperature of the pipe at the start",
        )
        .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "temperature",
            Kind::Temperature,
            "temperature of the pipe at the moment asked for",
        )
        .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "atmosphere",
            Kind::Pressure,
            "absolute pressure of the air; 14.696 psi without it",
        )
        .optional()
        .accepting(Accepts::Between("8 psi", "16 psi")),
    ],
    result: Gives::quantity("pressure", "inH2O", "above the atmosphere's, had nothing leaked"),
    parts: &[],
    valid: "pipe from -40 degF to 140 degF",
    sources: &[
        Source {
            document: "ideal-gas law: p₂ = p₁·T₂/T₁, both absolute",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "UFGS 15195N, natural gas distribution",
            section: "pressure test with correction for temperature",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[
        ("start_pressure", "11 inH2O"),
        ("start_temperature", "70 degF"),
        ("temperature", "69 degF"),
    ],
    compute: |inputs| {
        let start = TrappedGas {
            pressure: inputs.get("start_pressure")?,
            temperature: inputs.get("start_temperature")?,
        };
        let temperature = inputs.get("temperature")?;
        for pipe in [start.temperature, temperature] {
            if !PIPE.contains(&pipe.base()) {
                return Err(Problem::out_of_range("valid for a pipe from -40 degF to 140 degF"));
            }
        }
        let atmosphere: Pressure = inputs.optional("atmosphere")?.unwrap_or_else(standard_pressure);
        Ok(Outcome::new(leak_free_end_pressure(start, temperature, atmosphere)).note(
            "at 11 inH2O one degF of the pipe moves the pressure 0.8 inH2O: read the pipe, not the air",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "gas.leak_free_pressure";

    fn pairs<'a>(start: &'a str, from: &'a str, to: &'a str) -> [(&'static str, &'a str); 3] {
        [("start_pressure", start), ("start_temperature", from), ("temperature", to)]
    }

    /// UFGS 15195N: 100 psi from 70 to 60 °F, printed with 460 and 14.7 rounded; 11 inH₂O and 3 psi worked.
    #[test]
    fn the_pressure_follows_the_absolute_temperature() {
        for (start, from, to, want, unit, tolerance) in [
            ("100 psi", "70 degF", "60 degF", 97.84, "psi", 0.01),
            ("11 inH2O", "70 degF", "60 degF", 3.11, "inH2O", 0.005),
            ("3 psi", "70 degF", "60 degF", 2.666, "psi", 0.000_5),
            ("9 inH2O", "68 degF", "68 degF", 9.0, "inH2O", 1e-9),
        ] {
            check(NAME, &pairs(start, from, to), want, unit, tolerance);
        }
    }

    #[test]
    fn a_pipe_out_of_range_and_a_missing_temperature_are_refused() {
        let frozen =
            refuses(NAME, &pairs("9 inH2O", "70 degF", "-60 degF"), "-40 degF to 140 degF");
        assert!(matches!(frozen, Problem::OutOfRange { .. }));
        refuses(NAME, &pairs("9 inH2O", "70 degF", "69 degF")[..2], "temperature");
    }
}
