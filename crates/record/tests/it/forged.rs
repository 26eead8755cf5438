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
            if std::env::var("TR").is_ok() {
                eprintln!("{what}");
            }
            let loaded = without_panic(&what, || Record::load([&bytes[..]]));
            match loaded {
                Ok(loaded) => {
                    accepted += 1;
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
        for index in 9..change.bytes.len() {
            let bit = (index * 7 + number) % 8;
            let mut bytes = change.bytes.clone();
            bytes[index] ^= 1 << bit;
            let bytes = with_right_checksum(bytes);
            let what = format!("change {number} byte {index} bit {bit}");
            if std::env::var("TR").is_ok() {
                eprintln!("{what}");
            }
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
