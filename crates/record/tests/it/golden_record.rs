//! The record that becomes the golden document.

use record::Record;

use crate::fixtures::*;

/// A record of everything, with one conflict, as this version would save it.
pub(crate) fn golden_record() -> Record {
    let mut record = record_of_everything();
    let mut other = record.clone();
    for (side, author, weather) in
        [(&mut record, phone(), "dry, then rain"), (&mut other, tablet(), "showers")]
    {
        let mut after = job();
        after.weather = weather.into();
        let edit = record::Edit::ChangeJob { before: Box::new(job()), after: Box::new(after) };
        side.edit(&author, NOON + 3_600, edit).unwrap();
    }
    record.merge(&other).unwrap();
    record
}
