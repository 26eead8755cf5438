//! Arguments of a formula, read from text.

use std::collections::BTreeMap;

use jiff::Timestamp;
use quantity::{Kind, Uncertainty, Value, parse_list, parse_value};

use super::{CalendarDate, Formula, Input, Problem, Takes};

/// Standard gravity, m/s² (NIST SP 811, B.8): turns a mass on a scale into its weight.
const STANDARD_GRAVITY: f64 = 9.806_65;

/// One argument, of the kind that its input takes.
#[derive(Clone, Debug, PartialEq)]
pub enum Argument {
    /// A quantity.
    Quantity(Value),
    /// A list of quantities.
    Quantities(Vec<Value>),
    /// One of the input's words.
    Word(String),
    /// A day or a month.
    Date(CalendarDate),
    /// A moment: seconds since 1970-01-01T00:00:00 UTC, and the local day and time as written.
    Instant(f64),
    /// A text.
    Text(String),
}

/// Arguments by input name, with notes made while reading them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arguments {
    /// The arguments.
    pub by_name: BTreeMap<&'static str, Argument>,
    /// What was taken otherwise than written, in sentences.
    pub notes: Vec<String>,
}

impl Argument {
    /// A value as the argument of an input; a mass serves for a force and the other way round, and a
    /// single value for a list. None if the input takes another kind.
    #[must_use]
    pub fn for_input(input: &Input, value: Value) -> Option<Self> {
        let scaled = |kind, factor: f64| Value {
            kind,
            base: value.base * factor,
            uncertainty: value.uncertainty.map(|uncertainty| Uncertainty {
                independent: uncertainty.independent * factor,
                shared: uncertainty.shared * factor,
                ..uncertainty
            }),
        };
        let fit = |kind| match (value.kind, kind) {
            (given, wanted) if given == wanted => Some(value),
            (Kind::Mass, Kind::Force) => Some(scaled(kind, STANDARD_GRAVITY)),
            (Kind::Force, Kind::Mass) => Some(scaled(kind, 1.0 / STANDARD_GRAVITY)),
            _ => None,
        };
        match input.takes {
            Takes::Quantity(kind) => fit(kind).map(Self::Quantity),
            Takes::Quantities(kind) => fit(kind).map(|value| Self::Quantities(vec![value])),
            Takes::AnyQuantities => Some(Self::Quantities(vec![value])),
            Takes::AnyQuantity | Takes::AnyDifference => Some(Self::Quantity(value)),
            Takes::Word(_) | Takes::Date | Takes::Instant | Takes::Text => None,
        }
    }
}

impl Arguments {
    /// Reads `name`, `text` pairs for a formula. A list may be given piece by piece under one name.
    ///
    /// # Errors
    /// The first input that is unknown, given twice, or not what it takes.
    pub fn read<'a>(
        formula: &Formula,
        pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<Self, Problem> {
        let mut arguments = Self::default();
        for (name, text) in pairs {
            let input = formula.input(name).ok_or_else(|| {
                let names: Vec<&str> = formula.inputs.iter().map(|input| input.name).collect();
                Problem::input(
                    name,
                    format!("{} has no such input; it takes {}", formula.name, names.join(", ")),
                )
            })?;
            let read = arguments.read_one(input, text)?;
            match (arguments.by_name.get_mut(name), read) {
                (None, read) => {
                    arguments.by_name.insert(input.name, read);
                }
                (Some(Argument::Quantities(list)), Argument::Quantities(more)) => list.extend(more),
                (Some(_), _) => return Err(Problem::input(name, "is given twice; give it once")),
            }
        }
        Ok(arguments)
    }

    /// Adds an argument that is already a value.
    #[must_use]
    pub fn with(mut self, name: &'static str, argument: Argument) -> Self {
        self.by_name.insert(name, argument);
        self
    }

