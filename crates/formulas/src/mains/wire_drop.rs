//! Voltage lost along a pair of copper wires.

use quantity::uom::si::length::foot;
use quantity::uom::si::thermodynamic_temperature::degree_celsius;
use quantity::{Current, Kind, Length, Quantity, Temperature, Voltage};

use super::wire_size::gauge;
use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static RESISTANCES: Table =
    Table::of(include_str!("../../../../data/tables/copper_resistance.csv"));

/// Change of resistance for each kelvin from 75 °C (note to table 8).
const TEMPERATURE_COEFFICIENT: f64 = 0.003_23;

/// How the conductor is made. Public tables mix the two under one gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stranding {
    /// One wire.
    Solid,
    /// Many wires.
    Stranded,
}

impl Stranding {
    fn word(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Stranded => "stranded",
        }
    }
}

/// How far it is, in a form that cannot be mistaken by a factor of two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WireLength {
    /// From the source to the load.
    OneWay(Length),
    /// Out and back.
    RoundTrip(Length),
}

impl WireLength {
    /// Both wires together.
    pub(super) fn conductor(self) -> Length {
        match self {
            Self::OneWay(length) => length * 2.0,
            Self::RoundTrip(length) => length,
        }
    }
}

/// Ohms for 1000 ft at 75 °C.
fn resistance(gauge: &str, stranding: Stranding) -> Option<f64> {
    RESISTANCES
        .rows()
        .find(|row| row.text("gauge") == gauge && row.text("stranding") == stranding.word())
        .map(|row| row.number("resistance"))
}

/// Sizes of stranded wire with their circular mils, from the smallest to the largest.
pub(super) fn stranded_sizes() -> Vec<(&'static str, f64)> {
    RESISTANCES
        .rows()
        .filter(|row| row.text("stranding") == "stranded")
        .map(|row| (row.text("gauge"), row.number("circular_mils")))
        .collect()
}

fn gauges(stranding: Stranding) -> Vec<&'static str> {
    RESISTANCES
        .rows()
        .filter(|row| row.text("stranding") == stranding.word())
        .map(|row| row.text("gauge"))
        .collect()
}

