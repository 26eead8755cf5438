//! Keys of a reading: what was read where, with what, and why it was struck out.

use inspection::{InstrumentId, PointId, Reading, StruckOut};

use super::{Entry, Fact, Facts, Writing, one_line};
use crate::Refusal;

const POINT: &str = "point";
const NAME: &str = "name";
const ENTRY: &str = "entry";
const POSITION: &str = "position";
const INSTRUMENT: &str = "instrument";
const AT: &str = "at";
const BY: &str = "by";
/// Who struck it out, and why, as lines of one text.
pub(crate) const STRUCK_OUT: &str = "struck_out";

pub(crate) fn reading_facts(reading: &Reading) -> Result<Facts, Refusal> {
    let Reading { point, name, entry, position, instrument, at, by, struck_out } = reading;
    let mut writing = Writing::default();
    // Written even when empty: a reading without them could not be read back.
    writing.put(POINT, Fact::text(point.as_str()));
    writing.put(NAME, Fact::text(name));
    writing.put(ENTRY, Fact::text(entry));
    writing.text(POSITION, position);
    if let Some(instrument) = instrument {
        writing.put(INSTRUMENT, Fact::text(instrument.as_str()));
    }
    writing.moment(AT, *at)?;
    writing.text(BY, by);
    if let Some(StruckOut { reason, by }) = struck_out {
        writing.put(STRUCK_OUT, struck_out_fact(by, reason)?);
    }
    Ok(writing.facts)
}

pub(crate) fn struck_out_fact(by: &str, reason: &str) -> Result<Fact, Refusal> {
    Ok(Fact::text(format!("{}\n{reason}", one_line("the name", by)?)))
}

pub(crate) fn read_reading(mut entry: Entry<'_, '_>) -> Option<Reading> {
    let point = entry.needed_text(POINT);
    let name = entry.needed_text(NAME);
    let typed = entry.needed_text(ENTRY);
    let position = entry.text(POSITION);
    let instrument = entry.text_if_any(INSTRUMENT).map(InstrumentId::from);
    let at = entry.moment(AT);
    let by = entry.text(BY);
    let struck_out = entry.text_if_any(STRUCK_OUT).map(|text| {
        let (by, reason) = text.split_once('\n').unwrap_or(("", &text));
        StruckOut { reason: reason.to_owned(), by: by.to_owned() }
    });
    entry.finish();
    Some(Reading {
        point: PointId::from(point?),
        name: name?,
        entry: typed?,
        position,
        instrument,
        at,
        by,
        struck_out,
    })
}
