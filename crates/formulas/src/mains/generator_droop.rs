//! How far a generator's frequency falls from no load to full load.

use quantity::{Frequency, Kind, Quantity, Ratio};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Largest droop of each class, in the order of how strict it is.
const CLASSES: [(&str, f64); 3] = [("G3", 0.03), ("G2", 0.05), ("G1", 0.08)];

/// Frequency droop, by the rated frequency.
///
/// `droop = (f₀ − f_L)/f_r` (ISO 8528-5).
///
/// # Errors
/// [`Problem::OutOfRange`] for a frequency off by more than 15 % of the rated one, or one that rose with
/// the load.
pub fn generator_droop(
    no_load: Frequency,
    full_load: Frequency,
    rated: Frequency,
) -> Result<Ratio, Problem> {
    for frequency in [no_load, full_load] {
        if (frequency.base() / rated.base() - 1.0).abs() > 0.15 {
            return Err(Problem::out_of_range(
                "a frequency off by more than 15 % of the rated one: shut the set down, or read again with \
                 a meter that can read an inverter",
            ));
        }
    }
    if full_load > no_load {
        return Err(Problem::out_of_range(
            "not determinable: the frequency rose with the load; read both again after it has settled",
        ));
    }
    Ok((no_load - full_load) / rated)
}

/// The strictest class whose droop this meets; none beyond all.
#[must_use]
pub fn droop_class(droop: Ratio) -> Option<&'static str> {
    CLASSES.iter().find(|(_, most)| droop.base() <= most + 1e-9).map(|(class, _)| *class)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.generator_droop",
    summary: "Fall of a generator's frequency from no load to full load.",
    inputs: &[
        Input::quantity("no_load", Kind::Frequency, "frequency without load")
            .accepting(Accepts::Above("0 Hz")),
        Input::quantity("full_load", Kind::Frequency, "frequency with the rated load")
            .accepting(Accepts::Above("0 Hz")),
        Input::quantity("rated", Kind::Frequency, "rated frequency; 60 Hz if left out")
            .accepting(Accepts::Above("0 Hz"))
            .optional(),
    ],
    result: Gives::quantity("droop", "%", "of the rated frequency"),
    parts: &[Gives::words("class", "strictest class of ISO 8528-5 whose droop it meets, or none")],
    valid: "frequencies within 15 % of the rated one",
    sources: &[
        Source {
            document: "ISO 8528-5, as a tender quotes it",
            section: "G2: droop 5 %",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "ISO 8528-5",
            section: "G1: 8 %, G3: 3 %",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("no_load", "62.4 Hz"), ("full_load", "60 Hz")],
    compute: |inputs| {
        let rated = inputs.optional("rated")?.unwrap_or(Frequency::from_base(60.0));
        let droop = generator_droop(inputs.get("no_load")?, inputs.get("full_load")?, rated)?;
        let class = droop_class(droop).unwrap_or("none");
        Ok(Outcome::new(droop).part("class", Output::words(class)).note(
            "hold a set against a class only if its papers name one; portable sets usually run 62 Hz to \
             63 Hz unloaded. Run it outdoors, exhaust away from openings",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.generator_droop";

    /// Worked out from the definition.
    #[test]
    fn droop_is_the_fall_by_the_rated_frequency() {
        for (no_load, full_load, percent, class) in [
            ("62.4 Hz", "60 Hz", 4.0, "G2"),
            ("63.6 Hz", "60 Hz", 6.0, "G1"),
            ("60 Hz", "60 Hz", 0.0, "G3"),
            ("63 Hz", "60 Hz", 5.0, "G2"),
            ("65.4 Hz", "60 Hz", 9.0, "none"),
        ] {
            let pairs = [("no_load", no_load), ("full_load", full_load)];
            check(NAME, &pairs, percent, "%", 1e-9);
            let outcome = call(NAME, &pairs).unwrap();
            assert_eq!(*part_of(&outcome, "class"), Output::words(class), "{no_load}");
        }
        let fifty = [("no_load", "52 Hz"), ("full_load", "50 Hz"), ("rated", "50 Hz")];
        check(NAME, &fifty, 4.0, "%", 1e-9);
    }

    #[test]
    fn frequencies_that_cannot_be_are_refused() {
        for (no_load, full_load, words) in
            [("60 Hz", "61 Hz", "not determinable"), ("120 Hz", "60 Hz", "off by more than 15 %")]
        {
            let problem = refuses(NAME, &[("no_load", no_load), ("full_load", full_load)], words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
    }
}
