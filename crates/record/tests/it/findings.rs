//! Findings that were merged, photos that do not show one, and decisions that were taken back.

use inspection::{Carried, EarlierJob, FindingState, Photo, Recheck, RecheckMark, RecordedFinding};
use record::{Edit, Record, RecordError, RefusalKind};

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
    assert!(
        matches!(refused, Err(RecordError::Refused(said)) if said.kind == RefusalKind::LineBreak)
    );
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

fn carried(recheck: Option<Recheck>) -> RecordedFinding {
    let at = Some(moment("2026-08-03T10:00:00-07:00"));
    let mark = recheck.map(|recheck| {
        let looked_at = !matches!(recheck, Recheck::NotSeen { .. });
        let note = if looked_at { "New sealant.\nDry today.".into() } else { String::new() };
        RecheckMark { recheck, note, by: "Rosa Field".into(), at }
    });
    RecordedFinding {
        carried: Some(Carried {
            number: 12,
            key: "cladding/dent".into(),
            position: "left front, right rear".into(),
            title: "Dent".into(),
            statement: "A dent.\nOf two lines.".into(),
            photos: vec!["b".repeat(64).into(), "a".repeat(64).into()],
            mark,
        }),
        ..finding("Dent")
    }
}

#[test]
fn a_carried_finding_reads_back_whatever_became_of_it() {
    let not_seen = Recheck::NotSeen { reason: "locked.\nNo key.".into() };
    for recheck in [None, Some(Recheck::Corrected), Some(Recheck::NotCorrected), Some(not_seen)] {
        let mut record = new_record();
        add(&mut record, carried(recheck.clone()));
        let (inspection, problems) = Record::load([record.save().as_slice()]).unwrap().inspection();
        assert_eq!(problems, []);
        assert_eq!(inspection.findings["f9"], carried(recheck));
    }
    let mut record = new_record();
    let unreasoned = carried(Some(Recheck::NotSeen { reason: " ".into() }));
    let edit = Edit::AddFinding { id: "f9".into(), finding: Box::new(unreasoned) };
    assert!(record.edit(&phone(), NOON, edit).unwrap_err().to_string().contains("not seen"));
}

#[test]
fn two_devices_that_say_at_once_what_became_of_it_are_a_conflict_and_not_a_mixture() {
    let mut here = new_record();
    add(&mut here, carried(None));
    let mut there = here.clone();
    let mark = |record: &mut Record, author: &record::Author, recheck| {
        let edit = Edit::ChangeFinding {
            id: "f9".into(),
            before: Box::new(carried(None)),
            after: Box::new(carried(Some(recheck))),
        };
        record.edit(author, NOON + 60, edit).unwrap().unwrap();
    };
    mark(&mut here, &phone(), Recheck::Corrected);
    mark(&mut there, &tablet(), Recheck::NotSeen { reason: "dark".into() });
    here.merge(&there).unwrap();
    there.merge(&here).unwrap();
    assert_eq!(here.inspection(), there.inspection());
    assert_eq!(here.conflicts().len(), 1);
    let said: Vec<String> = here.trail().into_iter().map(|entry| entry.message).collect();
    assert!(said.iter().any(|it| it == "the finding “Dent”: corrected"), "{said:?}");
}

#[test]
fn the_earlier_job_and_its_photos_read_back() {
    let mut record = new_record();
    let earlier = EarlierJob {
        number: "2026-001".into(),
        visited: Some("2026-06-12".parse().unwrap()),
        heads: vec!["c".repeat(64).as_str().into(), "d".repeat(64).as_str().into()],
        release: Some((2, "e".repeat(64))),
    };
    let after = inspection::Job { earlier: Some(earlier), ..job() };
    let change = Edit::ChangeJob { before: Box::new(job()), after: Box::new(after.clone()) };
    record.edit(&phone(), NOON, change).unwrap().unwrap();
    let of_then = Photo { earlier: "2026-001".into(), ..photo("a.jpg") };
    let id: inspection::PhotoId = "a".repeat(64).into();
    let add = Edit::AddPhoto { id: id.clone(), photo: Box::new(of_then.clone()) };
    record.edit(&phone(), NOON, add).unwrap().unwrap();
    let (inspection, problems) = Record::load([record.save().as_slice()]).unwrap().inspection();
    assert_eq!(problems, []);
    assert_eq!(inspection.job, after);
    assert_eq!(inspection.photos[&id], of_then);
}