    /// Reads one text for an input, noting what was taken otherwise than written.
    ///
    /// # Errors
    /// A problem that names the input and says what is accepted.
    pub fn read_one(&mut self, input: &Input, text: &str) -> Result<Argument, Problem> {
        let refuse = |sentence: String| Problem::input(input.name, sentence);
        match input.takes {
            Takes::Quantity(kind) => {
                let (value, note) = read_quantity(text, kind).map_err(refuse)?;
                self.notes.extend(note.map(|note| format!("{}: {note}", input.name)));
                Ok(Argument::Quantity(value))
            }
            Takes::Quantities(kind) => parse_list(text, kind)
                .map(Argument::Quantities)
                .map_err(|error| refuse(error.to_string())),
            Takes::AnyQuantity => read_any(text).map(Argument::Quantity).map_err(refuse),
            Takes::AnyQuantities => read_any_list(text).map(Argument::Quantities).map_err(refuse),
            Takes::AnyDifference => read_difference(text).map(Argument::Quantity).map_err(refuse),
            Takes::Word(words) => {
                let word = text.trim();
                if words.contains(&word) {
                    Ok(Argument::Word(word.to_owned()))
                } else {
                    Err(refuse(format!("`{word}` is not accepted; accepted: {}", words.join(", "))))
                }
            }
            Takes::Date => CalendarDate::parse(text).map(Argument::Date).map_err(refuse),
            Takes::Instant => read_instant(text).map(Argument::Instant).map_err(refuse),
            Takes::Text => Ok(Argument::Text(text.trim().to_owned())),
        }
    }
}

/// A mass is accepted for a force and the other way round, and said.
fn read_quantity(text: &str, kind: Kind) -> Result<(Value, Option<String>), String> {
    let error = match parse_value(text, kind) {
        Ok(value) => return Ok((value, None)),
        Err(error) => error,
    };
    let (other, factor, words) = match kind {
        Kind::Force => {
            (Kind::Mass, STANDARD_GRAVITY, "a mass, taken as its weight at standard gravity")
        }
        Kind::Mass => (
            Kind::Force,
            1.0 / STANDARD_GRAVITY,
            "a force, taken as the mass that weighs it at standard gravity",
        ),
        _ => return Err(error.to_string()),
    };
    let value = parse_value(text, other).map_err(|_| error.to_string())?;
    let mut taken = Value::new(kind, value.base * factor);
    if let Some(standard) = value.standard_uncertainty() {
        taken = taken.with_uncertainty(standard * factor);
    }
    Ok((taken, Some(format!("`{}` is {words}", text.trim()))))
}

/// A quantity of whatever kind its unit says; a bare number is a plain number.
fn read_any(text: &str) -> Result<Value, String> {
    Kind::ALL.into_iter().find_map(|kind| parse_value(text, kind).ok()).ok_or_else(|| {
        format!(
            "`{}` is no value with a known unit; write it like 118.4 V or 39.5 degF",
            text.trim()
        )
    })
}

/// A list of quantities of one kind, or each with its own unit.
fn read_any_list(text: &str) -> Result<Vec<Value>, String> {
    if let Some(list) = Kind::ALL.into_iter().find_map(|kind| parse_list(text, kind).ok()) {
        return Ok(list);
    }
    let plain = text.trim().trim_start_matches('[').trim_end_matches(']');
    let separator = if plain.contains(';') { ';' } else { ',' };
    plain.split(separator).map(|item| read_any(item.trim().trim_matches('"'))).collect()
}

/// The same as a difference: what is written in a temperature's unit is a step of its scale.
fn read_difference(text: &str) -> Result<Value, String> {
    let value = read_any(text)?;
    if value.kind != Kind::Temperature {
        return Ok(value);
    }
    // Behind ± a temperature's unit is read as a step.
    let step = parse_value(&format!("0 K ± {}", text.trim()), Kind::Temperature)
        .map_err(|error| error.to_string())?;
    let standard = step.standard_uncertainty().unwrap_or(f64::NAN);
    Ok(Value::new(Kind::TemperatureDifference, standard))
}

fn read_instant(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let instant: Timestamp = text.parse().map_err(|_| {
        format!("`{text}` is no time with its zone; write it like 2026-06-12T09:14:00-04:00 or 2026-06-12T13:14:00Z")
    })?;
    Ok(instant.as_duration().as_secs_f64())
}
