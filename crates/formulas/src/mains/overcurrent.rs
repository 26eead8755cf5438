//! Whether a breaker or fuse is too large for the wire behind it.

use quantity::{Current, Kind, Quantity};

use super::wire_size::gauge;
use crate::table::Table;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

static AMPACITIES: Table = Table::of(include_str!("../../../../data/tables/copper_ampacity.csv"));

/// Largest device on the small conductors, whatever their ampacity: 240.4(D).
const SMALL_CONDUCTORS: [(&str, f64); 3] = [("14", 15.0), ("12", 20.0), TEN];
/// This one is from memory.
const TEN: (&str, f64) = ("10", 30.0);

/// What the terminals at both ends are rated for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Termination {
    /// 60 °C, also what counts without a marking up to 100 A.
    Celsius60,
    /// 75 °C.
    Celsius75,
    /// Not read.
    Unknown,
}

/// How a device stands to its wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Protection {
    /// `fits`, `too large` or `undecided`.
    pub verdict: &'static str,
    /// Largest device at 60 °C terminals.
    pub at_60: Current,
    /// Largest device at 75 °C terminals, where the table has it.
    pub at_75: Option<Current>,
    /// The same by what other texts quote alone, without what is from memory: only beyond it may a device be
    /// called too large for certain.
    pub certain: Option<Current>,
}

fn ampacity(gauge: &str, termination: f64) -> Option<f64> {
    AMPACITIES
        .rows()
        .find(|row| {
            row.text("gauge") == gauge && (row.number("termination") - termination).abs() < 0.5
        })
        .map(|row| row.number("ampacity"))
}

fn allowed(gauge: &str, termination: f64) -> Option<Current> {
    let ampacity = ampacity(gauge, termination)?;
    let cap = SMALL_CONDUCTORS.iter().find(|(small, _)| *small == gauge).map(|(_, cap)| *cap);
    Some(Current::from_base(cap.map_or(ampacity, |cap| cap.min(ampacity))))
}

/// Compares an overcurrent device with the ampacity of a copper conductor.
///
/// # Errors
/// [`Problem::Input`] for a gauge that the table does not have.
pub fn overcurrent(
    gauge_text: &str,
    device: Current,
    termination: Termination,
) -> Result<Protection, Problem> {
    let table = &AMPACITIES;
    let mut known: Vec<&'static str> = table.rows().map(|row| row.text("gauge")).collect();
    known.dedup();
    let gauge = gauge("gauge", gauge_text, &known)?;
    let at_60 = allowed(gauge, 60.0).unwrap_or(Current::from_base(f64::NAN));
    let at_75 = allowed(gauge, 75.0);
    let within = |limit: Current| device.base() <= limit.base() * (1.0 + 1e-12);
    let verdict = if within(at_60) {
        "fits"
    } else {
        match (termination, at_75) {
            (Termination::Celsius60, _) => "too large",
            (_, Some(limit)) if !within(limit) => "too large",
            (Termination::Celsius75, Some(_)) => "fits",
            _ => "undecided",
        }
    };
    let certain =
        if gauge == TEN.0 { ampacity(gauge, 75.0).map(Current::from_base) } else { at_75 };
    Ok(Protection { verdict, at_60, at_75, certain })
}

