//! The trail: who changed what, when, chained by hashes.

use record::{Edit, Record};
use sha2::{Digest, Sha256};

use crate::fixtures::*;

#[test]
fn the_trail_says_who_did_what_when_on_which_device() {
    let mut record = new_record();
    let edit = Edit::AddReading { id: "r1".into(), reading: reading("battery", "rest", "12.6 V") };
    record.edit(&laptop(), NOON + 90, edit).unwrap();
    let edit = Edit::StrikeOutReading { id: "r1".into(), reason: "charger was on".into() };
    record.edit(&tablet(), NOON + 180, edit).unwrap();
    let lines: Vec<_> = record
        .trail()
        .iter()
        .map(|entry| {
            let seconds = entry.at_unix_seconds - NOON;
            format!("{} {} +{seconds} s: {}", &entry.device[..4], entry.person, entry.message)
        })
        .collect();
    assert_eq!(
        lines,
        [
            "1111 Rosa Field +0 s: made the job",
            "2222 Jan Desk +90 s: battery: read rest as 12.6 V",
            "3333 Rosa Field +180 s: struck out reading r1: charger was on",
        ]
    );
}

/// An auditor needs SHA-256 alone: each change's name is the hash of its bytes from the ninth on, and
/// names the changes before it.
#[test]
fn each_change_is_hashed_with_those_before_it() {
    let record = record_of_everything();
    let changes = record.changes_after(&[]);
    assert_eq!(changes.len(), 1 + edits_of_everything().len());
    let mut seen = std::collections::BTreeSet::new();
    for change in &changes {
        let digest: [u8; 32] = Sha256::digest(&change.bytes[8..]).into();
        assert_eq!(digest, change.hash.0);
        for dep in &change.deps {
            assert!(seen.contains(dep), "{dep} comes before {}", change.hash);
            assert!(
                change.bytes.windows(32).any(|window| window == dep.0),
                "the predecessor's name is part of what is hashed"
            );
        }
        assert_eq!(change.deps.is_empty(), change.hash == record.beginning());
        seen.insert(change.hash);
    }
}

#[test]
fn the_trail_is_in_the_same_order_on_every_device() {
    let mut one = new_record();
    let mut other = one.clone();
    for number in 0..4 {
        let edit = |side: &str| Edit::AddReading {
            id: format!("{side}{number}").into(),
            reading: reading("battery", "rest", "12.6 V"),
        };
        one.edit(&laptop(), NOON + number, edit("one")).unwrap();
        other.edit(&tablet(), NOON + number, edit("other")).unwrap();
    }
    let mut merged = one.clone();
    merged.merge(&other).unwrap();
    other.merge(&one).unwrap();
    assert_eq!(merged.trail(), other.trail());
    assert_eq!(merged.trail().len(), 9);
    let saved = Record::load([merged.save().as_slice()]).unwrap();
    assert_eq!(saved.trail(), other.trail());
}
