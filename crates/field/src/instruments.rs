//! An instrument as it is typed, and the list of a job's instruments: what comes in, what is changed, what is taken out.

use inspection::{Inspection, Instrument, InstrumentId};
use jiff::civil::Date;
use quantity::units;
use record::Edit;

use crate::edits::given;
use crate::{Said, Visit};

/// An instrument as it stands in a form.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct InstrumentTyped {
    /// Name or model.
    pub name: String,
    /// What it is, and so what it measures.
    pub kind: String,
    /// Serial number.
    pub serial: String,
    /// When it was last calibrated, `2026-03-02`; empty where it is not known.
    pub calibrated: String,
    /// Until when that is valid; empty where it is not known.
    pub due: String,
    /// Accuracy: part of the reading, in percent.
    pub percent: String,
    /// Accuracy: counts of the last digit.
    pub counts: String,
    /// Smallest step it shows, with its unit.
    pub resolution: String,
}

impl InstrumentTyped {
    /// An instrument as it would be typed.
    #[must_use]
    pub fn of(instrument: &Instrument) -> Self {
        let day = |day: Option<Date>| day.map_or_else(String::new, |day| day.to_string());
        let number = |number: f64| if number == 0.0 { String::new() } else { number.to_string() };
        Self {
            name: instrument.name.clone(),
            kind: instrument.kind.clone(),
            serial: instrument.serial.clone(),
            calibrated: day(instrument.calibrated),
            due: day(instrument.calibration_due),
            percent: number(instrument.percent_of_reading),
            counts: number(instrument.counts),
            resolution: instrument.resolution.clone(),
        }
    }

    /// What is typed, read.
    ///
    /// # Errors
    /// A sentence that says which of it cannot be.
    pub fn read(&self) -> Result<Instrument, Said> {
        let text = |text: &str| text.trim().to_owned();
        let (calibrated, calibration_due) = (day(&self.calibrated)?, day(&self.due)?);
        if let (Some(calibrated), Some(due)) = (calibrated, calibration_due)
            && due < calibrated
        {
            return Err(Said::new("refusal-instrument-days"));
        }
        Ok(Instrument {
            kind: text(&self.kind),
            name: given(&self.name, "refusal-no-instrument-name")?,
            serial: text(&self.serial),
            percent_of_reading: number(&self.percent)?,
            counts: number(&self.counts)?,
            resolution: step(&self.resolution)?,
            calibrated,
            calibration_due,
        })
    }
}

fn day(typed: &str) -> Result<Option<Date>, Said> {
    match typed.trim() {
        "" => Ok(None),
        day => day
            .parse()
            .map(Some)
            .map_err(|_| Said::new("refusal-instrument-day").with("typed", day)),
    }
}

/// A part of an accuracy: none is 0.
fn number(typed: &str) -> Result<f64, Said> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(0.0);
    }
    let number: Option<f64> = typed.replace(',', ".").parse().ok();
    number
        .filter(|number| number.is_finite() && *number >= 0.0)
        .ok_or_else(|| Said::new("refusal-instrument-number").with("typed", typed))
}

/// The smallest step: a number with a unit that is known.
fn step(typed: &str) -> Result<String, Said> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(String::new());
    }
    let written = typed.replace(',', ".");
    let digits = written.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(written.len());
    let (number, unit) = written.split_at(digits);
    let unit = unit.trim();
    let positive = number.parse::<f64>().is_ok_and(|number| number > 0.0);
    if positive && units::find(unit).is_some() {
        return Ok(written);
    }
    Err(Said::new("refusal-instrument-step").with("typed", typed))
}

/// How many readings that stand were taken with an instrument.
pub(crate) fn uses(inspection: &Inspection, id: &InstrumentId) -> usize {
    let readings = inspection.readings.values();
    readings
        .filter(|reading| reading.struck_out.is_none() && reading.instrument.as_ref() == Some(id))
        .count()
}

/// Taken out of the list. One that readings were taken with stays: it gives them their uncertainty.
pub(crate) fn taken_out(visit: &Visit, id: InstrumentId) -> Result<Vec<Edit>, Said> {
    let Some(before) = visit.inspection().instruments.get(&id) else {
        return Err(Said::new("refusal-no-instrument").with("instrument", id.as_str()));
    };
    let count = uses(visit.inspection(), &id);
    if count > 0 {
        let said = Said::new("refusal-instrument-used").counting("count", count);
        return Err(said.with("instrument", name_of(&id, before)));
    }
    Ok(vec![Edit::ClearInstrument { before: before.clone(), id }])
}

/// Instruments of another job come in as they are; what is in the list already stays as it is.
pub(crate) fn taken_over(visit: &Visit, instruments: Vec<(InstrumentId, Instrument)>) -> Vec<Edit> {
    let known = &visit.inspection().instruments;
    let new = instruments.into_iter().filter(|(id, _)| !known.contains_key(id));
    new.map(|(id, after)| Edit::SetInstrument { id, before: None, after }).collect()
}

/// Its name, as people read it.
pub(crate) fn name_of(id: &InstrumentId, instrument: &Instrument) -> String {
    match instrument.name.as_str() {
        "" => crate::entry::words(id.as_str()),
        name => name.to_owned(),
    }
}

impl Visit {
    /// An id for a new instrument of this name, which no other has: its letters and digits.
    #[must_use]
    pub fn instrument_id(&self, name: &str) -> InstrumentId {
        let plain = |letter: char| {
            if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { ' ' }
        };
        let words: String = name.chars().map(plain).collect();
        let id = words.split_whitespace().collect::<Vec<_>>().join("_");
        // So long an id can be kept, whatever comes behind it.
        let id = match id.get(..id.len().min(60)) {
            None | Some("") => "instrument",
            Some(id) => id,
        };
        let taken = |id: &str| self.inspection().instruments.contains_key(id);
        if !taken(id) {
            return id.into();
        }
        let more = (2..).map(|nth: u32| format!("{id}_{nth}")).find(|id| !taken(id));
        more.unwrap_or_default().into()
    }
}
