//! Findings that were merged, photos that do not show one, and decisions that were taken back.

use inspection::{FindingState, RecordedFinding};
use record::{Edit, Record, RecordError};

use crate::fixtures::*;

fn merged() -> RecordedFinding {
    RecordedFinding {
        draft: Some("cladding/dent".into()),
        photos: vec!["a".repeat(64).into()],
        photos_out: vec!["b".repeat(64).into(), "c".repeat(64).into()],
        state: FindingState::Merged { into: "cladding/puncture".into() },
        ..finding("Dent")
    }
}

fn add(record: &mut Record, finding: RecordedFinding) {
    let edit = Edit::AddFinding { id: "f9".into(), finding: Box::new(finding) };
    record.edit(&phone(), NOON, edit).unwrap().unwrap();
}

#[test]
fn a_merged_finding_reads_back_as_it_was_kept() {
    let mut record = record_of_everything();
    let (before, _) = record.inspection();
    add(&mut record, merged());
    let (mut after, problems) = Record::load([record.save().as_slice()]).unwrap().inspection();
    assert_eq!(problems, []);
    assert_eq!(after.findings.remove("f9"), Some(merged()));
    assert_eq!(after, before);
}

#[test]
fn a_key_of_two_lines_is_refused() {
    let mut record = new_record();
    let state = FindingState::Merged { into: "two\nlines".into() };
    let finding = Box::new(RecordedFinding { state, ..merged() });
    let refused = record.edit(&phone(), NOON, Edit::AddFinding { id: "f9".into(), finding });
    assert!(matches!(refused, Err(RecordError::Refused(said)) if said.contains("line break")));
}

#[test]
fn a_decision_that_was_taken_back_is_gone_and_can_be_restored() {
    let mut record = new_record();
    add(&mut record, merged());
    let clear = Edit::ClearFinding { id: "f9".into(), before: Box::new(merged()) };
    record.edit(&phone(), NOON, clear).unwrap().unwrap();
    assert!(record.inspection().0.findings.is_empty());
    let restore = |finding| Edit::RestoreFinding { id: "f9".into(), finding: Box::new(finding) };
    record.edit(&phone(), NOON, restore(merged())).unwrap().unwrap();
    assert_eq!(record.inspection().0.findings["f9"], merged());
    let refused = record.edit(&phone(), NOON, restore(merged())).unwrap_err();
    assert!(refused.to_string().contains("was not taken back"), "{refused}");
    let said: Vec<String> = record.trail().into_iter().map(|entry| entry.message).collect();
    assert!(said[2].contains("took back the decision on the finding “Dent”"), "{said:?}");
}

#[test]
fn what_a_person_wrote_is_withdrawn_and_not_cleared() {
    let mut record = new_record();
    let own = RecordedFinding { draft: None, ..merged() };
    add(&mut record, own.clone());
    let clear = Edit::ClearFinding { id: "f9".into(), before: Box::new(own) };
    let refused = record.edit(&phone(), NOON, clear).unwrap_err();
    assert!(refused.to_string().contains("withdrawn, with the reason"), "{refused}");
}
