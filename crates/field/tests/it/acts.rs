//! Acts that are refused with a sentence, and what they leave.

use field::{Act, Answer, Entering, UnitSystem};
use inspection::{Outcome, PointId};

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
