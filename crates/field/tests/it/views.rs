//! What the screens show.

use field::view::{PointState, WaitState};
use field::{Act, Answer, Entering, Now, UnitSystem, Visit};
use inspection::{PointId, Use};
use jiff::civil::date;

use crate::demo_sheet::script;
use crate::visits::{demo_sheet, demo_visit, minute};

fn us() -> UnitSystem {
    UnitSystem::Us
}

#[test]
fn an_alarm_holds_after_a_restart_and_in_another_time_zone() {
    let mut visit = demo_visit();
    let point = PointId::from("gas_leak_check");
    visit.act(Act::StartWait { point: point.clone() }, minute(0)).unwrap();
    let changes: Vec<Vec<u8>> =
        visit.record().changes_after(&[]).into_iter().map(|change| change.bytes).collect();
    drop(visit);
    let again = Visit::open(&changes, crate::visits::author()).unwrap();
    // The plan: at least 10 minutes, at most 30.
    let at = |minutes: i64| again.waits(minute(minutes)).remove(0);
    assert_eq!((at(4).state, at(4).seconds_left), (WaitState::Running, 360));
    assert_eq!(at(4).ends_unix_seconds, minute(10).unix_seconds);
    assert_eq!((at(10).state, at(10).over), (WaitState::Over, true));
    assert_eq!(at(31).state, WaitState::TooLong);
    let moment = inspection::Moment::parse("2026-06-11T15:04:00+02:00").unwrap();
    let elsewhere = Now { moment, ..minute(4) };
    assert_eq!(again.waits(elsewhere).remove(0).seconds_left, 360);
    assert!(again.point_row(&point).unwrap().waiting);
}

#[test]
fn a_point_warns_of_a_site_state_that_is_not_so() {
    let mut visit = demo_visit();
    let lockup = PointId::from("regulator_lockup");
    let needs = |visit: &Visit| visit.point(&lockup, us()).unwrap().needs;
    assert_eq!(needs(&visit)[0].id, "gas_on");
    assert!(!needs(&visit)[0].known);
    visit.act(Act::SetState { state: "gas_off".into() }, minute(0)).unwrap();
    assert!(needs(&visit)[0].known);
    visit.act(Act::SetState { state: "gas_on".into() }, minute(1)).unwrap();
    assert_eq!(needs(&visit), []);
    let row = visit.states().into_iter().find(|row| row.id == "gas_on").unwrap();
    assert_eq!(row.holds, Some(true));
    assert!(row.needed_by > 5 && row.against > 0, "{row:?}");
    assert!(!visit.states().iter().any(|row| row.id.ends_with("_off")));
    // What comes before it and is not done is said too.
    let after = visit.point(&lockup, us()).unwrap().after;
    assert_eq!(after[0].0.as_str(), "gas_leak_check");
}

#[test]
fn the_line_counts_what_is_done_and_leads_to_the_next_point() {
    let mut visit = demo_visit();
    let line = visit.line(us());
    assert_eq!(line.done, 0);
    assert_eq!(line.left, visit.points().count());
    let first = line.next.unwrap();
    assert_eq!(first.as_str(), visit.points().next().unwrap().id);
    visit.act(Act::Answer { point: first.clone(), answer: Answer::NotFitted }, minute(0)).unwrap();
    let line = visit.line(us());
    assert_eq!(line.done, 1);
    assert_ne!(line.next, Some(first.clone()));
    assert_eq!(visit.next_after(&first), line.next);
    // A point whose wait runs is passed over.
    let next = PointId::from("waste_tanks_hold");
    visit.act(Act::StartWait { point: next.clone() }, minute(1)).unwrap();
    assert_eq!(visit.point_row(&next).unwrap().state, PointState::Begun);
    assert_ne!(visit.next_after(&PointId::from("dump_valves")), Some(next));
}

