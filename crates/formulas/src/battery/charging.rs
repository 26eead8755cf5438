//! What the voltage at a battery says of the charger.

use quantity::{Kind, Quantity, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// What the voltage of a 12 V battery on its charger says, by the bands of the trade.
///
/// # Errors
/// [`Problem::OutOfRange`] below 8 V or above 18 V: no 12 V battery on a charger.
pub fn charging_stage(voltage: Voltage, lithium: bool) -> Result<&'static str, Problem> {
    let volts = voltage.base();
    Ok(match volts {
        ..8.0 | 18.0.. => {
            return Err(Problem::out_of_range(
                "no voltage of a 12 V battery on a charger: valid from 8 V to 18 V",
            ));
        }
        15.0.. => "too high, unless it equalises on purpose",
        14.8.. => "above the usual absorption",
        14.0.. => "bulk or absorption",
        13.8.. if volts > 13.8 => "between absorption and float",
        13.2.. if lithium => "float or storage",
        13.2.. => "float",
        13.0.. => "storage, or barely charging",
        _ => "not charging",
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "battery.charging",
    summary: "Stage of a charger by the voltage at a 12 V battery.",
    inputs: &[
        Input::quantity("voltage", Kind::Voltage, "at the battery's posts, charger on, few loads")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("rested", Kind::Voltage, "at the posts before the charger was connected")
            .accepting(Accepts::AtLeast("0 V"))
            .optional(),
        Input::word("kind", &["lead_acid", "agm", "gel", "lithium"], "lead_acid if left out")
            .optional(),
    ],
    result: Gives::words("stage", "not charging, storage, float, absorption or too high"),
    parts: &[Gives::quantity("rise", "V", "over the rested voltage")],
    valid: "12 V batteries, 8 V to 18 V",
    sources: &[
        Source {
            document: "",
            section: "lead-acid: absorption 14.2 V to 14.8 V, float 13.2 V to 13.8 V",
            confirmed: Confirmed::CommonPractice,
        },
        Source {
            document: "a converter maker's manual and a trade magazine",
            section: "absorption 14.4 V, float 13.8 V; absorption 14.7 V for AGM",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "single-stage converters at 13.6 V, storage 13.2 V, lithium 14.2 V to 14.6 V",
            section: "",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "the words for the bands between",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("voltage", "13.62 V"), ("rested", "12.21 V")],
    compute: |inputs| {
        let voltage: Voltage = inputs.get("voltage")?;
        let lithium = inputs.optional_words("kind") == Some("lithium");
        let stage = charging_stage(voltage, lithium)?;
        let mut outcome = Outcome::new(Output::words(stage)).note(
            "a converter of one stage holds mid-13 V all day: that is its kind and no fault; the charger's own \
             manual names its voltages, which fall with the battery's warmth",
        );
        if lithium && voltage.base() > 14.6 {
            outcome =
                outcome.note("above what makers of lithium iron phosphate usually allow (14.6 V)");
        }
        if let Some(rested) = inputs.optional::<Voltage>("rested")? {
            outcome = outcome.part("rise", voltage - rested);
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check_part, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "battery.charging";

    /// Bands of the trade; a maker's manual has absorption at 14.4 V and float at 13.8 V, a trade magazine 14.7 V
    /// for AGM.
    #[test]
    fn the_voltage_tells_the_stage() {
        for (voltage, stage) in [
            ("12.5 V", "not charging"),
            ("13.1 V", "storage, or barely charging"),
            ("13.2 V", "float"),
            ("13.62 V", "float"),
            ("13.8 V", "float"),
            ("13.9 V", "between absorption and float"),
            ("14.4 V", "bulk or absorption"),
            ("14.7 V", "bulk or absorption"),
            ("14.9 V", "above the usual absorption"),
            ("15.2 V", "too high, unless it equalises on purpose"),
        ] {
            let outcome = call(NAME, &[("voltage", voltage)]).unwrap();
            assert_eq!(outcome.result, Output::words(stage), "{voltage}");
        }
    }

    #[test]
    fn the_rise_over_the_rested_voltage_is_told() {
        let pairs = [("voltage", "13.62 V"), ("rested", "12.21 V")];
        check_part(NAME, &pairs, "rise", 1.41, "V", 1e-9);
    }

    #[test]
    fn lithium_above_its_makers_voltage_is_noted() {
        let notes = call(NAME, &[("voltage", "14.7 V"), ("kind", "lithium")]).unwrap().notes;
        assert!(notes.iter().any(|note| note.contains("14.6 V")), "{notes:?}");
    }

    #[test]
    fn another_batterys_voltage_is_refused() {
        for voltage in ["6.4 V", "27 V"] {
            let problem = refuses(NAME, &[("voltage", voltage)], "8 V to 18 V");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
