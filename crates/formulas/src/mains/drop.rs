//! How far the voltage falls under load, and what that says of the supply behind an outlet.

use quantity::{Current, Kind, Ratio, Resistance, Voltage};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Below this current the impedance drowns in the meter's last digit.
const MEANINGFUL_CURRENT: f64 = 8.0; // A

/// What one load on an outlet tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VoltageDrop {
    /// Share of the open voltage that is lost.
    pub share: Ratio,
    /// Impedance of the supply as far as the outlet.
    pub impedance: Resistance,
    /// Current that a dead short at the outlet would draw.
    pub fault_current: Current,
}

/// Voltage drop, source impedance and prospective fault current between line and neutral.
///
/// `Z = (V₀ − V_L)/I`, `drop = (V₀ − V_L)/V₀`, `I_f = V₀/Z`: Ohm's law, the source taken as resistive.
///
/// # Errors
/// [`Problem::OutOfRange`] if the voltage did not fall or no current flowed: then nothing is told.
pub fn drop(open: Voltage, loaded: Voltage, current: Current) -> Result<VoltageDrop, Problem> {
    if current.value <= 0.0 {
        return Err(Problem::out_of_range(
            "not determinable without a load: take the loaded voltage while a measured current flows, best \
             10 A or more",
        ));
    }
    if loaded >= open {
        return Err(Problem::out_of_range(
            "not determinable: the voltage did not fall under load; take both readings again at once, with \
             a load of 10 A or more",
        ));
    }
    let impedance = (open - loaded) / current;
    Ok(VoltageDrop { share: (open - loaded) / open, impedance, fault_current: open / impedance })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.drop",
    summary: "Voltage drop under load, with the supply's impedance and the current of a short.",
    inputs: &[
        Input::quantity("open", Kind::Voltage, "voltage without the load")
            .accepting(Accepts::Above("0 V")),
        Input::quantity("loaded", Kind::Voltage, "voltage at the same place with the load on")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("current", Kind::Current, "current that the load draws")
            .accepting(Accepts::AtLeast("0 A")),
    ],
    result: Gives::quantity("drop", "%", "share of the open voltage that is lost"),
    parts: &[
        Gives::quantity("impedance", "ohm", "of the supply as far as the outlet"),
        Gives::quantity("fault_current", "A", "that a short at the outlet would draw, estimated"),
    ],
    valid: "a current above zero that makes the voltage fall; the impedance means little below 8 A",
    sources: &[
        Source {
            document: "Ohm's law",
            section: "voltage divider of source and load",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "NFPA 70 (2023)",
            section: "210.19(A) Informational Note 4 and 215.2: 3 % branch circuit, 5 % with the feeder; \
                      notes are not enforceable (90.5)",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "at least 8 A to 10 A of load for an impedance",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("open", "121.5 V"), ("loaded", "117.3 V"), ("current", "12 A")],
    compute: |inputs| {
        let current: Current = inputs.get("current")?;
        let found = drop(inputs.get("open")?, inputs.get("loaded")?, current)?;
        let mut outcome = Outcome::new(found.share)
            .part("impedance", found.impedance)
            .part("fault_current", found.fault_current)
            .note(
                "line to neutral only; the fault loop through the grounding conductor is measured with an \
                 instrument made for it, never with a load between line and ground",
            );
        if current.value < MEANINGFUL_CURRENT {
            outcome = outcome.note(
                "below 8 A to 10 A the impedance and the fault current mean little: the meter's last digit \
                 is a large part of the drop",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.drop";

    /// Worked by hand from Ohm's law.
    #[test]
    fn drop_impedance_and_fault_current_follow_from_ohms_law() {
        for (open, loaded, current, percent, ohms, amperes) in [
            ("121.5 V", "117.3 V", "12 A", 3.456_8, 0.35, 347.14),
            ("120 V", "114 V", "15 A", 5.0, 0.4, 300.0),
            ("118.2 V", "109.5 V", "14.5 A", 7.360_4, 0.6, 197.0),
            ("120.4 V", "120.1 V", "1 A", 0.249_2, 0.3, 401.33),
        ] {
            let pairs = [("open", open), ("loaded", loaded), ("current", current)];
            check(NAME, &pairs, percent, "%", 5e-5);
            check_part(NAME, &pairs, "impedance", ohms, "ohm", 1e-9);
            check_part(NAME, &pairs, "fault_current", amperes, "A", 5e-3);
        }
    }

    fn standard(open: &str, loaded: &str, current: &str, part: &str) -> f64 {
        let pairs = [("open", open), ("loaded", loaded), ("current", current)];
        let outcome = call(NAME, &pairs).unwrap();
        let Output::Quantity(value) = part_of(&outcome, part) else { panic!("no quantity") };
        value.standard_uncertainty().unwrap()
    }

    /// u(Z) = √(2(u_V/I)² + (Z·u_I/I)²) (JCGM 100:2008, 5.1.2): good at 12 A, useless at 1 A.
    #[test]
    fn a_small_load_makes_the_impedance_uncertain() {
        for (open, loaded, current, ohms, amperes) in [
            ("121.5 V ± 0.05", "117.3 V ± 0.05", "12 A ± 0.12", 0.006_85, 6.8),
            ("120.4 V ± 0.05", "120.1 V ± 0.05", "1 A ± 0.01", 0.070_8, 95.0),
        ] {
            let impedance = standard(open, loaded, current, "impedance");
            assert!((impedance / ohms - 1.0).abs() < 0.01, "{impedance}");
            let fault = standard(open, loaded, current, "fault_current");
            assert!((fault / amperes - 1.0).abs() < 0.04, "{fault}");
        }
        let outcome =
            call(NAME, &[("open", "120.4 V"), ("loaded", "120.1 V"), ("current", "1 A")]).unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("mean little")), "{outcome:?}");
    }

    #[test]
    fn without_a_load_or_a_fall_nothing_is_determinable() {
        for (loaded, current) in [("117 V", "0 A"), ("120 V", "12 A"), ("121 V", "12 A")] {
            let problem = refuses(
                NAME,
                &[("open", "120 V"), ("loaded", loaded), ("current", current)],
                "not determinable",
            );
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let negative = [("open", "120 V"), ("loaded", "117 V"), ("current", "-3 A")];
        assert!(matches!(refuses(NAME, &negative, "at least 0 A"), Problem::Input { .. }));
    }
}
