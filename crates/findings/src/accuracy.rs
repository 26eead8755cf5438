//! What an entry is worth: its value, and which source its uncertainty comes from.

use inspection::{Inspection, InstrumentId, Reading};
use plan::{ReadingForm, ReadingPlan};
use quantity::{Kind, Specification, Unit, Value, parse_value, units};

use crate::Content;
use crate::values::words;

/// One entry, read.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub content: Content,
    pub accuracy: Accuracy,
    pub notes: Vec<String>,
}

/// Where a reading's uncertainty comes from, in the order in which the sources are asked.
#[derive(Clone, Debug)]
pub enum Accuracy {
    /// It is no quantity.
    Words,
    /// The person typed it behind `±`.
    Typed,
    /// The spec sheet of the instrument named with the reading.
    Sheet(Sheet),
    /// The usual uncertainty that the point states.
    Usual,
    /// None is known.
    Unknown,
}

/// An instrument's spec sheet as it was applied.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The instrument.
    pub instrument: InstrumentId,
    /// Its name.
    pub name: String,
    /// Part of the reading, in percent.
    pub percent: f64,
    /// Counts of the last digit.
    pub counts: f64,
    /// Size of the last digit, in `unit`; 0 if none is recorded.
    pub digit: f64,
    /// Unit of the digit.
    pub unit: &'static Unit,
}

/// Reads an entry as the plan says, with its uncertainty: typed, by the instrument, usual, or none.
pub(crate) fn entry(
    inspection: &Inspection,
    plan: &ReadingPlan,
    reading: &Reading,
) -> Result<Entry, String> {
    let ReadingForm::Quantity { kind, unit, usual } = &plan.form else {
        plan.read(&reading.entry)?;
        let content = Content::Words(reading.entry.trim().to_owned());
        return Ok(Entry { content, accuracy: Accuracy::Words, notes: Vec::new() });
    };
    let value = parse_value(&reading.entry, *kind).map_err(|error| error.to_string())?;
    let mut notes = Vec::new();
    let (value, accuracy) = if value.uncertainty.is_some() {
        (value, Accuracy::Typed)
    } else {
        match by_instrument(inspection, reading, value, unit) {
            Ok(Some((value, sheet))) => (value, Accuracy::Sheet(sheet)),
            other => {
                notes.extend(other.err());
                match usual {
                    Some(usual) => (value.with_uncertainty(*usual), Accuracy::Usual),
                    None => (value, Accuracy::Unknown),
                }
            }
        }
    };
    Ok(Entry { content: Content::Quantity(value), accuracy, notes })
}

/// The value with the uncertainty of the instrument named; none if there is none, or it has no spec sheet.
fn by_instrument(
    inspection: &Inspection,
    reading: &Reading,
    value: Value,
    unit: &'static Unit,
) -> Result<Option<(Value, Sheet)>, String> {
    match &reading.instrument {
        Some(id) => read_with(inspection, id, value, unit),
        None => Ok(None),
    }
}

/// The same value with the uncertainty that an instrument would give it.
pub(crate) fn read_with(
    inspection: &Inspection,
    id: &InstrumentId,
    value: Value,
    unit: &'static Unit,
) -> Result<Option<(Value, Sheet)>, String> {
    let Some((index, (_, instrument))) =
        inspection.instruments.iter().enumerate().find(|(_, (key, _))| *key == id)
    else {
        return Err(format!(
            "the instrument `{id}` is not in the list; the usual uncertainty is taken"
        ));
    };
    if instrument.resolution.is_empty()
        && instrument.percent_of_reading == 0.0
        && instrument.counts == 0.0
    {
        return Ok(None);
    }
    let refuse = |why: String| {
        format!(
            "the accuracy of {} is not usable ({why}); the usual uncertainty is taken",
            instrument.name
        )
    };
    let digit = if instrument.resolution.is_empty() {
        0.0
    } else {
        step_of(&instrument.resolution, value.kind).map_err(refuse)? / unit.step()
    };
    let sheet = Sheet {
        instrument: id.clone(),
        name: instrument.name.clone(),
        percent: instrument.percent_of_reading,
        counts: instrument.counts,
        digit,
        unit,
    };
    let specification = Specification {
        percent: sheet.percent,
        counts: sheet.counts,
        digit,
        calibration: 0.0,
        unit,
    };
    let source = u32::try_from(index + 1).unwrap_or(u32::MAX);
    let uncertainty =
        specification.uncertainty(value, source).map_err(|error| refuse(error.to_string()))?;
    Ok(Some((Value { uncertainty: Some(uncertainty), ..value }, sheet)))
}

/// The instrument whose readings share an error under this number; see `by_instrument`.
pub(crate) fn instrument_of(inspection: &Inspection, source: u32) -> Option<&InstrumentId> {
    let index = usize::try_from(source).ok()?.checked_sub(1)?;
    inspection.instruments.keys().nth(index)
}

/// A resolution such as `0.1 degF` as the size of a step in SI base units: offsets do not count.
fn step_of(text: &str, kind: Kind) -> Result<f64, String> {
    let text = text.trim();
    let digits = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, spelling) = text.split_at(digits);
    let unit = units::find_of(kind, spelling).or_else(|| {
        (kind == Kind::Temperature)
            .then(|| units::find_of(Kind::TemperatureDifference, spelling))
            .flatten()
    });
    match (number.parse::<f64>(), unit) {
        (Ok(number), Some(unit)) if number.is_finite() => Ok(number * unit.step()),
        _ => Err(format!("`{text}` is no step of a {}", words(kind.word()))),
    }
}
