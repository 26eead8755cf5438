//! The job's document as one file that is the same whichever way the changes came.

use std::collections::BTreeMap;

use record::{Hash, Record, RecordError, RefusalKind};

/// The record as bytes. Two records with the same changes give the same bytes: the changes are put in the order of the
/// trail first, since a document remembers the order in which it got them.
///
/// # Errors
/// When changes are missing that others name as their predecessors; or when the record refuses its own changes.
pub fn record_bytes(record: &Record) -> Result<Vec<u8>, RecordError> {
    let missing = record.missing();
    if !missing.is_empty() {
        let names: Vec<String> = missing.iter().map(ToString::to_string).collect();
        return Err(RecordError::Refused(RefusalKind::Gone.refusal(format!(
            "the record lacks changes that others build on ({}); fetch them from the device that made them first",
            names.join(", ")
        ))));
    }
    let changes: BTreeMap<Hash, Vec<u8>> =
        record.changes_after(&[]).into_iter().map(|change| (change.hash, change.bytes)).collect();
    let trail = record.trail();
    let pieces = trail.iter().filter_map(|entry| changes.get(&entry.hash)).map(Vec::as_slice);
    Ok(Record::load(pieces)?.save())
}
