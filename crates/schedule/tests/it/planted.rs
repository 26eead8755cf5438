//! Faults planted into good schedules: the validator names the broken rule of each.

use schedule::{
    Budget, Order, Person, Preference, Problem, Progress, Rule, Schedule, Span, Step, Task, Why,
    Window, plan, validate,
};

use crate::visits::visit;

fn good(problem: &Problem) -> Schedule {
    let budget = Budget { decodes: 3_000, seed: 1 };
    let found = plan(problem, &Progress::default(), Preference::FinishSoonest, budget);
    assert_eq!(validate(problem, &Progress::default(), &found), []);
    found
}

/// Plants a fault and expects its rule among those that are named.
fn check(rule: Rule, plant: impl FnOnce(&mut Problem, &mut Progress, &mut Schedule)) {
    let mut problem = visit("sixty_acts_a");
    let mut found = good(&problem);
    let mut progress = Progress::default();
    plant(&mut problem, &mut progress, &mut found);
    let broken = validate(&problem, &progress, &found);
    assert!(broken.iter().any(|one| one.rule == rule), "{rule:?} is not among {broken:#?}");
}

fn position(found: &Schedule, act: &str) -> usize {
    found.steps.iter().position(|step| step.task == Task::Act(act.to_owned())).unwrap()
}

fn change(found: &Schedule, state: &str, value: &str) -> usize {
    let task = Task::Change { state: state.to_owned(), to: value.to_owned() };
    found.steps.iter().position(|step| step.task == task).unwrap()
}

/// Puts a step at another time.
fn shift(step: &mut Step, start: i32) {
    step.end += start - step.start;
    step.start = start;
}

#[test]
fn what_is_missing_twice_or_unknown_is_named() {
    check(Rule::Missing, |_, _, found| {
        let at = position(found, "plate");
        found.steps.remove(at);
    });
    check(Rule::Twice, |_, _, found| {
        let again = found.steps[position(found, "plate")].clone();
        found.steps.push(again);
    });
    check(Rule::Twice, |_, progress, _| {
        let span = Span { start: -20, end: -10, person: 0 };
        progress.done.insert("plate".to_owned(), span);
    });
    check(Rule::Unknown, |_, _, found| {
        let at = position(found, "plate");
        found.steps[at].place = "roof".to_owned();
    });
    check(Rule::Unknown, |_, _, found| {
        let at = position(found, "plate");
        found.steps[at].end -= 1;
    });
    check(Rule::Unknown, |_, _, found| {
        let at = position(found, "plate");
        found.steps[at].task = Task::Act("plait".to_owned());
    });
    check(Rule::Sums, |_, _, found| found.finish -= 1);
}

#[test]
fn people_who_would_be_in_two_places_are_named() {
    check(Rule::Walking, |_, _, found| {
        let at = position(found, "plate");
        let start = found.steps[at].start;
        shift(&mut found.steps[at], start - 1);
    });
    check(Rule::Past, |_, progress, _| progress.now = 10);
    check(Rule::Skill, |problem, _, _| {
        let act = problem.acts.iter_mut().find(|act| act.id == "plate").unwrap();
        act.skill = Some("reading".to_owned());
    });
    check(Rule::Skill, |problem, _, _| {
        problem.people.push(Person { name: "second".to_owned(), skills: Vec::new() });
        let act = problem.acts.iter_mut().find(|act| act.id == "plate").unwrap();
        act.together = true;
    });
    check(Rule::Skill, |_, _, found| found.steps[0].people.clear());
}

#[test]
fn site_states_that_are_not_as_needed_are_named() {
    check(Rule::Need, |_, _, found| {
        let at = change(found, "shore", "on");
        found.steps.remove(at);
    });
    check(Rule::Guard, |_, _, found| {
        let (guard, change) = (position(found, "ped_volt"), change(found, "shore", "on"));
        let late = found.steps[change].end + 1;
        shift(&mut found.steps[guard], late);
    });
    check(Rule::NoChange, |_, _, found| {
        let again = found.steps[change(found, "shore", "on")].clone();
        let mut again = again;
        let late = again.end;
        shift(&mut again, late);
        found.steps.push(again);
    });
    check(Rule::Leave, |_, _, found| {
        let last = found.steps.iter().rposition(|step| {
            matches!(&step.task, Task::Change { state, to } if state == "lp" && to == "shut")
        });
        found.steps.remove(last.unwrap());
    });
    check(Rule::InTheWay, |problem, _, found| {
        let shore = problem.states.iter_mut().find(|state| state.id == "shore").unwrap();
        let on = shore.changes.iter_mut().find(|change| change.to == "on").unwrap();
        on.clears.push("underneath".to_owned());
        let frame = problem.acts.iter_mut().find(|act| act.id == "frame").unwrap();
        frame.stirs.push("underneath".to_owned());
        let start = found.steps[change(found, "shore", "on")].start;
        let at = position(found, "frame");
        shift(&mut found.steps[at], start);
    });
}

#[test]
fn orders_windows_and_waits_that_are_not_kept_are_named() {
    let later = |found: &Schedule, act: &str, by: i32| found.steps[position(found, act)].end + by;
    check(Rule::Order, |_, _, found| {
        let late = later(found, "roof_seals", 5);
        let at = position(found, "roof_walk");
        shift(&mut found.steps[at], late);
    });
    check(Rule::Safety, |problem, _, found| {
        let late = later(found, "cooktop", 5);
        problem.orders.push(Order {
            first: "leak_sniff".to_owned(),
            then: "cooktop".to_owned(),
            why: Why::Safety,
        });
        let at = position(found, "leak_sniff");
        shift(&mut found.steps[at], late);
    });
    check(Rule::Safety, |_, progress, _| {
        progress.skipped.insert("plate".to_owned(), "painted over".to_owned());
    });
    check(Rule::Window, |problem, _, _| {
        let act = problem.acts.iter_mut().find(|act| act.id == "plate").unwrap();
        act.windows = vec![Window { from: 0, to: 5 }, Window { from: 600, to: 700 }];
    });
    check(Rule::TooEarly, |_, _, found| {
        let soon = later(found, "fill_start", 1);
        let at = position(found, "fill_stop");
        shift(&mut found.steps[at], soon);
    });
    check(Rule::TooLate, |_, _, found| {
        let late = later(found, "fill_start", 35);
        let at = position(found, "fill_stop");
        shift(&mut found.steps[at], late);
    });
    check(Rule::Kept, |_, _, found| {
        let inside = later(found, "fill_start", 2);
        let at = change(found, "water", "none");
        shift(&mut found.steps[at], inside);
    });
    check(Rule::Quiet, |_, _, found| {
        let inside = later(found, "decay_press", 2);
        let at = position(found, "oven");
        shift(&mut found.steps[at], inside);
    });
    check(Rule::Claim, |problem, _, _| {
        // The refrigerator's wait is long: others lie inside it.
        for wait in &mut problem.waits {
            wait.claims.push("attention".to_owned());
        }
    });
}
