//! Damaged bytes are refused with a sentence: flipped bits, cut-off files, files that are none of ours.

use std::panic::{AssertUnwindSafe, catch_unwind};

use record::{Edit, Record, RecordError};

use crate::fixtures::*;

/// A small record: its beginning and three changes.
fn small_record() -> Record {
    let mut record = new_record();
    for edit in edits_of_everything().into_iter().take(3) {
        record.edit(&laptop(), NOON, edit).unwrap();
    }
    record
}

/// Runs something that must neither panic nor accept, and gives its sentence.
#[track_caller]
fn refused<T>(what: &str, run: impl FnOnce() -> Result<T, RecordError>) -> RecordError {
    match catch_unwind(AssertUnwindSafe(run)) {
        Ok(Err(error)) => error,
        Ok(Ok(_)) => panic!("{what}: accepted"),
        Err(_) => panic!("{what}: panicked"),
    }
}

#[test]
fn every_flipped_bit_in_a_saved_record_is_found() {
    let saved = small_record().save();
    for index in 0..saved.len() {
        for bit in 0..8 {
            let mut bytes = saved.clone();
            bytes[index] ^= 1 << bit;
            let error = refused(&format!("byte {index} bit {bit}"), || Record::load([&bytes[..]]));
            let sentence = error.to_string();
            assert!(sentence.contains("piece 1 of the record"), "{sentence}");
            assert!(sentence.contains("hint: "), "{sentence}");
        }
    }
}

#[test]
fn every_flipped_bit_in_a_change_is_found_and_changes_nothing() {
    let record = small_record();
    let change = record.changes_after(&[]).pop().unwrap();
    let mut shorter = new_record();
    let earlier: Vec<u8> = record.changes_after(&shorter.heads())[..2]
        .iter()
        .flat_map(|change| change.bytes.clone())
        .collect();
    shorter.apply(&earlier).unwrap();
    let before = shorter.save();
    for index in 0..change.bytes.len() {
        for bit in 0..8 {
            let mut bytes = change.bytes.clone();
            bytes[index] ^= 1 << bit;
            let what = format!("byte {index} bit {bit}");
            let error = refused(&what, || shorter.apply(&bytes));
            assert!(error.to_string().contains("piece 1 of the record"), "{error}");
            let error = refused(&what, || Record::load([&before[..], &bytes[..]]));
            assert!(error.to_string().contains("piece 2 of the record"), "{error}");
        }
    }
    assert_eq!(shorter.save(), before);
    shorter.apply(&change.bytes).unwrap();
    assert_eq!(shorter.heads(), record.heads());
}

#[test]
fn a_record_cut_off_anywhere_is_refused() {
    let saved = small_record().save();
    assert_eq!(refused("no bytes", || Record::load([&[][..]])), RecordError::Empty);
    for length in 1..saved.len() {
        let error = refused(&format!("{length} bytes"), || Record::load([&saved[..length]]));
        assert!(error.to_string().contains("cut off after"), "{error}");
    }
}

#[test]
fn something_behind_a_sound_record_is_refused() {
    let mut bytes = small_record().save();
    bytes.extend_from_slice(b"tail");
    let error = refused("a tail", || Record::load([&bytes[..]])).to_string();
    assert!(error.contains("piece 2 of the record"), "{error}");
}

#[test]
fn what_is_no_record_at_all_is_called_that() {
    for bytes in [&b"%PDF-1.7"[..], b"{\"job\":1}", b"\0", b"PK\x03\x04"] {
        let error = refused("another file", || Record::load([bytes]));
        assert!(matches!(error, RecordError::NotARecord { .. }), "{error:?}");
    }
    assert_eq!(refused("nothing given", || Record::load([])), RecordError::Empty);
    assert_eq!(refused("no bytes", || new_record().apply(&[])), RecordError::Empty);
}

#[test]
fn a_saved_record_is_not_taken_for_a_change() {
    let other = record_of_everything().save();
    let error = refused("a record", || new_record().apply(&other)).to_string();
    assert!(error.contains("load it and merge it"), "{error}");
}

#[test]
fn a_change_whose_predecessor_is_missing_waits_and_is_named() {
    let mut record = new_record();
    let mut ahead = record.clone();
    let mut changes = Vec::new();
    for number in 0..3 {
        let id = format!("r{number}").into();
        let edit = Edit::AddReading { id, reading: reading("battery", "rest", "12.6 V") };
        changes.push(ahead.edit(&laptop(), NOON, edit).unwrap().unwrap());
    }
    let received = record.apply(&changes[2].bytes).unwrap();
    assert_eq!(received.added, []);
    assert_eq!(received.waiting, [changes[2].hash]);
    assert_eq!(received.missing, [changes[1].hash]);
    let (inspection, problems) = record.inspection();
    assert!(inspection.readings.is_empty());
    assert_eq!(
        problems[0].to_string(),
        format!(
            "record: 1 change(s) are here but not shown, because they wait for {}",
            changes[1].hash
        )
    );

    // It still waits after saving, and after an edit made meanwhile.
    let mut record = Record::load([record.save().as_slice()]).unwrap();
    assert_eq!(record.missing(), [changes[1].hash]);
    let edit = Edit::AddReading { id: "r9".into(), reading: reading("battery", "load", "11 V") };
    record.edit(&tablet(), NOON, edit).unwrap();
    assert_eq!(record.missing(), [changes[1].hash]);
    record.apply(&changes[1].bytes).unwrap();
    assert_eq!(record.missing(), [changes[0].hash]);
    let received = record.apply(&changes[0].bytes).unwrap();
    assert_eq!(received.added.len(), 3);
    assert_eq!(record.missing(), []);
    let (inspection, problems) = record.inspection();
    assert_eq!(problems, []);
    assert_eq!(inspection.readings.len(), 4);
}

/// A device that was set back to an old copy sees its own later work come back before it edits on.
#[test]
fn a_device_set_back_to_an_old_copy_may_not_edit_over_its_own_later_work() {
    let mut record = new_record();
    let mut ahead = record.clone();
    let reading = |id: &str| Edit::AddReading {
        id: id.into(),
        reading: reading("battery", "rest", "12.6 V"),
    };
    ahead.edit(&phone(), NOON, reading("r1")).unwrap();
    let later = ahead.edit(&phone(), NOON, reading("r2")).unwrap().unwrap();
    record.apply(&later.bytes).unwrap();
    let error = refused("an edit", || record.edit(&phone(), NOON, reading("r3")));
    assert!(matches!(error, RecordError::DeviceTwice { sequence: 3, .. }), "{error:?}");
    record.edit(&laptop(), NOON, reading("r3")).unwrap().unwrap();
}

#[test]
fn changes_without_the_jobs_beginning_are_refused_and_say_what_is_missing() {
    let record = small_record();
    let changes = record.changes_after(&[record.beginning()]);
    let error =
        refused("no beginning", || Record::load(changes.iter().map(|change| &change.bytes[..])));
    assert_eq!(error, RecordError::NoBeginning { waiting: 3, missing: vec![record.beginning()] });
    assert!(error.to_string().contains(&record.beginning().to_string()), "{error}");
}
