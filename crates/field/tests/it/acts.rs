//! Acts that are refused with a sentence, and what they leave.

use field::{Act, Answer, Entering, MemoSpoken, UnitSystem};
use inspection::{MemoId, Outcome, PointId};

use crate::visits::{demo_visit, minute};

fn enter(point: &str, reading: &str, position: &str, text: &str) -> Act {
    Act::Enter(Entering {
        point: point.into(),
        reading: reading.into(),
        position: position.into(),
        text: text.into(),
        ..Entering::default()
    })
}

fn check(act: &Act, key: &str) {
    let mut visit = demo_visit();
    let before = visit.inspection().clone();
    let said = visit.act(act.clone(), minute(0)).unwrap_err();
    assert_eq!(said.key, key, "{act:?}: {said}");
    assert_eq!(*visit.inspection(), before);
    let sentence = said.to_string();
    assert!(sentence.ends_with('.') && !sentence.contains('{') && sentence != key, "{sentence}");
}

#[test]
fn what_cannot_be_is_refused_with_a_sentence() {
    check(&enter("tyres", "pressure", "left_front", "sixty"), "refusal-no-quantity");
    check(&enter("tyres", "pressure", "left_front", "65 V"), "refusal-no-quantity");
    check(&enter("tyres", "pressure", "left_front", " "), "refusal-nothing-typed");
    check(&enter("tyres", "pressure", "bow", "65"), "refusal-no-such-place");
    check(&enter("tyres", "pressure", "", "65"), "refusal-no-such-place");
    check(&enter("tyres", "air", "left_front", "65"), "refusal-one-place");
    check(&enter("tyres", "alike", "", "perhaps"), "refusal-no-choice");
    check(&enter("tyres", "colour", "", "black"), "refusal-no-such-reading");
    check(&enter("wings", "span", "", "3 m"), "refusal-no-point");
    check(&enter("pin_weight", "any", "", "3 lb"), "refusal-point-not-here");
    check(&enter("voltage_drop", "loaded", "", "117 V"), "refusal-place-needs-name");
    let point = || PointId::from("tyres");
    let unreasoned = Answer::NotExamined { reason: "  ".into() };
    check(&Act::Answer { point: point(), answer: unreasoned }, "refusal-no-reason");
    check(
        &Act::See { point: point(), defect: "haunted".into(), position: String::new() },
        "refusal-no-defect",
    );
    check(&Act::StartWait { point: point() }, "refusal-no-wait");
    check(&Act::Confirm { key: "tyres/haunted".into() }, "refusal-no-finding");
    check(&Act::SetState { state: "moon_full".into() }, "refusal-no-state");
    check(&Act::Fit { equipment: "sails".into() }, "refusal-no-equipment");
}

#[test]
fn a_bare_number_is_stored_with_the_unit_on_the_key() {
    let mut visit = demo_visit();
    let metric = Act::Enter(Entering {
        point: "tyres".into(),
        reading: "pressure".into(),
        position: "left_front".into(),
        text: "448".into(),
        unit: "kPa".into(),
        instrument: None,
    });
    visit.act(metric, minute(0)).unwrap();
    let point = visit.point(&"tyres".into(), UnitSystem::Us).unwrap();
    let reading = point.readings.iter().find(|reading| reading.name == "pressure").unwrap();
    let entered = reading.pads[0].entered.as_ref().unwrap();
    assert_eq!(entered.entry, "448 kPa");
    // 448 kPa / 6.894757 kPa = 64.977 psi; usual uncertainty 0.5 psi, printed expanded.
    assert_eq!(entered.value.as_ref().unwrap().value, "65.0 psi ± 1.0 psi");
}

