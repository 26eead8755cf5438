//! Needs that contradict each other, and site states that can never be reached.

use std::collections::BTreeSet;

use super::{Fault, FaultKind, Problem, names::values};
use crate::problem::Need;

pub(super) fn faults(problem: &Problem) -> Vec<Fault> {
    let mut faults = Vec::new();
    let reachable = reachable(problem);
    let can_be = |need: &Need| {
        need.any_of.iter().any(|value| reachable.contains(&(need.state.as_str(), value.as_str())))
    };
    for act in &problem.acts {
        if let Some(state) = contradiction(&act.needs.iter()) {
            faults.push(Fault::new(
                FaultKind::Contradiction,
                &[&act.id, state],
                format!("`{}` needs `{state}` to have two values at once", act.id),
            ));
        }
        for need in act.needs.iter().filter(|need| !can_be(need)) {
            faults.push(unreachable(&act.id, need));
        }
    }
    for wait in &problem.waits {
        for (act, end) in [(&wait.opens, "starts"), (&wait.closes, "ends")] {
            let of_act = problem.act(act).into_iter().flat_map(|act| &act.needs);
            if let Some(state) = contradiction(&of_act.chain(&wait.keeps)) {
                faults.push(Fault::new(
                    FaultKind::Contradiction,
                    &[act, state],
                    format!(
                        "the wait from `{}` to `{}` keeps `{state}` at one value, and `{act}`, \
                         which {end} it, needs another",
                        wait.opens, wait.closes
                    ),
                ));
            }
        }
        for need in wait.keeps.iter().filter(|need| !can_be(need)) {
            faults.push(unreachable(&wait.opens, need));
        }
    }
    for state in &problem.states {
        if let Some(leave) = &state.leave
            && !reachable.contains(&(state.id.as_str(), leave.as_str()))
        {
            faults.push(Fault::new(
                FaultKind::Unreachable,
                &[&state.id],
                format!("`{}` can never be brought to `{leave}`, as it should be left", state.id),
            ));
        }
    }
    faults
}

/// A state of which these needs want incompatible values.
fn contradiction<'a>(needs: &(impl Iterator<Item = &'a Need> + Clone)) -> Option<&'a str> {
    needs.clone().map(|need| need.state.as_str()).find(|&state| {
        let mut common: Option<BTreeSet<&String>> = None;
        for need in needs.clone().filter(|need| need.state == state) {
            let these: BTreeSet<&String> = need.any_of.iter().collect();
            common = Some(match common {
                None => these,
                Some(others) => others.intersection(&these).copied().collect(),
            });
        }
        common.is_some_and(|common| common.is_empty())
    })
}

/// The values that states can come to: those found, and those that a change brings whose own needs
/// and whose guards' needs can be met without it.
fn reachable(problem: &Problem) -> BTreeSet<(&str, &str)> {
    let mut reached: BTreeSet<(&str, &str)> =
        problem.states.iter().map(|state| (state.id.as_str(), state.found.as_str())).collect();
    loop {
        let before = reached.len();
        for state in &problem.states {
            for change in &state.changes {
                let met = |needs: &[Need]| {
                    needs.iter().all(|need| {
                        let reached_value = |value: &String| {
                            reached.contains(&(need.state.as_str(), value.as_str()))
                        };
                        need.any_of.iter().any(reached_value)
                    })
                };
                let guards_met = change
                    .after
                    .iter()
                    .all(|guard| problem.act(guard).is_none_or(|act| met(&act.needs)));
                if met(&change.needs) && guards_met {
                    reached.insert((state.id.as_str(), change.to.as_str()));
                }
            }
        }
        if reached.len() == before {
            return reached;
        }
    }
}

fn unreachable(act: &str, need: &Need) -> Fault {
    Fault::new(
        FaultKind::Unreachable,
        &[act, &need.state],
        format!(
            "`{act}` needs `{}` {}, which can never be reached: what guards that change, or what \
             it needs, needs it first",
            need.state,
            need.any_of.join(" or ")
        ),
    )
}

/// Acts that guard every way to meet a need that is not met from the start: they come before
/// whatever has the need.
pub(super) fn guards<'a>(problem: &'a Problem, need: &Need) -> Vec<&'a str> {
    let Some(state) = problem.state(&need.state) else { return Vec::new() };
    if need.any_of.contains(&state.found) {
        return Vec::new();
    }
    let mut common: Option<BTreeSet<&str>> = None;
    for value in values(state).into_iter().filter(|value| need.any_of.contains(value)) {
        let Some(change) = state.change(value) else { continue };
        let these: BTreeSet<&str> = change.after.iter().map(String::as_str).collect();
        common = Some(match common {
            None => these,
            Some(others) => others.intersection(&these).copied().collect(),
        });
    }
    common.unwrap_or_default().into_iter().collect()
}
