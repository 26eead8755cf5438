//! Names that lead somewhere, each used once, and sizes that can be counted.

use std::collections::BTreeSet;

use super::{Fault, FaultKind, Problem};
use crate::problem::{Need, SiteState};
use crate::ticks::NEVER;

/// More people than this are not planned for.
const MOST_PEOPLE: usize = 2;
/// More site states, or values of one, than this are not counted.
const MOST_STATES: usize = 16;
const MOST_VALUES: usize = 8;
/// More channels than this are not counted.
const MOST_CHANNELS: usize = 32;
/// More skills than this are not counted.
const MOST_SKILLS: usize = 32;
/// More places than this are not counted.
const MOST_PLACES: usize = 250;
/// More acts than this are not counted.
const MOST_ACTS: usize = 4000;
/// The longest single time: a week.
const LONGEST: i32 = 7 * 24 * 60 * 2;

pub(super) fn faults(problem: &Problem) -> Vec<Fault> {
    let mut faults = Vec::new();
    sizes(problem, &mut faults);
    places(problem, &mut faults);
    twice(problem, &mut faults);
    for state in &problem.states {
        state_faults(problem, state, &mut faults);
    }
    for act in &problem.acts {
        place(problem, &act.id, &act.place, &mut faults);
        lengths(&act.id, &[act.ticks], 0, &mut faults);
        needs(problem, &act.id, &act.needs, &mut faults);
        skill(problem, &act.id, act.skill.as_deref(), &mut faults);
        for window in &act.windows {
            if window.from > window.to || window.from < 0 || window.to > NEVER {
                faults.push(Fault::new(
                    FaultKind::Written,
                    &[&act.id],
                    format!("`{}` has a window that ends before it starts", act.id),
                ));
            }
        }
    }
    for wait in &problem.waits {
        act(problem, &wait.opens, "a wait", &mut faults);
        act(problem, &wait.closes, "a wait", &mut faults);
        lengths(&wait.opens, &[wait.at_least, wait.at_most.unwrap_or(0)], 0, &mut faults);
        needs(problem, &wait.opens, &wait.keeps, &mut faults);
    }
    for order in &problem.orders {
        act(problem, &order.first, "an order", &mut faults);
        act(problem, &order.then, "an order", &mut faults);
    }
    faults
}

fn sizes(problem: &Problem, faults: &mut Vec<Fault>) {
    let channels: BTreeSet<&String> = problem
        .acts
        .iter()
        .flat_map(|act| &act.stirs)
        .chain(problem.waits.iter().flat_map(|wait| wait.quiet.iter().chain(&wait.claims)))
        .chain(problem.states.iter().flat_map(|state| &state.changes).flat_map(|one| &one.clears))
        .collect();
    let skills: BTreeSet<&String> =
        problem.people.iter().flat_map(|person| &person.skills).collect();
    let values = problem.states.iter().map(|state| values(state).len()).max().unwrap_or(0);
    for (count, least, most, what) in [
        (problem.people.len(), 1, MOST_PEOPLE, "people"),
        (problem.states.len(), 0, MOST_STATES, "site states"),
        (values, 0, MOST_VALUES, "values of a site state"),
        (channels.len(), 0, MOST_CHANNELS, "channels"),
        (skills.len(), 0, MOST_SKILLS, "skills"),
        (problem.places.len(), 1, MOST_PLACES, "places"),
        (problem.acts.len(), 0, MOST_ACTS, "acts"),
    ] {
        if count < least || count > most {
            faults.push(Fault::new(
                FaultKind::Written,
                &[],
                format!("a visit has {least} to {most} {what}, and this one {count}"),
            ));
        }
    }
}

fn places(problem: &Problem, faults: &mut Vec<Fault>) {
    place(problem, "the start", &problem.start, faults);
    place(problem, "the end", &problem.end, faults);
    let count = problem.places.len();
    if problem.walks.len() != count || problem.walks.iter().any(|row| row.len() != count) {
        faults.push(Fault::new(
            FaultKind::Written,
            &[],
            format!("the walking times are no square of {count} rows and {count} columns"),
        ));
        return;
    }
    for (row, from) in problem.walks.iter().zip(&problem.places) {
        lengths(from, row, 0, faults);
    }
    for (index, name) in problem.places.iter().enumerate() {
        if problem.walks[index][index] != 0 {
            faults.push(Fault::new(
                FaultKind::Written,
                &[name],
                format!("the walk from `{name}` to itself takes time"),
            ));
        }
    }
}