#[test]
fn not_fitted_and_a_reading_exclude_each_other() {
    let mut visit = demo_visit();
    let point = PointId::from("tyres");
    let not_fitted = Act::Answer { point: point.clone(), answer: Answer::NotFitted };
    visit.act(enter("tyres", "pressure", "left_front", "65"), minute(0)).unwrap();
    let said = visit.act(not_fitted.clone(), minute(1)).unwrap_err();
    assert_eq!(said.key, "refusal-fitted-after-all");
    visit.undo(minute(2)).unwrap();
    visit.act(not_fitted, minute(3)).unwrap();
    assert_eq!(visit.inspection().points[&point].outcome, Outcome::NotFitted);
    let said = visit.act(enter("tyres", "pressure", "left_front", "65"), minute(4)).unwrap_err();
    assert_eq!(said.key, "refusal-not-fitted");
}

fn spoken(digit: &str, point: &str, milliseconds: u64) -> Act {
    Act::AddMemo(MemoSpoken {
        id: MemoId(digit.repeat(64)),
        point: point.into(),
        media_type: "audio/webm;codecs=opus".into(),
        milliseconds,
        began: None,
    })
}

#[test]
fn a_voice_memo_stands_at_its_point_and_can_be_taken_back_and_struck_out() {
    let mut visit = demo_visit();
    let point = PointId::from("tyres");
    visit.act(spoken("b", "tyres", 4_001), minute(5)).unwrap();
    visit.act(spoken("a", "tyres", 1), minute(3)).unwrap();
    visit.act(spoken("c", "smoke_alarm", 2_000), minute(4)).unwrap();
    let rows = visit.memos(&point);
    let seen: Vec<(&str, u32)> = rows.iter().map(|row| (&row.id.0[..1], row.seconds)).collect();
    // In the order in which they were spoken, each second begun counted.
    assert_eq!(seen, [("a", 1), ("b", 5)]);
    assert_eq!((rows[0].media_type, rows[0].by.as_str()), ("audio/webm", "Dane Hollworth"));
    assert_eq!(visit.point(&point, UnitSystem::Us).unwrap().memos, rows);
    // A memo says nothing of what became of the point.
    assert!(!visit.inspection().points.contains_key(&point));

    let strike = Act::StrikeMemo { memo: rows[0].id.clone(), reason: "wrong unit".into() };
    visit.act(strike.clone(), minute(6)).unwrap();
    assert_eq!(visit.memos(&point), rows[1..]);
    assert_eq!(visit.act(strike, minute(6)).unwrap_err().key, "refusal-memo-struck");
    visit.undo(minute(7)).unwrap();
    assert_eq!(visit.memos(&point), rows);
    visit.redo(minute(8)).unwrap();
    assert_eq!(visit.memos(&point), rows[1..]);
    visit.undo(minute(9)).unwrap();
    visit.undo(minute(9)).unwrap();
    assert_eq!(visit.memos(&PointId::from("smoke_alarm")), []);
    assert_eq!(visit.inspection().memos.len(), 3, "nothing is deleted");
}

#[test]
fn a_recording_that_cannot_be_kept_is_refused_with_a_sentence() {
    let with_type = |media_type: &str| match spoken("a", "tyres", 2_000) {
        Act::AddMemo(memo) => Act::AddMemo(MemoSpoken { media_type: media_type.into(), ..memo }),
        other => other,
    };
    check(&with_type("video/webm"), "refusal-memo-type");
    check(&with_type(""), "refusal-memo-type");
    check(&spoken("a", "tyres", 0), "refusal-memo-empty");
    check(&spoken("a", "tyres", 3_600_001), "refusal-memo-long");
    check(&spoken("a", "wings", 2_000), "refusal-no-point");
    check(&Act::StrikeMemo { memo: "a".into(), reason: "x".into() }, "refusal-no-memo");
    check(&Act::StrikeMemo { memo: "a".into(), reason: " ".into() }, "refusal-no-reason");
    let mut visit = demo_visit();
    visit.act(spoken("a", "tyres", 2_000), minute(0)).unwrap();
    let said = visit.act(spoken("a", "tyres", 2_000), minute(1)).unwrap_err();
    assert_eq!(said.key, "refusal-memo-there");
}
