//! What comes next: a reason for it, safety first, running waits, and an order that stays unless something is gained.

use std::collections::BTreeSet;

use field::view::{Ahead, Doing};
use field::{Act, Answer, Day, Entering, Language, Said, Texts, UnitSystem, Visit};
use inspection::PointId;

use crate::visits::{demo_visit, minute, visit_of};

const TRIES: u32 = 300;

fn ahead(visit: &Visit, day: &mut Day, at: i64) -> Ahead {
    visit.ahead(day, minute(at), TRIES, 1)
}

fn examined(visit: &mut Visit, point: &str, at: i64) {
    let answer = Act::Answer { point: point.into(), answer: Answer::Examined };
    visit.act(answer, minute(at)).unwrap();
}

fn left_out(visit: &mut Visit, point: &str, at: i64) {
    let answer = Answer::NotExamined { reason: "no access".into() };
    visit.act(Act::Answer { point: point.into(), answer }, minute(at)).unwrap();
}

/// Every sentence of what comes next, in both languages, without a gap.
fn sentences(ahead: &Ahead) -> Vec<Said> {
    let steps = ahead.now.iter().chain(ahead.stops.iter().flat_map(|stop| &stop.steps));
    let said = steps.flat_map(|step| step.why.iter().chain(&step.caution));
    let said = said.chain(ahead.blocked.iter().map(|(_, _, why)| why)).chain(&ahead.trouble);
    said.cloned().collect()
}

#[test]
fn the_first_thing_is_the_nose_and_it_says_why() {
    let visit = demo_visit();
    let mut day = Day::default();
    let ahead = ahead(&visit, &mut day, 0);
    let [now] = ahead.now.as_slice() else { panic!("{:?}", ahead.now) };
    assert!(!now.why.is_empty() && now.why.len() <= 3);
    assert!(!ahead.stops.is_empty() && ahead.stops.len() <= 4);
    assert!(ahead.minutes > 120, "{}", ahead.minutes);
    assert_eq!((ahead.blocked.len(), &ahead.trouble, ahead.reordered), (0, &None, false));
    assert!(day.is_planned());
    // Nothing at the unit comes before the smell for gas: what comes before it is done away from the unit.
    let steps: Vec<_> =
        ahead.now.iter().chain(ahead.stops.iter().flat_map(|stop| &stop.steps)).collect();
    let nose = steps.iter().position(|step| step.doing == Doing::Point("gas_smell".into()));
    for step in &steps[..nose.unwrap_or(steps.len())] {
        assert!(["papers", "site"].contains(&step.stop.0.as_str()), "{step:?}");
    }
    for language in Language::ALL {
        let texts = Texts::new(language);
        for said in sentences(&ahead) {
            let text = texts.of(&said);
            assert!(text != said.key && !text.contains(['{', '}']), "{text}");
        }
    }
}

#[test]
fn a_deviation_is_planned_around_and_what_is_done_drops_out() {
    let mut visit = demo_visit();
    let mut day = Day::default();
    ahead(&visit, &mut day, 0);
    // Somebody does what was planned for much later.
    examined(&mut visit, "tyres", 4);
    let after = ahead(&visit, &mut day, 5);
    let tyres = Doing::Point("tyres".into());
    let steps = after.now.iter().chain(after.stops.iter().flat_map(|stop| &stop.steps));
    assert!(steps.clone().all(|step| step.doing != tyres));
    assert!(!day.to_text().contains("act tyres\n"));
    // Mending alone, without a search, keeps the order.
    let before = day.clone();
    let mended = visit.ahead(&mut day, minute(6), 0, 1);
    assert!(!mended.reordered);
    assert_eq!(day, before);
}

const HOLD: &str = r#"
id = "hold"
title = "Tank holds"
stop = "outside"
minutes = 4
look = ["The level."]
[wait]
minutes = 10
at_most = 30
what = "the tank stands"
[[reading]]
id = "level"
title = "Level"
kind = "choice"
choices = ["same", "lower"]
[[example]]
title = "Same"
given = { level = "same" }
stops = []
"#;

