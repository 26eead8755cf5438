//! Keys of an instrument: what it is, its accuracy and its calibration.

use inspection::Instrument;

use super::{Entry, Facts, Writing};
use crate::Refusal;

const KIND: &str = "kind";
const NAME: &str = "name";
const SERIAL: &str = "serial";
const PERCENT_OF_READING: &str = "percent_of_reading";
const COUNTS: &str = "counts";
const RESOLUTION: &str = "resolution";
const CALIBRATED: &str = "calibrated";
const CALIBRATION_DUE: &str = "calibration_due";

pub(crate) fn instrument_facts(instrument: &Instrument) -> Result<Facts, Refusal> {
    let Instrument {
        kind,
        name,
        serial,
        percent_of_reading,
        counts,
        resolution,
        calibrated,
        calibration_due,
    } = instrument;
    let mut writing = Writing::default();
    writing.text(KIND, kind);
    writing.text(NAME, name);
    writing.text(SERIAL, serial);
    writing.number(PERCENT_OF_READING, *percent_of_reading)?;
    writing.number(COUNTS, *counts)?;
    writing.text(RESOLUTION, resolution);
    writing.date(CALIBRATED, *calibrated);
    writing.date(CALIBRATION_DUE, *calibration_due);
    Ok(writing.facts)
}

pub(crate) fn read_instrument(mut entry: Entry<'_, '_>) -> Instrument {
    let instrument = Instrument {
        kind: entry.text(KIND),
        name: entry.text(NAME),
        serial: entry.text(SERIAL),
        percent_of_reading: accuracy(&mut entry, PERCENT_OF_READING),
        counts: accuracy(&mut entry, COUNTS),
        resolution: entry.text(RESOLUTION),
        calibrated: entry.date(CALIBRATED),
        calibration_due: entry.date(CALIBRATION_DUE),
    };
    entry.finish();
    instrument
}

/// An accuracy that is not there would make readings look better than they are, so it is reported.
fn accuracy(entry: &mut Entry<'_, '_>, field: &str) -> f64 {
    entry.number(field).unwrap_or_else(|| {
        entry.trouble(format!("`{field}` is missing; its readings count as exact in this part"));
        0.0
    })
}
