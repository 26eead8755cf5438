//! The inspector's instruments, and the one to offer with a reading.

use inspection::{Inspection, Instrument, InstrumentId, PointId};
use jiff::civil::Date;
use plan::{ReadingForm, ReadingPlan};

use crate::Visit;

/// One instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct InstrumentRow {
    /// Its id.
    pub id: InstrumentId,
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: String,
    /// Whether its calibration holds on the day.
    pub calibration: Calibration,
}

/// Whether a calibration holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Calibration {
    /// It holds until this day.
    Until(Date),
    /// It ran out on this day.
    RanOut(Date),
    /// Nothing is recorded of it.
    Unknown,
}

impl InstrumentRow {
    pub(crate) fn of(id: &InstrumentId, instrument: &Instrument, day: Date) -> Self {
        let name = if instrument.name.is_empty() { id.as_str() } else { instrument.name.as_str() };
        Self {
            id: id.clone(),
            name: name.to_owned(),
            kind: instrument.kind.clone(),
            calibration: match instrument.calibration_due {
                Some(due) if due < day => Calibration::RanOut(due),
                Some(due) => Calibration::Until(due),
                None => Calibration::Unknown,
            },
        }
    }
}

impl Visit {
    /// All instruments of the job, by name.
    #[must_use]
    pub fn instruments(&self, day: Date) -> Vec<InstrumentRow> {
        let mut rows: Vec<_> = self
            .inspection()
            .instruments
            .iter()
            .map(|(id, instrument)| InstrumentRow::of(id, instrument, day))
            .collect();
        rows.sort_by(|one, other| one.name.cmp(&other.name));
        rows
    }

    /// The instrument to offer: the one last used for this reading, else for readings in the same unit.
    #[must_use]
    pub fn usual_instrument(&self, point: &PointId, plan: &ReadingPlan) -> Option<InstrumentId> {
        let ReadingForm::Quantity { unit, .. } = &plan.form else { return None };
        let inspection: &Inspection = self.inspection();
        let same_unit = |reading: &inspection::Reading| {
            let planned = self.plan().point(reading.point.as_str());
            planned
                .and_then(|planned| planned.unit_of(&reading.name))
                .is_some_and(|other| other.spelling == unit.spelling)
        };
        inspection
            .readings
            .iter()
            .filter(|(_, reading)| reading.struck_out.is_none() && reading.instrument.is_some())
            .filter(|(_, reading)| same_unit(reading))
            .max_by_key(|(id, reading)| {
                let same_point = reading.point == *point;
                (same_point && reading.name == plan.id, same_point, reading.at, (*id).clone())
            })
            .and_then(|(_, reading)| reading.instrument.clone())
    }
}
