//! Voice memos: kept at their point, struck out and taken back in, merged, and no trouble to anybody else.

use automerge::{AutomergeError, ROOT, ReadDoc as _, transaction::Transactable as _};
use inspection::{Memo, MemoId, PointId, StruckOut};
use record::{Edit, Record};

use crate::fixtures::*;

fn memo_id(digit: char) -> MemoId {
    MemoId(digit.to_string().repeat(64))
}

fn memo(point: &str, seconds: u32) -> Memo {
    Memo {
        point: point.into(),
        media_type: "audio/webm".into(),
        seconds,
        at: Some(moment("2026-06-12T09:41:07-07:00")),
        by: "Rosa Field".into(),
        struck_out: None,
    }
}

fn added(digit: char, memo: Memo) -> Edit {
    Edit::AddMemo { id: memo_id(digit), memo }
}

#[test]
fn a_memo_reads_back_as_it_was_kept_and_changes_nothing_else() {
    let mut record = record_of_everything();
    let (before, _) = record.inspection();
    let odd = "odd %/ point";
    record.edit(&phone(), NOON, added('a', memo("tyres", 12))).unwrap().unwrap();
    record.edit(&phone(), NOON, added('b', memo(odd, 300))).unwrap().unwrap();
    let (mut after, problems) = Record::load([record.save().as_slice()]).unwrap().inspection();
    assert_eq!(problems, []);
    assert_eq!(after.memos[&memo_id('a')], memo("tyres", 12));
    assert_eq!(after.memos[&memo_id('b')], memo(odd, 300));
    // A point of which nothing else was said has no entry.
    assert!(!after.points.contains_key(&PointId::from(odd)));
    after.memos.clear();
    assert_eq!(after, before);
}

#[test]
fn a_struck_out_memo_stays_in_the_record_and_can_stand_again() {
    let mut record = new_record();
    let point = PointId::from("tyres");
    record.edit(&phone(), NOON, added('a', memo("tyres", 12))).unwrap();
    let (strike, id) = ("spoken at the wrong unit", memo_id('a'));
    let edit =
        Edit::StrikeOutMemo { point: point.clone(), id: id.clone(), reason: strike.to_owned() };
    record.edit(&laptop(), NOON + 60, edit).unwrap();
    let (inspection, problems) = record.inspection();
    assert_eq!(problems, []);
    let out = StruckOut { reason: strike.to_owned(), by: "Jan Desk".to_owned() };
    assert_eq!(inspection.memos[&id], Memo { struck_out: Some(out), ..memo("tyres", 12) });
    let edit = Edit::RestoreMemo { point, id: id.clone() };
    record.edit(&phone(), NOON + 120, edit).unwrap();
    assert_eq!(record.inspection().0.memos[&id], memo("tyres", 12));
    let trail: Vec<String> = record.trail().into_iter().map(|entry| entry.message).collect();
    assert_eq!(
        trail[trail.len() - 3..],
        [
            "tyres: added a voice memo of 12 s",
            "tyres: struck out a voice memo: spoken at the wrong unit",
            "tyres: let a voice memo stand again"
        ]
    );
}

#[test]
fn two_devices_that_speak_at_one_point_at_once_both_keep_their_memo() {
    let mut one = new_record();
    let mut other = one.clone();
    one.edit(&phone(), NOON, added('a', memo("tyres", 12))).unwrap();
    other.edit(&laptop(), NOON, added('b', memo("tyres", 7))).unwrap();
    one.merge(&other).unwrap();
    other.merge(&one).unwrap();
    let (inspection, problems) = one.inspection();
    assert_eq!(problems, []);
    assert_eq!(inspection.memos.len(), 2);
    assert_eq!(inspection, other.inspection().0);
    assert_eq!(one.conflicts(), []);
}

#[test]
fn what_is_no_memo_is_refused_with_a_sentence() {
    let mut record = new_record();
    record.edit(&phone(), NOON, added('a', memo("tyres", 12))).unwrap();
    let mut check = |edit: Edit, words: &str| {
        let said = record.edit(&phone(), NOON, edit).unwrap_err().to_string();
        assert!(said.contains(words), "{said}");
    };
    check(added('a', memo("tyres", 3)), "already");
    check(added('a', memo("furnace", 3)), "already");
    check(added('b', memo("tyres", 0)), "at least one");
    check(added('b', Memo { media_type: "text/html".into(), ..memo("tyres", 3) }), "audio/mp4");
    check(added('b', Memo { by: "two\nlines".into(), ..memo("tyres", 3) }), "one line");
    let (point, id) = (PointId::from("tyres"), memo_id('b'));
    check(Edit::RestoreMemo { point: point.clone(), id: id.clone() }, "no voice memo");
    check(Edit::RestoreMemo { point: point.clone(), id: memo_id('a') }, "not struck out");
    let strike = |id, reason: &str| Edit::StrikeOutMemo {
        point: point.clone(),
        id,
        reason: reason.to_owned(),
    };
    check(strike(id, "why"), "no voice memo");
    check(strike(memo_id('a'), " "), "say why");
}

#[test]
fn a_memo_that_cannot_be_read_is_told_and_the_rest_is_read() {
    let mut doc = automerge::Automerge::load(&record_of_everything().save()).unwrap();
    doc.set_actor(automerge::ActorId::from([0x99; 16]));
    let (good, bad) = ("a".repeat(64), "b".repeat(64));
    doc.transact(|doc| {
        let (_, points) = doc.get(ROOT, "points")?.ok_or(AutomergeError::NotAnObject)?;
        doc.put(&points, format!("tyres/memo/{good}"), "\nRosa Field\naudio/ogg\n5")?;
        doc.put(&points, format!("tyres/memo/{bad}"), "\nRosa Field\naudio/ogg\nlong")?;
        doc.put(&points, format!("tyres/memo_out/{bad}"), "Rosa Field\nwhy")
    })
    .unwrap();
    let (inspection, problems) = Record::load([&doc.save()[..]]).unwrap().inspection();
    assert_eq!(inspection.memos.len(), 1);
    assert_eq!(inspection.memos[&memo_id('a')].seconds, 5);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].contains("cannot be read") && told[1].contains("struck out"), "{told:?}");
}
