//! Bytes altered on purpose, with their checksums made right again: whatever comes of it, no panic
//! escapes, nothing half-done stays, and a record that was accepted can be read and saved.

use std::panic::{AssertUnwindSafe, catch_unwind};

use record::{Record, RecordError};
use sha2::{Digest, Sha256};

use crate::fixtures::*;

fn with_right_checksum(mut bytes: Vec<u8>) -> Vec<u8> {
    let digest: [u8; 32] = Sha256::digest(&bytes[8..]).into();
    bytes[4..8].copy_from_slice(&digest[..4]);
    bytes
}

/// Reads everything there is to read, and saves.
fn read_all(record: &Record) -> Vec<u8> {
    let (inspection, _) = record.inspection();
    drop(inspection);
    drop(record.conflicts());
    drop(record.trail());
    drop(record.changes_after(&[]));
    drop(record.plan());
    record.save()
}

#[track_caller]
fn without_panic<T>(what: &str, run: impl FnOnce() -> T) -> T {
    catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| panic!("{what}: a panic escaped"))
}

#[test]
fn a_forged_saved_record_never_panics() {
    let mut record = new_record();
    for edit in edits_of_everything().into_iter().take(4) {
        record.edit(&laptop(), NOON, edit).unwrap();
    }
    let saved = record.save();
    let (mut accepted, mut refused) = (0, 0);
    for index in 8..saved.len() {
        for bit in [0, 3, 7] {
            let mut bytes = saved.clone();
            bytes[index] ^= 1 << bit;
            let bytes = with_right_checksum(bytes);
            let what = format!("byte {index} bit {bit}");
            let loaded = without_panic(&what, || Record::load([&bytes[..]]));
            match loaded {
                Ok(loaded) => {
                    // The heads vouch for the content: only idle bits of the form were altered.
                    accepted += 1;
                    assert_eq!(loaded.heads(), record.heads(), "{what}");
                    assert_eq!(loaded.inspection(), record.inspection(), "{what}");
                    let saved = without_panic(&what, || read_all(&loaded));
                    without_panic(&what, || Record::load([&saved[..]])).unwrap();
                }
                Err(error) => {
                    refused += 1;
                    assert!(!error.to_string().is_empty());
                }
            }
        }
    }
    eprintln!("forged records: {accepted} accepted, {refused} refused");
    assert!(refused > accepted, "the record's heads give most forgeries away");
}

#[test]
fn a_forged_change_never_panics_and_leaves_no_half_done_work() {
    let record = record_of_everything();
    let changes = record.changes_after(&[]);
    let (mut accepted, mut refused) = (0, 0);
    for (number, change) in changes.iter().enumerate().skip(1) {
        let earlier: Vec<_> = changes[..number].iter().map(|change| &change.bytes[..]).collect();
        let base = Record::load(earlier).unwrap();
        let base_bytes = base.save();
        for index in (9 + number % 3..change.bytes.len()).step_by(3) {
            let bit = (index * 7 + number) % 8;
            let mut bytes = change.bytes.clone();
            bytes[index] ^= 1 << bit;
            let bytes = with_right_checksum(bytes);
            let what = format!("change {number} byte {index} bit {bit}");
            let mut forged = base.clone();
            match without_panic(&what, || forged.apply(&bytes)) {
                Ok(_) => {
                    accepted += 1;
                    let saved = without_panic(&what, || read_all(&forged));
                    let again = without_panic(&what, || Record::load([&saved[..]]));
                    let again = again.unwrap_or_else(|error| panic!("{what}: {error}"));
                    assert_eq!(again.inspection(), forged.inspection(), "{what}");
                }
                Err(error) => {
                    refused += 1;
                    assert!(
                        matches!(
                            error,
                            RecordError::Damaged { .. }
                                | RecordError::DeviceTwice { .. }
                                | RecordError::OtherJob { .. }
                        ),
                        "{what}: {error:?}"
                    );
                    assert_eq!(forged.save(), base_bytes, "{what}");
                }
            }
        }
    }
    eprintln!("forged changes: {accepted} accepted, {refused} refused");
    assert!(accepted > 0 && refused > 0);
}

/// A forged change that waits must not stop the sound one it waits for.
#[test]
fn a_forged_change_that_waited_is_left_out_and_told() {
    let beginning = new_record();
    let mut ahead = beginning.clone();
    let [first, second] = ["r1", "r2"].map(|id| {
        let edit = record::Edit::AddReading { id: id.into(), reading: reading("a", "b", "1 V") };
        ahead.edit(&laptop(), NOON, edit).unwrap().unwrap()
    });
    let mut left_out = 0;
    for index in 9..second.bytes.len() {
        let mut bytes = second.bytes.clone();
        bytes[index] ^= 0x10;
        let bytes = with_right_checksum(bytes);
        let mut record = beginning.clone();
        let what = format!("byte {index}");
        let Ok(received) = without_panic(&what, || record.apply(&bytes)) else { continue };
        if received.missing != [first.hash] {
            continue;
        }
        let received = without_panic(&what, || record.apply(&first.bytes)).unwrap();
        assert!(received.added.contains(&first.hash), "{what}");
        let (inspection, problems) = record.inspection();
        assert!(inspection.readings.contains_key("r1"), "{what}");
        if received.added.len() == 1 {
            left_out += 1;
            assert!(problems[0].trouble.contains("was left out: "), "{what}: {problems:?}");
        }
        without_panic(&what, || read_all(&record));
    }
    assert!(left_out > 0);
}