/// Ids that are there twice.
fn twice(problem: &Problem, faults: &mut Vec<Fault>) {
    let lists: [(&str, Vec<&str>); 3] = [
        ("places", problem.places.iter().map(String::as_str).collect()),
        ("site states", problem.states.iter().map(|state| state.id.as_str()).collect()),
        ("acts", problem.acts.iter().map(|act| act.id.as_str()).collect()),
    ];
    for (what, ids) in lists {
        let mut seen = BTreeSet::new();
        for id in ids {
            if !seen.insert(id) {
                faults.push(Fault::new(
                    FaultKind::Written,
                    &[id],
                    format!("two {what} are called `{id}`"),
                ));
            }
        }
    }
}

fn state_faults(problem: &Problem, state: &SiteState, faults: &mut Vec<Fault>) {
    let id = &state.id;
    for change in &state.changes {
        let what = format!("{id} to {}", change.to);
        place(problem, &what, &change.place, faults);
        lengths(&what, &[change.ticks], 1, faults);
        needs(problem, &what, &change.needs, faults);
        skill(problem, &what, change.skill.as_deref(), faults);
        for guard in &change.after {
            act(problem, guard, &format!("changing `{what}`"), faults);
        }
        if state.changes.iter().filter(|other| other.to == change.to).count() > 1 {
            faults.push(Fault::new(
                FaultKind::Written,
                &[id],
                format!("`{id}` has two changes to `{}`", change.to),
            ));
        }
    }
    if let Some(leave) = &state.leave
        && !values(state).contains(leave)
    {
        faults.push(Fault::new(
            FaultKind::Written,
            &[id],
            format!("`{id}` should be left at `{leave}`, which no change brings"),
        ));
    }
}

/// Every value that a state can have.
pub(super) fn values(state: &SiteState) -> BTreeSet<&String> {
    std::iter::once(&state.found).chain(state.changes.iter().map(|change| &change.to)).collect()
}

fn place(problem: &Problem, who: &str, place: &str, faults: &mut Vec<Fault>) {
    if !problem.places.iter().any(|one| one == place) {
        faults.push(Fault::new(
            FaultKind::Written,
            &[who],
            format!("there is no place `{place}`, where `{who}` is"),
        ));
    }
}

fn act(problem: &Problem, id: &str, who: &str, faults: &mut Vec<Fault>) {
    if problem.act(id).is_none() {
        faults.push(Fault::new(
            FaultKind::Written,
            &[id],
            format!("there is no act `{id}`, which {who} names"),
        ));
    }
}

fn skill(problem: &Problem, who: &str, skill: Option<&str>, faults: &mut Vec<Fault>) {
    let Some(skill) = skill else { return };
    if !problem.people.iter().any(|person| person.skills.iter().any(|one| one == skill)) {
        faults.push(Fault::new(
            FaultKind::Written,
            &[who],
            format!("`{who}` takes somebody with the skill `{skill}`, and nobody has it"),
        ));
    }
}

fn lengths(who: &str, lengths: &[i32], least: i32, faults: &mut Vec<Fault>) {
    if lengths.iter().any(|&ticks| ticks < least || ticks > LONGEST) {
        faults.push(Fault::new(
            FaultKind::Written,
            &[who],
            format!("a time of `{who}` is not between {least} and {LONGEST} half minutes"),
        ));
    }
}

fn needs(problem: &Problem, who: &str, needs: &[Need], faults: &mut Vec<Fault>) {
    for need in needs {
        let Some(state) = problem.state(&need.state) else {
            faults.push(Fault::new(
                FaultKind::Written,
                &[who],
                format!("there is no site state `{}`, which `{who}` needs", need.state),
            ));
            continue;
        };
        let known = values(state);
        if !need.any_of.iter().any(|value| known.contains(value)) {
            faults.push(Fault::new(
                FaultKind::Written,
                &[who, &need.state],
                format!(
                    "`{who}` needs `{}` {}, which it never is",
                    need.state,
                    need.any_of.join(" or ")
                ),
            ));
        }
    }
}