const LOOK: &str = r#"
id = "look"
title = "Long look"
stop = "inside"
minutes = 18
look = ["Everything."]
[[reading]]
id = "seen"
title = "Seen"
kind = "choice"
choices = ["yes", "no"]
[[example]]
title = "Yes"
given = { seen = "yes" }
stops = []
"#;

#[test]
fn a_running_wait_is_come_back_to_in_time() {
    let mut visit = visit_of(&[HOLD, LOOK]);
    let mut day = Day::default();
    let point = PointId::from("hold");
    // What runs by itself is started first.
    let now = &ahead(&visit, &mut day, 0).now[0];
    assert_eq!((&now.doing, now.why[0].key), (&Doing::Point(point.clone()), "why-starts-wait"));
    visit.act(Act::StartWait { point: point.clone() }, minute(2)).unwrap();
    let first = ahead(&visit, &mut day, 2);
    assert_eq!(first.now[0].doing, Doing::Point("look".into()), "there is time for it");
    assert!(day.to_text().contains("act hold.return\n") && !day.to_text().contains("act hold\n"));
    // After 15 minutes the long look would keep it waiting for too long.
    let now = &ahead(&visit, &mut day, 17).now[0];
    assert_eq!(now.doing, Doing::Return(point.clone()), "{now:?}");
    assert_eq!(now.why[0].key, "why-ends-wait-most");
    // Somebody comes back too late: it is said, and the plan as a whole says so too.
    let late = ahead(&visit, &mut day, 40);
    assert_eq!(late.now[0].why[0].key, "why-ends-wait-late");
    assert_eq!(late.trouble.as_ref().map(|said| said.key), Some("ahead-late"));
    // Its wait is ended and its reading is missing: still the thing to do.
    let (wait, _) = visit.inspection().waits.iter().next().unwrap();
    let end = Act::EndWait { wait: wait.clone() };
    visit.act(end, minute(29)).unwrap();
    let now = &ahead(&visit, &mut day, 30).now[0];
    assert_eq!((&now.doing, now.why[0].key), (&Doing::Return(point), "why-wait-ended"));
    let read = Entering {
        point: "hold".into(),
        reading: "level".into(),
        text: "same".into(),
        ..Entering::default()
    };
    visit.act(Act::Enter(read), minute(31)).unwrap();
    examined(&mut visit, "hold", 31);
    assert_eq!(ahead(&visit, &mut day, 31).now[0].doing, Doing::Point("look".into()));
}

#[test]
fn what_a_left_out_safety_step_protects_is_blocked_and_says_so() {
    let mut visit = demo_visit();
    left_out(&mut visit, "gas_leak_check", 0);
    let ahead = ahead(&visit, &mut Day::default(), 1);
    let blocked: BTreeSet<&str> = ahead.blocked.iter().map(|(point, ..)| point.as_str()).collect();
    assert!(blocked.len() > 3, "{blocked:?}");
    for (point, title, why) in &ahead.blocked {
        assert!(why.key.starts_with("blocked-") && !title.is_empty(), "{point}");
    }
    assert!(ahead.blocked.iter().any(|(_, _, why)| why.key == "blocked-safety"));
}

#[test]
fn with_two_people_both_have_something_to_do_and_are_done_sooner() {
    let visit = demo_visit();
    let (mut one, mut two) = (Day::default(), Day::default());
    two.set_people(2);
    let (alone, together) = (ahead(&visit, &mut one, 0), ahead(&visit, &mut two, 0));
    assert_eq!(together.now.iter().map(|step| step.person).collect::<Vec<_>>(), [0, 1]);
    assert!(together.minutes * 4 < alone.minutes * 3, "{} {}", together.minutes, alone.minutes);
}

