//! The plan that ships with the program, for every kind of unit: it can be scheduled, and better than walked.

use std::collections::BTreeSet;

use inspection::{DwellingKind, Inspection, Outcome, PointEntry, SiteStateChange, Wait};
use jiff::civil::{DateTime, date};
use plan::{Files, Plan};
use schedule::{
    Budget, Circumstances, Person, Preference, Schedule, Task, Visit, calendar, explanation,
    in_order, kit, lower_bound, note_for_the_owner, plan as schedule_of, prepare, running_waits,
    timeline, validate,
};

fn library() -> plan::Library {
    plan::load(&Files::embedded()).unwrap()
}

fn nine() -> DateTime {
    date(2026, 6, 12).at(9, 0, 0, 0)
}

fn person(name: &str) -> Person {
    Person { name: name.to_owned(), skills: Vec::new() }
}

fn day() -> Circumstances {
    Circumstances {
        start: nine(),
        now: nine(),
        light: None,
        dry: None,
        owner: None,
        people: vec![person("inspector")],
    }
}

fn unit(kind: DwellingKind, equipment: BTreeSet<String>) -> Inspection {
    let mut inspection = Inspection::default();
    inspection.dwelling.kind = kind;
    inspection.dwelling.equipment = equipment;
    inspection
}

/// The visit to a unit as it usually is.
fn usual(kind: DwellingKind) -> (Plan, Inspection, Visit) {
    let library = library();
    let plan = library.plan("purchase").unwrap();
    let inspection = unit(kind, library.typical(kind));
    let visit = prepare(&plan, &inspection, &day()).unwrap_or_else(|faults| panic!("{faults:#?}"));
    (plan, inspection, visit)
}

fn scheduled(visit: &Visit, decodes: u32) -> Schedule {
    let budget = Budget { decodes, seed: 1 };
    let found = schedule_of(&visit.problem, &visit.progress, Preference::FinishSoonest, budget);
    assert_eq!(validate(&visit.problem, &visit.progress, &found), []);
    found
}

/// When a list on paper ends, the better way to work by it.
fn walked(visit: &Visit) -> Schedule {
    let in_order = |order: &[Task]| in_order(&visit.problem, &visit.progress, order);
    let one = in_order(visit.walking_order());
    let other = in_order(&visit.walking_order_with_returns_last());
    [one, other].into_iter().min_by_key(|one| (one.penalty, one.finish)).unwrap()
}

#[test]
fn every_kind_of_unit_is_scheduled_and_sooner_done_than_walked() {
    for kind in DwellingKind::ALL {
        let (_, _, visit) = usual(kind);
        let found = scheduled(&visit, 30_000);
        let walked = walked(&visit);
        println!(
            "{}: {} acts, hands-on {}, scheduled {}, walked {} (penalty {}), switches {} and {}",
            kind.word(),
            visit.problem.acts.len(),
            visit.problem.hands_on(),
            found.finish,
            walked.finish,
            walked.penalty,
            found.switches,
            walked.switches,
        );
        assert!(found.finish + 60 < walked.finish, "{}: less than half an hour saved", kind.word());
    }
}

#[test]
fn the_whole_plan_states_its_gap() {
    let library = library();
    let plan = library.plan("purchase").unwrap();
    // Everything that can be fitted, and nothing that keeps another point away.
    let mut equipment: BTreeSet<String> =
        plan.points.iter().flat_map(|point| point.fitted.iter().cloned()).collect();
    for without in plan.points.iter().flat_map(|point| &point.not_fitted) {
        equipment.remove(without);
    }
    let visits = DwellingKind::ALL
        .map(|kind| prepare(&plan, &unit(kind, equipment.clone()), &day()).unwrap());
    let visit = visits.into_iter().max_by_key(|visit| visit.problem.acts.len()).unwrap();
    // As many orders as the command line tries.
    let found = scheduled(&visit, Budget::default().decodes);
    let bound = lower_bound(&visit.problem, &visit.progress, Some(&found), 150_000);
    println!("{} acts, {} half minutes, {bound:?}", visit.problem.acts.len(), found.finish);
    assert!(visit.problem.acts.len() > 150);
    assert!(bound.finish <= found.finish);
    // Within 4 %, and said in words.
    assert!(100 * found.finish <= 104 * bound.finish, "{} {bound:?}", found.finish);
    assert!(bound.gap_in_words(&found).contains("best possible"));
}