/// Voltage lost in both conductors of a copper pair.
///
/// `V = I·R·L`, L out and back, `R = R₇₅·[1 + 0.00323·(T − 75)]`, T in °C. Direct current; for 60 Hz in sizes
/// up to 2 AWG the same within a percent.
///
/// # Errors
/// [`Problem::Input`] for a gauge that the table does not have; [`Problem::OutOfRange`] outside −40 °C to
/// 105 °C.
pub fn wire_drop(
    current: Current,
    length: WireLength,
    gauge_text: &str,
    stranding: Stranding,
    temperature: Temperature,
) -> Result<Voltage, Problem> {
    let gauge = gauge("gauge", gauge_text, &gauges(stranding))?;
    let celsius = temperature.get::<degree_celsius>();
    if !(-40.0..=105.0).contains(&celsius) {
        return Err(Problem::out_of_range(
            "valid for conductors from -40 degC to 105 degC (-40 degF to 221 degF)",
        ));
    }
    let at_75 = resistance(gauge, stranding).unwrap_or(f64::NAN);
    let ohms = at_75 * (1.0 + TEMPERATURE_COEFFICIENT * (celsius - 75.0));
    let thousands = length.conductor().get::<foot>() / 1_000.0;
    Ok(Voltage::from_base(current.base() * ohms * thousands))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.wire_drop",
    summary: "Voltage lost along a pair of copper wires.",
    inputs: &[
        Input::quantity("current", Kind::Current, "current in the wires")
            .accepting(Accepts::AtLeast("0 A")),
        Input::quantity("length", Kind::Length, "from source to load, unless one_way is no")
            .accepting(Accepts::AtLeast("0 ft")),
        Input::text("gauge", "AWG size of the copper wire, such as 14 or 2/0"),
        Input::quantity("temperature", Kind::Temperature, "of the wire; 75 degC if left out")
            .accepting(Accepts::AtLeast("0 K"))
            .optional(),
        Input::word("one_way", &["yes", "no"], "whether the length is one way; yes if left out")
            .optional(),
        Input::word("conductor", &["stranded", "solid"], "stranded if left out").optional(),
        Input::quantity("nominal", Kind::Voltage, "what the percentage is of; 12 V if left out")
            .accepting(Accepts::Above("0 V"))
            .optional(),
    ],
    result: Gives::quantity("drop", "V", "lost in both wires together"),
    parts: &[Gives::quantity("percent", "%", "of the nominal voltage")],
    valid: "uncoated copper from -40 degC to 105 degC, direct current",
    sources: &[
        Source {
            document: "NFPA 70, chapter 9, table 8",
            section: "direct-current resistance of uncoated copper at 75 degC, and its note",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "Ohm's law",
            section: "two conductors in series",
            confirmed: Confirmed::Derived,
        },
    ],
    example: &[("current", "10 A"), ("length", "20 ft"), ("gauge", "14")],
    compute: |inputs| {
        let length: Length = inputs.get("length")?;
        let one_way = inputs.optional_words("one_way") != Some("no");
        let length =
            if one_way { WireLength::OneWay(length) } else { WireLength::RoundTrip(length) };
        let stranding = match inputs.optional_words("conductor") {
            Some("solid") => Stranding::Solid,
            _ => Stranding::Stranded,
        };
        let temperature = inputs
            .optional("temperature")?
            .unwrap_or_else(|| Temperature::new::<degree_celsius>(75.0));
        let drop = wire_drop(
            inputs.get("current")?,
            length,
            inputs.words("gauge")?,
            stranding,
            temperature,
        )?;
        let nominal = inputs.optional("nominal")?.unwrap_or(Voltage::from_base(12.0));
        Ok(Outcome::new(drop)
            .part("percent", drop / nominal)
            .note(format!(
                "length taken {}; percent of {} V",
                if one_way { "one way and doubled" } else { "out and back, as given" },
                quantity::write_number(nominal.base())
            ))
            .note(
                "3 % for what matters and 10 % for the rest at 12 V is boat builders' practice, not law for \
                 trailers",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "mains.wire_drop";
    const CASES: [(&str, &str, &str, f64, f64, f64); 5] = [
        ("14", "10 A", "20 ft", 1.256, 10.467, 1.053_2),
        ("12 AWG", "15 A", "15 ft", 0.891, 7.425, 0.747_1),
        ("#10", "20 A", "15 ft", 0.744, 6.200, 0.623_8),
        ("6", "50 A", "10 ft", 0.491, 4.092, 0.411_7),
        ("4 awg", "100 A", "6 ft", 0.369_6, 3.080, 0.309_9),
    ];

    /// Worked out from the table's stranded column at 75 °C and, with its note, at 25 °C.
    #[test]
    fn the_drop_follows_from_the_resistance_table() {
        for (gauge, current, length, volts, percent, cold) in CASES {
            let pairs = [("current", current), ("length", length), ("gauge", gauge)];
            check(NAME, &pairs, volts, "V", 1e-9);
            check_part(NAME, &pairs, "percent", percent, "%", 5e-4);
            let pairs = [pairs[0], pairs[1], pairs[2], ("temperature", "25 degC")];
            check(NAME, &pairs, cold, "V", 5e-5);
        }
    }

    /// E = K·I·L/CM with K = 10.75 and L out and back (boat builders' form): within 1 % at 25 °C.
    #[test]
    fn the_circular_mil_form_agrees_at_room_temperature() {
        let table = &super::RESISTANCES;
        for (gauge, current, length, _, _, cold) in CASES {
            let number = |text: &str| text.split(' ').next().unwrap().parse::<f64>().unwrap();
            let plain = gauge.trim_start_matches('#').split(' ').next().unwrap();
            let row = table
                .rows()
                .find(|row| row.text("gauge") == plain && row.text("stranding") == "stranded")
                .unwrap();
            let drop = 10.75 * number(current) * 2.0 * number(length) / row.number("circular_mils");
            assert!((drop / cold - 1.0).abs() < 0.01, "{gauge}: {drop} {cold}");
        }
    }

    #[test]
    fn a_round_trip_length_is_not_doubled_again() {
        check(
            NAME,
            &[("current", "10 A"), ("length", "40 ft"), ("gauge", "14"), ("one_way", "no")],
            1.256,
            "V",
            1e-9,
        );
    }

    #[test]
    fn solid_and_stranded_wire_differ() {
        let pairs =
            [("current", "10 A"), ("length", "20 ft"), ("gauge", "14"), ("conductor", "solid")];
        check(NAME, &pairs, 1.228, "V", 1e-9);
    }

    #[test]
    fn unknown_gauges_and_hot_wires_are_refused() {
        let problem = refuses(
            NAME,
            &[("current", "1 A"), ("length", "1 ft"), ("gauge", "13")],
            "accepted gauges of copper wire: 18, 16, 14",
        );
        assert!(matches!(problem, Problem::Input { .. }));
        let hot =
            [("current", "1 A"), ("length", "1 ft"), ("gauge", "14"), ("temperature", "120 degC")];
        assert!(matches!(refuses(NAME, &hot, "valid for conductors"), Problem::OutOfRange { .. }));
    }
}
