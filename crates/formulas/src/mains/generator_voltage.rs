//! How far a generator's steady voltage lies from its rated one.

use quantity::{Kind, Quantity, Ratio, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Widest steady deviation of each class, in the order of how strict it is.
const CLASSES: [(&str, f64); 3] = [("G3", 0.01), ("G2", 0.025), ("G1", 0.05)];

/// Deviation of the steady voltage by the rated one: `(V − V_r)/V_r` (ISO 8528-5).
///
/// # Errors
/// [`Problem::OutOfRange`] for a voltage off by more than half.
pub fn generator_voltage(voltage: Voltage, rated: Voltage) -> Result<Ratio, Problem> {
    let deviation = (voltage - rated) / rated;
    if deviation.base().abs() > 0.5 {
        return Err(Problem::out_of_range(
            "a voltage off by more than half of the rated one: disconnect what is plugged in, and read again \
             on the right range with a true-rms meter",
        ));
    }
    Ok(deviation)
}

/// The strictest class whose band of steady voltage this meets; none beyond all.
#[must_use]
pub fn voltage_class(deviation: Ratio) -> Option<&'static str> {
    let found = CLASSES.iter().find(|(_, most)| deviation.base().abs() <= most + 1e-9);
    found.map(|(class, _)| *class)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.generator_voltage",
    summary: "Deviation of a generator's steady voltage from its rated voltage.",
    inputs: &[
        Input::quantity("voltage", Kind::Voltage, "steady voltage")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("rated", Kind::Voltage, "rated voltage; 120 V if left out")
            .accepting(Accepts::Above("0 V"))
            .optional(),
    ],
    result: Gives::quantity("deviation", "%", "of the rated voltage, below it negative"),
    parts: &[Gives::words("class", "strictest class of ISO 8528-5 whose band it meets, or none")],
    valid: "voltages within half of the rated one",
    sources: &[
        Source {
            document: "ISO 8528-5, as a tender quotes it",
            section: "G2: steady voltage within 2.5 %",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "ISO 8528-5",
            section: "G1: 5 %, G3: 1 %",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("voltage", "117 V")],
    compute: |inputs| {
        let rated = inputs.optional("rated")?.unwrap_or(Voltage::from_base(120.0));
        let deviation = generator_voltage(inputs.get("voltage")?, rated)?;
        let class = voltage_class(deviation).unwrap_or("none");
        Ok(Outcome::new(deviation).part("class", Output::words(class)).note(
            "hold a set against a class only if its papers name one; the waves of an inverter set mislead a \
             meter that is not true-rms",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.generator_voltage";

    /// Worked out from the definition; 117 V lies on the band of G2, 114 V on that of G1.
    #[test]
    fn deviation_is_by_the_rated_voltage() {
        for (voltage, percent, class) in [
            ("117 V", -2.5, "G2"),
            ("114 V", -5.0, "G1"),
            ("121 V", 0.833_333, "G3"),
            ("113.9 V", -5.083_333, "none"),
            ("123 V", 2.5, "G2"),
        ] {
            check(NAME, &[("voltage", voltage)], percent, "%", 1e-6);
            let outcome = call(NAME, &[("voltage", voltage)]).unwrap();
            assert_eq!(*part_of(&outcome, "class"), Output::words(class), "{voltage}");
        }
        check(NAME, &[("voltage", "234 V"), ("rated", "240 V")], -2.5, "%", 1e-9);
    }

    #[test]
    fn half_a_voltage_is_no_steady_one() {
        let problem = refuses(NAME, &[("voltage", "50 V")], "off by more than half");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }
}