#[test]
fn dangerous_steps_come_after_what_makes_them_safe() {
    let (plan, _, visit) = usual(DwellingKind::TravelTrailer);
    let found = scheduled(&visit, 5_000);
    let start = |id: &str| found.step_of(id).unwrap().start;
    let gas_on = Task::Change { state: "gas".to_owned(), to: "on".to_owned() };
    let gas_on = found.steps.iter().find(|step| step.task == gas_on).unwrap();
    for before in ["gas_smell", "gas_hoses", "gas_alarm", "carbon_monoxide_alarm"] {
        if plan.point(before).is_some() && visit.problem.act(before).is_some() {
            assert!(start(before) < gas_on.start, "{before}");
        }
    }
    for point in &plan.points {
        let first = point.id != "gas_leak_check" && visit.problem.act(&point.id).is_some();
        if first && point.needs.iter().any(|need| need == "gas_on") {
            assert!(start("gas_leak_check.return") < start(&point.id), "{}", point.id);
        }
    }
    for act in &visit.problem.acts {
        let away = act.place == "papers" || act.place == "site";
        if !away && act.id != "gas_smell" {
            assert!(start("gas_smell") < start(&act.id), "{}", act.id);
        }
        let before = ["gas_smell", "pedestal", "cord_and_inlet", "skin_voltage"];
        if !away && !before.contains(&act.id.as_str()) {
            assert!(start("skin_voltage") < start(&act.id), "{}", act.id);
        }
    }
    let told = explanation(&visit, &found);
    let caution = told.find("the pedestal tested before the plug goes in").unwrap();
    assert!(caution < told.find("shore power on: ").unwrap(), "the caution comes first");
}

#[test]
fn light_and_owner_bind_what_they_concern() {
    let library = library();
    let plan = library.plan("purchase").unwrap();
    let kind = DwellingKind::TravelTrailer;
    let mut circumstances = day();
    circumstances.light = Some((nine(), date(2026, 6, 12).at(20, 30, 0, 0)));
    let from = date(2026, 6, 12).at(10, 0, 0, 0);
    circumstances.owner = Some((from, date(2026, 6, 12).at(11, 0, 0, 0)));
    let visit = prepare(&plan, &unit(kind, library.typical(kind)), &circumstances).unwrap();
    let found = scheduled(&visit, 20_000);
    for step in &found.steps {
        if step.place == "papers" {
            assert!(step.start >= 120 && step.end <= 240, "{step:?}");
        }
        if matches!(step.task, Task::Act(_)) && matches!(step.place.as_str(), "roof" | "wheels") {
            assert!(step.end <= 1380, "{step:?}");
        }
    }
}

