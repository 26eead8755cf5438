//! Problems that cannot be planned: what clashes is said before anything is tried.

use schedule::{
    Act, Change, Need, Order, Person, Problem, Progress, SiteState, Wait, Why, Window, blocked,
    check,
};

fn act(id: &str) -> Act {
    Act { id: id.to_owned(), place: "here".to_owned(), ticks: 4, ..Act::default() }
}

fn need(state: &str, value: &str) -> Need {
    Need { state: state.to_owned(), any_of: vec![value.to_owned()] }
}

fn order(first: &str, then: &str, why: Why) -> Order {
    Order { first: first.to_owned(), then: then.to_owned(), why }
}

/// Power with a guard, a gas test that waits, a stove that the test makes safe.
fn sound() -> Problem {
    let change = |to: &str, after: &[&str]| Change {
        to: to.to_owned(),
        place: "here".to_owned(),
        ticks: 2,
        after: after.iter().map(|&guard| guard.to_owned()).collect(),
        ..Change::default()
    };
    Problem {
        name: "sound".to_owned(),
        places: vec!["here".to_owned(), "there".to_owned()],
        walks: vec![vec![0, 3], vec![3, 0]],
        start: "here".to_owned(),
        end: "here".to_owned(),
        people: vec![Person { name: "inspector".to_owned(), skills: Vec::new() }],
        states: vec![SiteState {
            id: "power".to_owned(),
            found: "off".to_owned(),
            leave: Some("off".to_owned()),
            changes: vec![change("on", &["voltage"]), change("off", &[])],
        }],
        acts: vec![
            act("voltage"),
            Act { needs: vec![need("power", "on")], ..act("outlets") },
            act("test"),
            act("reading"),
            act("stove"),
        ],
        waits: vec![Wait {
            opens: "test".to_owned(),
            closes: "reading".to_owned(),
            at_least: 10,
            at_most: Some(40),
            ..Wait::default()
        }],
        orders: vec![order("reading", "stove", Why::Safety)],
    }
}

/// Changes the sound problem and expects a fault that says this.
fn expect(says: &str, change: impl FnOnce(&mut Problem)) {
    let mut problem = sound();
    change(&mut problem);
    let faults = check(&problem);
    assert!(faults.iter().any(|fault| fault.sentence.contains(says)), "`{says}`: {faults:#?}");
}

#[test]
fn a_sound_problem_has_no_fault() {
    assert_eq!(check(&sound()), []);
}

#[test]
fn names_that_lead_nowhere_are_said() {
    expect("no place `roof`, where `stove` is", |one| one.acts[4].place = "roof".to_owned());
    expect("no site state `gas`", |one| one.acts[4].needs.push(need("gas", "on")));
    expect("`power` warm, which it never is", |one| one.acts[4].needs.push(need("power", "warm")));
    expect("no act `oven`", |one| one.orders.push(order("oven", "stove", Why::Sequence)));
    expect("two acts are called `test`", |one| one.acts.push(act("test")));
    expect("nobody has it", |one| one.acts[0].skill = Some("gas".to_owned()));
    expect("1 to 2 people, and this one 0", |one| one.people.clear());
    expect("no square", |one| drop(one.walks.pop()));
    expect("not between 0", |one| one.acts[0].ticks = -1);
    expect("which no change brings", |one| one.states[0].leave = Some("half".to_owned()));
}

#[test]
fn circles_are_shown_round() {
    expect("in a circle: `reading`, `stove`, `test`", |one| {
        one.orders.push(order("stove", "test", Why::Sequence));
    });
    expect("`voltage` would have to come before itself", |one| {
        one.orders.push(order("voltage", "voltage", Why::Sequence));
    });
    // The guard of the power needs the outlets, which need the power.
    expect("in a circle", |one| one.orders.push(order("outlets", "voltage", Why::Sequence)));
}

#[test]
fn needs_that_can_never_be_met_are_said() {
    expect("can never be reached", |one| one.acts[0].needs.push(need("power", "on")));
    expect("two values at once", |one| one.acts[1].needs.push(need("power", "off")));
    expect("keeps `power` at one value, and `reading`", |one| {
        one.waits[0].keeps.push(need("power", "on"));
        one.acts[3].needs.push(need("power", "off"));
    });
}

#[test]
fn times_that_clash_are_said() {
    let window = |from: i32, to: i32| vec![Window { from, to }];
    expect("longer than any of its windows", |one| one.acts[4].windows = window(0, 3));
    expect("after `test`, `reading` it ends 11 min", |one| one.acts[4].windows = window(0, 20));
    expect("latest return before its earliest", |one| one.waits[0].at_most = Some(5));
    expect("what comes between takes", |one| {
        one.acts.push(Act { ticks: 60, ..act("long") });
        one.orders.push(order("test", "long", Why::Sequence));
        one.orders.push(order("long", "reading", Why::Sequence));
    });
}

#[test]
fn what_is_left_out_blocks_what_it_protects_and_nothing_else() {
    let problem = sound();
    let without = |id: &str| {
        let mut progress = Progress::default();
        progress.skipped.insert(id.to_owned(), "no instrument".to_owned());
        blocked(&problem, &progress)
    };
    let ids = |id: &str| without(id).into_keys().collect::<Vec<_>>();
    assert_eq!(ids("test"), ["reading", "stove"]);
    assert_eq!(ids("reading"), ["stove"]);
    assert_eq!(ids("voltage"), ["outlets"]);
    assert_eq!(ids("stove"), [""; 0]);
    assert!(without("voltage")["outlets"].to_string().contains("`voltage`"));
}