#[test]
fn when_all_is_done_nothing_comes_next() {
    let mut visit = demo_visit();
    let points: Vec<String> = visit.points().map(|point| point.id.clone()).collect();
    for (point, at) in points.iter().zip(0..) {
        left_out(&mut visit, point, at);
    }
    let ahead = ahead(&visit, &mut Day::default(), 400);
    assert_eq!((ahead.now.len(), ahead.stops.len(), ahead.minutes), (0, 0, 0));
    assert_eq!((ahead.ends.as_str(), ahead.blocked.len()), ("", 0));
}

const FLAME: &str = r#"
id = "flame"
title = "Flame"
stop = "inside"
minutes = 5
look = ["The flame."]
fitted = ["gas"]
needs = ["gas_on"]
[[reading]]
id = "flame"
title = "Flame"
kind = "choice"
choices = ["blue", "yellow"]
[[example]]
title = "Blue"
given = { flame = "blue" }
stops = []
"#;

#[test]
fn a_change_of_the_site_has_its_caution_and_is_said_with_the_act_that_it_names() {
    let mut visit = visit_of(&[FLAME]);
    let mut day = Day::default();
    let set = |ahead: &Ahead| match &ahead.now[0].doing {
        Doing::Change { state, set } => (state.clone(), *set),
        other => panic!("{other:?}"),
    };
    let first = ahead(&visit, &mut day, 0);
    assert_eq!(set(&first), ("gas_on".to_owned(), true));
    assert_eq!(first.now[0].why[0].key, "why-needed");
    assert_eq!(first.now[0].caution.as_ref().unwrap().key, "site-caution-gas-on");
    visit.act(Act::SetState { state: "gas_on".into() }, minute(1)).unwrap();
    assert_eq!(ahead(&visit, &mut day, 2).now[0].doing, Doing::Point("flame".into()));
    let read = Entering {
        point: "flame".into(),
        reading: "flame".into(),
        text: "blue".into(),
        ..Entering::default()
    };
    visit.act(Act::Enter(read), minute(3)).unwrap();
    examined(&mut visit, "flame", 3);
    // The site is left as it was found.
    let last = ahead(&visit, &mut day, 4);
    assert_eq!(set(&last), ("gas_on".to_owned(), false));
    assert_eq!(last.now[0].why[0].key, "why-leaves");
    visit.act(Act::UnsetState { state: "gas_on".into() }, minute(5)).unwrap();
    assert_eq!(ahead(&visit, &mut day, 6).now, []);
    assert_eq!(visit.line(UnitSystem::Us).left, 0);
}

/// The English cautions are those of the schedule, word for word: one place says what can hurt.
#[test]
fn every_caution_of_a_change_is_the_one_that_the_schedule_gives() {
    let visit = demo_visit();
    let mut dwelling = visit.inspection().dwelling.clone();
    dwelling.equipment = visit.plan().equipment.iter().map(|known| known.id.clone()).collect();
    let inspection = inspection::Inspection { dwelling, ..visit.inspection().clone() };
    let start = minute(0).moment.local;
    let circumstances = schedule::Circumstances {
        start,
        now: start,
        light: None,
        dry: None,
        owner: None,
        people: vec![schedule::Person::default()],
    };
    let prepared = schedule::prepare(visit.plan(), &inspection, &circumstances).unwrap();
    let (mut compared, english) = (0, Texts::new(Language::English));
    for state in &prepared.problem.states {
        for change in &state.changes {
            let task = schedule::Task::Change { state: state.id.clone(), to: change.to.clone() };
            let caution = field::view::site_caution(&state.id, &change.to);
            let words = caution.map_or_else(String::new, |said| english.of(&said));
            assert_eq!(words, prepared.caution(&task), "{task}");
            compared += usize::from(!words.is_empty());
        }
    }
    assert!(compared >= 6, "{compared}");
}
