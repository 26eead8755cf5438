//! The inspector's instruments with what is to be seen to before the visit, and the one to offer with a reading.

use inspection::{Inspection, Instrument, InstrumentId, PointId};
use jiff::civil::Date;
use plan::{ReadingForm, ReadingPlan};

use crate::instruments::{name_of, uses};
use crate::{InstrumentTyped, Said, Visit};

/// The job's instruments.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InstrumentList {
    /// The day of the visit that calibrations must last until; none where no day is known.
    pub visit: Option<Date>,
    /// They, by name.
    pub rows: Vec<InstrumentCard>,
}

/// One instrument with all that is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct InstrumentCard {
    /// Its id.
    pub id: InstrumentId,
    /// Its name, as people read it.
    pub name: String,
    /// What is known of it, as it would be typed.
    pub typed: InstrumentTyped,
    /// Until when its calibration holds, in words.
    pub calibration: Said,
    /// Whether that is to be seen to before the visit.
    pub see_to: bool,
    /// How many readings that stand were taken with it: while there are any, it is not taken out.
    pub readings: usize,
}

impl InstrumentList {
    /// Those whose calibration is to be seen to.
    pub fn to_see_to(&self) -> impl Iterator<Item = &InstrumentCard> {
        self.rows.iter().filter(|row| row.see_to)
    }
}

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

/// Until when a calibration holds, and whether that is to be seen to: on the day of the visit, else today.
fn holds(instrument: &Instrument, visit: Option<Date>, today: Date) -> (Said, bool) {
    let with = |key, due: Date| Said::new(key).with("day", due.to_string());
    match (instrument.calibration_due, visit) {
        (None, _) => match instrument.calibrated {
            Some(day) => (with("instrument-calibrated-on", day), false),
            None => (Said::new("instrument-no-calibration"), true),
        },
        (Some(due), Some(visit)) if due < visit => {
            let key = if due < today { "instrument-ran-out-visit" } else { "instrument-runs-out" };
            (with(key, due).with("visit", visit.to_string()), true)
        }
        (Some(due), None) if due < today => (with("instrument-ran-out", due), true),
        (Some(due), _) => (with("instrument-until", due), false),
    }
}

impl Visit {
    /// The job's instruments, each with what is to be seen to before the visit.
    #[must_use]
    pub fn instrument_list(&self, today: Date) -> InstrumentList {
        let inspection = self.inspection();
        let job = &inspection.job;
        let agreed = job.engagement.agreement.as_ref().and_then(|agreement| agreement.day);
        let visit = job.visits.last().copied().max(agreed);
        let mut rows: Vec<InstrumentCard> = inspection
            .instruments
            .iter()
            .map(|(id, instrument)| {
                let (calibration, see_to) = holds(instrument, visit, today);
                InstrumentCard {
                    id: id.clone(),
                    name: name_of(id, instrument),
                    typed: InstrumentTyped::of(instrument),
                    calibration,
                    see_to,
                    readings: uses(inspection, id),
                }
            })
            .collect();
        rows.sort_by(|one, other| (&one.name, &one.id).cmp(&(&other.name, &other.id)));
        InstrumentList { visit, rows }
    }

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