#[test]
fn the_opening_page_brings_what_the_points_of_this_unit_measure_with() {
    let mut visit = demo_visit();
    let day = date(2026, 6, 11);
    let keys =
        |visit: &Visit| -> Vec<&str> { visit.kit(day).into_iter().map(|item| item.key).collect() };
    assert!(keys(&visit).contains(&"kit-manometer"));
    let points = visit.opening(day, us()).points;
    for equipment in ["gas", "gas_cylinders", "furnace", "range", "oven", "water_heater"] {
        visit.act(Act::Unfit { equipment: equipment.into() }, minute(1)).unwrap();
    }
    assert!(!keys(&visit).contains(&"kit-manometer"), "{:?}", keys(&visit));
    let opening = visit.opening(day, us());
    assert!(opening.points < points);
    assert_eq!(opening.unit, "Quillhaven Coach Works Plover 26RB");
    assert!(opening.cautions.len() >= 3);
}

#[test]
fn an_overdue_instrument_is_said_before_leaving_home() {
    let mut visit = demo_visit();
    for (act, now) in script(&visit, &demo_sheet(), false).acts {
        visit.act(act, now).unwrap();
    }
    let kit = visit.kit(date(2026, 6, 11));
    let overdue: Vec<&str> =
        kit.iter().filter(|item| item.out_of_calibration()).map(|item| item.key).collect();
    assert_eq!(overdue, ["kit-torque-wrench"]);
    // And the instrument last used is offered again.
    let point = visit.point(&"regulator_lockup".into(), us()).unwrap();
    assert_eq!(point.readings[0].instrument, Some("manometer".into()));
}

#[test]
fn search_finds_points_readings_and_findings_by_the_beginning_of_any_word() {
    let mut visit = demo_visit();
    for (act, now) in script(&visit, &demo_sheet(), false).acts {
        visit.act(act, now).unwrap();
    }
    let check = |text: &str, title: &str| {
        let hits = visit.search(text, us());
        assert!(hits.iter().any(|hit| hit.title.contains(title)), "{text}: {hits:?}");
    };
    check("lock-up", "Regulator lock-up pressure");
    check("LOCK regul", "Regulator lock-up pressure");
    check("galley 11", "drop");
    check("quillhaven", "");
    assert_eq!(visit.search("  ", us()), []);
    assert_eq!(visit.search("ulator", us()).len(), 0, "only from the beginning of a word");
    assert_eq!(visit.search("xylophone", us()), []);
}

#[test]
fn what_keeps_a_use_open_comes_first_and_leaves_the_list_when_done() {
    let mut visit = demo_visit();
    let left = visit.left(us());
    assert!(left.essential.iter().all(|row| !row.keeps_open.is_empty()));
    assert!(left.essential.iter().any(|row| row.keeps_open.contains(&Use::Gas)));
    let before = left.essential.len();
    let point = PointId::from("regulator_lockup");
    visit
        .act(
            Act::Enter(Entering {
                point: point.clone(),
                reading: "lockup".into(),
                text: "12.7".into(),
                ..Entering::default()
            }),
            minute(0),
        )
        .unwrap();
    assert_eq!(visit.left(us()).essential.len(), before, "a reading alone is no answer");
    visit.act(Act::Answer { point, answer: Answer::Examined }, minute(1)).unwrap();
    // The photo that the point wants is missing still, and keeps no use open.
    assert_eq!(visit.left(us()).essential.len(), before - 1);
}

#[test]
fn a_middle_axle_has_pads_only_where_there_is_one() {
    let mut visit = demo_visit();
    let places = |visit: &Visit| -> usize {
        let point = visit.point(&"tyres".into(), us()).unwrap();
        point.readings.iter().find(|reading| reading.name == "pressure").unwrap().pads.len()
    };
    assert_eq!(places(&visit), 7, "nobody said how many axles there are");
    for (axles, pads) in [(2, 5), (3, 7)] {
        let mut after = Box::new(visit.inspection().dwelling.clone());
        after.outline.axles = axles;
        visit.act(Act::ChangeUnit { after }, minute(i64::from(axles))).unwrap();
        assert_eq!(places(&visit), pads);
    }
}
