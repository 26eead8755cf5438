//! What a person writes: what a finding of their own begins with, and remarks on words while they are typed.

use field::view::{NewFinding, Remark, Target};
use field::{Act, FindingWritten, UnitSystem::Us, Visit};
use inspection::{PointId, TimeToAct, Use};
use testkit::{LOCKUP, TAPS};

use crate::spoken::spanish;
use crate::visits::{demo_visit, minute, visit_of};

#[test]
fn a_finding_of_ones_own_begins_with_what_most_defects_of_its_point_say() {
    let visit = visit_of(&[LOCKUP, TAPS]);
    let lockup = visit.new_finding(Some(&"lockup".into()));
    assert_eq!(
        lockup,
        NewFinding {
            point_title: "Regulator lock-up".into(),
            stops: vec![Use::Gas],
            when: TimeToAct::BeforeUse,
            who: "licensed gas fitter".into(),
        }
    );
    let taps = visit.new_finding(Some(&"taps".into()));
    assert_eq!((taps.stops, taps.who.as_str()), (vec![Use::Water], "plumber"));
    for none in [None, Some(&PointId::from("nowhere"))] {
        let begun = visit.new_finding(none);
        assert_eq!((begun.stops, begun.when, begun.who.as_str()), (vec![], TimeToAct::Soon, ""));
    }
}

/// Writes a finding as it is offered at this point, with this name for whom to call; as it is recorded, and as it is shown.
fn written(visit: &mut Visit, point: &PointId, who: &str) -> (String, String) {
    let begun = visit.new_finding(Some(point));
    let written = FindingWritten {
        point: Some(point.clone()),
        title: "Wasps".into(),
        statement: "Wasps live in it.".into(),
        stops: begun.stops,
        when: begun.when,
        who: who.into(),
        photos: Vec::new(),
    };
    visit.act(Act::WriteFinding(written), minute(1)).unwrap();
    let recorded = visit.inspection().findings.values().next().unwrap().who.clone();
    let shown = visit.findings(Us).into_iter().find(|row| row.title == "Wasps").unwrap().who;
    (recorded, shown)
}

#[test]
fn whom_to_call_is_offered_in_the_language_shown_and_recorded_in_the_plans() {
    let point = PointId::from("regulator_lockup");
    let english = demo_visit().new_finding(Some(&point)).who;
    let mut visit = demo_visit();
    visit.speak(Some(&spanish()));
    let offered = visit.new_finding(Some(&point)).who;
    assert!(!offered.is_empty());
    assert_ne!(offered, english);
    assert_eq!(written(&mut visit, &point, &offered), (english, offered));
    // A person's own words stay as they are in any language.
    let mut visit = demo_visit();
    visit.speak(Some(&spanish()));
    let own = ("mi primo {el}".to_owned(), "mi primo {el}".to_owned());
    assert_eq!(written(&mut visit, &point, "mi primo {el}"), own);
}

#[test]
fn what_promises_too_much_is_said_while_it_is_typed() {
    let target = Target::Point("lockup".into());
    let found = Remark::on_typed("I guarantee that it is safe.", "text-note", &target);
    let said: Vec<_> =
        found.iter().map(|one| (one.place.to_string(), one.what.to_string())).collect();
    let note = || "note".to_owned();
    assert_eq!(
        said,
        [
            (note(), "“guarantee” promises a guarantee, and no inspection can".to_owned()),
            (note(), "“safe” promises that it is safe, and no inspection can".to_owned()),
        ]
    );
    assert!(found.iter().all(|one| one.target == target));
    assert_eq!(Remark::on_typed("It locks up.", "text-note", &target), []);
    // Entered, it says the same of the same place.
    let mut visit = visit_of(&[LOCKUP]);
    let text = "I guarantee that it is safe.".to_owned();
    visit.act(Act::Note { point: "lockup".into(), text }, minute(1)).unwrap();
    let entered = visit.remarks(&[]);
    let same = |one: &Remark| (one.place.clone(), one.what.clone(), one.target.clone());
    assert_eq!(
        entered.iter().map(same).collect::<Vec<_>>(),
        found.iter().map(same).collect::<Vec<_>>()
    );
}
