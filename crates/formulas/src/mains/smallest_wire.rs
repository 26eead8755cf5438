//! The smallest copper wire that keeps a twelve-volt run's drop within a share.

use quantity::uom::si::{electric_current::ampere, length::foot, ratio::ratio};
use quantity::{Current, Kind, Length, Quantity, Ratio, Voltage};

use super::wire_drop::{WireLength, stranded_sizes};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Ohm circular mils for each foot of copper.
const COPPER: f64 = 10.75;

/// Circular mils that a run needs: `CM = K·I·L/E`, L out and back.
#[must_use]
pub fn circular_mils(current: Current, length: WireLength, drop: Voltage) -> f64 {
    COPPER * current.get::<ampere>() * length.conductor().get::<foot>() / drop.base()
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.smallest_wire",
    summary: "Smallest stranded copper wire that keeps a low-voltage run's drop within a share.",
    inputs: &[
        Input::quantity("current", Kind::Current, "in the wire").accepting(Accepts::Above("0 A")),
        Input::quantity("length", Kind::Length, "of the run").accepting(Accepts::Above("0 ft")),
        Input::word("one_way", &["yes", "no"], "no if the length is out and back; yes if left out")
            .optional(),
        Input::quantity(
            "share",
            Kind::Ratio,
            "of the nominal voltage that may be lost, such as 10 %",
        )
        .accepting(Accepts::AboveUpTo("0 %", "50 %")),
        Input::quantity("nominal", Kind::Voltage, "nominal voltage; 12 V if left out")
            .accepting(Accepts::Above("0 V"))
            .optional(),
    ],
    result: Gives::words("gauge", "AWG size of the smallest wire"),
    parts: &[Gives::quantity("circular_mils", "", "that the run needs")],
    valid: "direct current, copper, sizes 18 to 4/0 AWG",
    sources: &[
        Source {
            document: "boat builders' form CM = K·I·L/E",
            section: "K = 10.75, L out and back",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "a chandler's guide, table of sizes at 10 %",
            section: "10 A over 21 ft out and back: 16 AWG",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("current", "10 A"), ("length", "20 ft"), ("share", "3 %")],
    compute: |inputs| {
        let length: Length = inputs.get("length")?;
        let length = if inputs.optional_words("one_way") == Some("no") {
            WireLength::RoundTrip(length)
        } else {
            WireLength::OneWay(length)
        };
        let nominal = inputs.optional("nominal")?.unwrap_or(Voltage::from_base(12.0));
        let share: Ratio = inputs.get("share")?;
        let drop = nominal * share.get::<ratio>();
        let needed = circular_mils(inputs.get("current")?, length, drop);
        let sizes = stranded_sizes();
        let gauge = sizes.iter().find(|(_, area)| *area >= needed).ok_or_else(|| {
            Problem::out_of_range(format!(
                "{} circular mils are more than the table's largest wire has: shorten the run, or use two",
                quantity::write_number(needed.round())
            ))
        })?;
        Ok(Outcome::new(Output::words(gauge.0)).part("circular_mils", needed).note(
            "for the drop alone: the wire's ampacity and its fuse decide as well. 3 % for what matters and \
             10 % for the rest is boat builders' practice, not law for trailers",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check_part, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.smallest_wire";

    /// A chandler's table (10 A over 11 ft and 10 ft at 10 %: 16 AWG), and the form worked out at 3 % and 10 %.
    #[test]
    fn sizes_follow_the_form_and_the_published_table() {
        for (length, share, mils, gauge) in [
            ("40 ft", "3 %", 11_944.0, "8"),
            ("40 ft", "10 %", 3_583.0, "14"),
            ("21 ft", "10 %", 1_881.0, "16"),
        ] {
            let pairs =
                [("current", "10 A"), ("length", length), ("one_way", "no"), ("share", share)];
            check_part(NAME, &pairs, "circular_mils", mils, "", 0.6);
            assert_eq!(
                call(NAME, &pairs).unwrap().result,
                Output::words(gauge),
                "{length} {share}"
            );
        }
    }

    #[test]
    fn a_length_one_way_is_doubled_and_said_nowhere_twice() {
        let one_way = [("current", "10 A"), ("length", "20 ft"), ("share", "3 %")];
        check_part(NAME, &one_way, "circular_mils", 11_944.0, "", 0.6);
    }

    #[test]
    fn a_run_that_no_wire_carries_is_out_of_range() {
        let far = [("current", "300 A"), ("length", "90 ft"), ("share", "1 %")];
        assert!(matches!(refuses(NAME, &far, "largest wire"), Problem::OutOfRange { .. }));
    }
}