fn read_termination(text: &str) -> Result<Termination, Problem> {
    let number = text.trim_end_matches(|c: char| !c.is_ascii_digit());
    match (number, text) {
        (_, "unknown") => Ok(Termination::Unknown),
        ("60", _) | (_, "140 degF") => Ok(Termination::Celsius60),
        ("75", _) | (_, "167 degF") => Ok(Termination::Celsius75),
        _ => Err(Problem::input(
            "termination",
            format!("`{text}` is not accepted; accepted: 60 degC, 75 degC or unknown"),
        )),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "mains.overcurrent",
    summary: "Whether a breaker or fuse is too large for the copper wire behind it.",
    inputs: &[
        Input::text("gauge", "AWG size of the copper wire, such as 12 or 1/0"),
        Input::quantity("device", Kind::Current, "rating of the breaker or fuse")
            .accepting(Accepts::Above("0 A")),
        Input::text(
            "termination",
            "rating of the terminals at both ends: 60 degC, 75 degC or unknown; unknown if left out",
        )
        .optional(),
    ],
    result: Gives::words("verdict", "fits, too large or undecided"),
    parts: &[
        Gives::quantity("largest_at_60", "A", "largest device at 60 degC terminals"),
        Gives::quantity("largest_at_75", "A", "largest device at 75 degC terminals, to 6 AWG"),
        Gives::quantity(
            "largest_certain",
            "A",
            "the same without what is from memory: beyond it a device is too large for certain",
        ),
    ],
    valid: "copper conductors, three at most in a cable or raceway, at 30 degC",
    sources: &[
        Source {
            document: "NFPA 70, table 310.16",
            section: "copper at 60 degC and 75 degC, as two public tables quote it",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "NFPA 70, 240.4(D)",
            section: "14 AWG 15 A and 12 AWG 20 A",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "NFPA 70, 240.4(D)",
            section: "10 AWG 30 A",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("gauge", "12"), ("device", "20 A"), ("termination", "60 degC")],
    compute: |inputs| {
        let termination = inputs
            .optional_words("termination")
            .map_or(Ok(Termination::Unknown), read_termination)?;
        let found = overcurrent(inputs.words("gauge")?, inputs.get("device")?, termination)?;
        let mut outcome = Outcome::new(Output::words(found.verdict))
            .part("largest_at_60", found.at_60);
        if let Some(limit) = found.at_75 {
            outcome = outcome.part("largest_at_75", limit);
        }
        if let Some(limit) = found.certain {
            outcome = outcome.part("largest_certain", limit);
        }
        if found.verdict == "undecided" {
            outcome = outcome.note(
                "not determinable without the rating of the terminals at both ends: read their marking",
            );
        }
        Ok(outcome
            .note(
                "for copper only; motor and air-conditioner circuits may have a larger device by their \
                 nameplate, and many wires bundled or in heat a smaller one",
            )
            .note(
                "aluminium branch wiring is not acceptable in manufactured homes (24 CFR 3280.801(e)); do \
                 not open a live panel without the training for it",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check_part, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "mains.overcurrent";

    /// By NFPA 70, table 310.16 and 240.4(D).
    #[test]
    fn devices_are_held_against_ampacity_and_the_cap_of_small_conductors() {
        for (gauge, device, termination, verdict) in [
            ("12", "30 A", "75 degC", "too large"),
            ("12", "25 A", "75 degC", "too large"),
            ("12", "20 A", "unknown", "fits"),
            ("14", "20 A", "75 degC", "too large"),
            ("10", "30 A", "60 degC", "fits"),
            ("6", "50 A", "60 degC", "fits"),
            ("8", "50 A", "75 degC", "fits"),
            ("8", "50 A", "60 degC", "too large"),
            ("8", "50 A", "unknown", "undecided"),
            ("8", "60 A", "unknown", "too large"),
            ("4", "80 A", "75 degC", "undecided"),
            ("4", "70 A", "75", "fits"),
        ] {
            let pairs = [("gauge", gauge), ("device", device), ("termination", termination)];
            let outcome = call(NAME, &pairs).unwrap();
            assert_eq!(outcome.result, Output::words(verdict), "{pairs:?}");
        }
        let bare = call(NAME, &[("gauge", "8"), ("device", "50 A")]).unwrap();
        assert_eq!(bare.result, Output::words("undecided"));
        check_part(NAME, &[("gauge", "8"), ("device", "50 A")], "largest_at_75", 50.0, "A", 1e-9);
    }

    /// The 30 A of 10 AWG is from memory; its 35 A of table 310.16 is quoted.
    #[test]
    fn what_is_from_memory_makes_no_device_too_large_for_certain() {
        for (gauge, largest) in [("14", 15.0), ("12", 20.0), ("10", 35.0), ("8", 50.0), ("6", 65.0)]
        {
            let pairs = [("gauge", gauge), ("device", "15 A")];
            check_part(NAME, &pairs, "largest_certain", largest, "A", 1e-9);
        }
    }

    #[test]
    fn unknown_gauges_and_terminals_are_input_errors() {
        for (gauge, termination) in [("7", "60 degC"), ("8", "90 degC"), ("8", "hot")] {
            let pairs = [("gauge", gauge), ("device", "20 A"), ("termination", termination)];
            assert!(matches!(refuses(NAME, &pairs, "not accepted"), Problem::Input { .. }));
        }
    }
}