#[test]
fn what_the_record_says_is_not_planned_again() {
    let library = library();
    let plan = library.plan("purchase").unwrap();
    let kind = DwellingKind::TravelTrailer;
    let mut inspection = unit(kind, library.typical(kind));
    let entry = |outcome: Outcome| PointEntry {
        outcome,
        defects: Vec::new(),
        notes: String::new(),
        by: String::new(),
        at: None,
    };
    let reason = "no gauge".to_owned();
    inspection.points.insert("tyres".into(), entry(Outcome::Examined));
    inspection.points.insert("gas_leak_check".into(), entry(Outcome::NotExamined { reason }));
    inspection.points.insert("range".into(), entry(Outcome::NotFitted));
    let moment = |text: &str| inspection::Moment::parse(text).ok();
    inspection.waits.insert(
        "w1".into(),
        Wait {
            point: "refrigerator".into(),
            started: moment("2026-06-12T07:30"),
            ended: None,
            by: String::new(),
        },
    );
    inspection.site_states.push(SiteStateChange {
        state: "shore_power_on".to_owned(),
        on: true,
        at: None,
        by: String::new(),
    });
    inspection.site_states.push(SiteStateChange {
        state: "unit_level".to_owned(),
        on: true,
        at: None,
        by: String::new(),
    });
    let mut circumstances = day();
    circumstances.now = date(2026, 6, 12).at(9, 40, 0, 0);
    let visit = prepare(&plan, &inspection, &circumstances).unwrap();
    assert_eq!(visit.progress.states["shore_power"], "on");
    let running = running_waits(&visit.problem, &visit.progress);
    assert_eq!(running.len(), 1);
    assert_eq!(visit.time(running[0].earliest), date(2026, 6, 12).at(9, 30, 0, 0));
    let found = scheduled(&visit, 5_000);
    assert!(found.steps.iter().all(|step| step.start >= 80));
    assert!(found.step_of("tyres").is_none() && found.step_of("refrigerator").is_none());
    assert!(found.step_of("refrigerator.return").is_some());
    assert!(found.step_of("furnace").is_none(), "a burner without a leak check");
    assert!(visit.problem.act("range").is_none());
}

#[test]
fn people_read_a_timeline_a_note_and_a_kit_list() {
    let (plan, _, visit) = usual(DwellingKind::TravelTrailer);
    let found = scheduled(&visit, 5_000);
    let text = timeline(&visit, &found);
    assert!(text.contains("\n  09:0") && text.contains("\nRoof\n"), "{text}");
    assert!(text.contains("\nwaits\n") && text.contains("leave alone:"), "{text}");
    let note = note_for_the_owner(&visit, &found);
    assert!(
        note.iter().any(|line| line.contains("the day before") && line.contains("Refrigerator"))
    );
    assert!(note.iter().any(|line| line.contains("shore power")));
    let kit = kit(&plan, &visit);
    assert!(kit.iter().any(|one| one.name == "multimeter" && one.points.len() > 3), "{kit:?}");
}

/// RFC 5545 as an outside library reads it.
#[test]
fn the_calendar_is_read_by_an_outside_library() {
    let (_, _, visit) = usual(DwellingKind::TravelTrailer);
    let found = scheduled(&visit, 5_000);
    let stamp = date(2026, 6, 1).at(8, 0, 0, 0);
    let text = calendar(&visit, &found, "2026-001", "Pitch 4, Müller's park; north side", stamp);
    assert!(text.split("\r\n").all(|line| line.len() <= 75), "a line is too long");
    assert!(!text.replace("\r\n", "").contains(['\r', '\n']));
    let mut calendars = ical::IcalParser::new(text.as_bytes());
    let calendar = calendars.next().unwrap().unwrap();
    assert!(calendars.next().is_none());
    let returns = visit.problem.waits.len();
    assert_eq!(calendar.events.len(), 1 + returns);
    let mut identities = BTreeSet::new();
    for event in &calendar.events {
        let value = |name: &str| {
            let property = event.properties.iter().find(|property| property.name == name);
            property.and_then(|property| property.value.clone()).unwrap()
        };
        assert_eq!(value("DTSTAMP"), "20260601T080000Z");
        assert!(value("DTSTART") < value("DTEND"));
        assert!(identities.insert(value("UID")));
    }
    let whole = &calendar.events[0];
    let value = |name: &str| {
        whole.properties.iter().find(|one| one.name == name).unwrap().value.clone().unwrap()
    };
    assert_eq!(value("DTSTART"), "20260612T090000");
    assert_eq!(value("LOCATION"), "Pitch 4\\, Müller's park\\; north side");
    let unescaped = value("DESCRIPTION").replace("\\n", "\n").replace("\\,", ",");
    assert_eq!(unescaped.replace("\\;", ";"), timeline(&visit, &found).trim_end());
    assert_eq!(calendar.events[1].alarms.len(), 1);
}
