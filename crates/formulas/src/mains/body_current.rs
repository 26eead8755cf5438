//! What current a touchable voltage could drive through a person.

use quantity::uom::si::electric_current::milliampere;
use quantity::{Current, Kind, Quantity, Resistance, Voltage};

use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Above this an open voltage is looked into, by this project's own screening.
const LOOKED_INTO: f64 = 2.0; // V
static EFFECTS: Table = Table::of(include_str!("../../../../data/tables/body_current_effects.csv"));

/// Current through a resistor that stands for a person, and the resistance of the source behind it.
///
/// `I = V_L/R`, `R_s = R·(V₀/V_L − 1)`: the open voltage alone cannot tell a fault from what a high-impedance
/// meter picks up.
///
/// # Errors
/// [`Problem::OutOfRange`] if the voltage rose with the resistor, or fell to nothing.
pub fn body_current(
    open: Voltage,
    loaded: Voltage,
    resistance: Resistance,
) -> Result<(Current, Resistance), Problem> {
    if loaded > open {
        return Err(Problem::out_of_range(
            "not determinable: the voltage rose with the resistor in place; take both readings again",
        ));
    }
    if loaded.base() <= 0.0 {
        return Err(Problem::out_of_range(
            "not determinable: the reading fell to nothing with the resistor; read it on a finer range. So \
             weak a source is picked up from nearby wires, but treat the metal as live until it is found",
        ));
    }
    let source = resistance * (open / loaded - quantity::Ratio::from_base(1.0));
    Ok((loaded / resistance, source))
}

/// What such a current does, in words.
#[must_use]
pub fn body_effect(current: Current) -> &'static str {
    // Rounded far below any meter, so that 5 mA by division is 5 mA.
    let milliamperes = (current.get::<milliampere>() * 1e9).round() / 1e9;
    let table = &EFFECTS;
    table
        .rows()
        .filter(|row| row.number("from") <= milliamperes)
        .last()
        .map_or("not felt", |row| row.text("effect"))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.body_current",
    summary: "Current that a voltage on touchable metal could drive through a person.",
    inputs: &[
        Input::quantity("open", Kind::Voltage, "voltage to earth without the resistor")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("loaded", Kind::Voltage, "voltage to earth across the resistor")
            .accepting(Accepts::AtLeast("0 V")),
        Input::quantity("resistance", Kind::Resistance, "of the resistor, such as 2 kohm")
            .accepting(Accepts::Above("0 ohm")),
    ],
    result: Gives::quantity("current", "mA", "through the resistor that stands for a person"),
    parts: &[
        Gives::quantity("source_resistance", "ohm", "of what feeds the metal"),
        Gives::words("effect", "what such a current does to a person"),
    ],
    valid: "a voltage that falls with the resistor, but not to nothing",
    sources: &[
        Source {
            document: "Ohm's law",
            section: "source and load in series",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "OSHA 3075, Controlling Electrical Hazards",
            section: "table of effects of current",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("open", "60 V"), ("loaded", "20 V"), ("resistance", "2 kohm")],
    compute: |inputs| {
        let open: Voltage = inputs.get("open")?;
        let (current, source) =
            body_current(open, inputs.get("loaded")?, inputs.get("resistance")?)?;
        let mut outcome = Outcome::new(current)
            .part("source_resistance", source)
            .part("effect", Output::words(body_effect(current)));
        if open.base() > LOOKED_INTO {
            outcome = outcome.note(
                "voltage on touchable metal is a reason to stop and disconnect, whatever the current: a \
                 loose ground can make a weak source strong at any moment",
            );
        }
        Ok(outcome.note(
            "no code gives a limit for this voltage; a person may be of less resistance when wet",
        ))
    },
};

#[cfg(test)]
mod tests {
    use quantity::{Current, Quantity};

    use super::body_effect;
    use crate::Problem;
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "mains.body_current";

    /// Worked out from Ohm's law: a fault, and pick-up through 1 MΩ that leaves 0.12 V of 60 V.
    #[test]
    fn a_weak_source_is_told_from_a_fault_by_its_resistance() {
        let fault = [("open", "60 V"), ("loaded", "20 V"), ("resistance", "2 kohm")];
        check(NAME, &fault, 10.0, "mA", 1e-9);
        check_part(NAME, &fault, "source_resistance", 4_000.0, "ohm", 1e-6);
        let loaded = format!("{} V", 60.0 * 2_000.0 / 1_002_000.0);
        let pick_up = [("open", "60 V"), ("loaded", &loaded), ("resistance", "2 kohm")];
        check(NAME, &pick_up, 0.059_9, "mA", 5e-5);
        check_part(NAME, &pick_up, "source_resistance", 1e6, "ohm", 1.0);
    }

    /// OSHA 3075, the table's steps.
    #[test]
    fn effects_follow_the_published_steps() {
        for (milliamperes, effect) in [
            (0.5, "not felt"),
            (1.0, "tingle"),
            (5.0, "slight shock"),
            (10.0, "painful"),
            (60.0, "extreme pain"),
            (2_000.0, "the heart"),
            (12_000.0, "cardiac arrest"),
        ] {
            let words = body_effect(Current::from_base(milliamperes / 1e3));
            assert!(words.starts_with(effect), "{milliamperes}: {words}");
        }
    }

    #[test]
    fn the_word_to_stop_is_said_from_the_voltage_that_is_looked_into() {
        for (open, said) in [("0.4 V", false), ("2 V", false), ("6 V", true)] {
            let pairs = [("open", open), ("loaded", "0.1 V"), ("resistance", "2 kohm")];
            let notes = call(NAME, &pairs).unwrap().notes;
            assert_eq!(notes.iter().any(|note| note.contains("reason to stop")), said, "{open}");
        }
    }

    #[test]
    fn readings_that_tell_nothing_are_refused() {
        for loaded in ["61 V", "0 V"] {
            let pairs = [("open", "60 V"), ("loaded", loaded), ("resistance", "2 kohm")];
            let problem = refuses(NAME, &pairs, "not determinable");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
