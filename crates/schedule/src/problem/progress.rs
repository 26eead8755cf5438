//! Where a visit stands: what was done when, what is skipped, who is where, how the site is.

use std::collections::BTreeMap;

use super::{Need, Problem, Why};
use crate::Ticks;

/// Where a visit stands. The default is a visit that has not begun.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// The time; nothing new starts before it.
    pub now: Ticks,
    /// Where each person is, by the order of [`Problem::people`]; who is missing stands at the start.
    pub at: Vec<String>,
    /// The values of site states; a state that is missing is as it was found.
    pub states: BTreeMap<String, String>,
    /// Acts that are done or in hand. An end after [`Progress::now`] is when it is expected to end.
    pub done: BTreeMap<String, Span>,
    /// Acts that will not be done, each with the reason.
    pub skipped: BTreeMap<String, String>,
}

/// When an act was done, and by whom.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Start.
    pub start: Ticks,
    /// End, or when it is expected.
    pub end: Ticks,
    /// Who, by the order of [`Problem::people`].
    pub person: usize,
}

/// The acts that cannot be done because of what was skipped, each with the reason. A skipped safety
/// step blocks what it protects, a skipped start its own reading, a skipped guard everything that
/// needs the state it guards: nothing dangerous is ever silently set free.
#[must_use]
pub fn blocked(problem: &Problem, progress: &Progress) -> BTreeMap<String, String> {
    let mut blocked = BTreeMap::new();
    loop {
        let before = blocked.len();
        for act in &problem.acts {
            if progress.done.contains_key(&act.id)
                || progress.skipped.contains_key(&act.id)
                || blocked.contains_key(&act.id)
            {
                continue;
            }
            if let Some(reason) = reason(problem, progress, &blocked, &act.id) {
                blocked.insert(act.id.clone(), reason);
            }
        }
        if blocked.len() == before {
            return blocked;
        }
    }
}

/// Why an act is blocked, if it is.
fn reason(
    problem: &Problem,
    progress: &Progress,
    blocked: &BTreeMap<String, String>,
    act: &str,
) -> Option<String> {
    let left_out = |id: &str| progress.skipped.contains_key(id) || blocked.contains_key(id);
    for order in problem.orders.iter().filter(|order| order.then == act) {
        if order.why == Why::Safety && left_out(&order.first) {
            return Some(format!("the safety step `{}` before it was left out", order.first));
        }
    }
    for wait in problem.waits.iter().filter(|wait| wait.closes == act) {
        if left_out(&wait.opens) {
            return Some(format!("`{}`, which starts it, was left out", wait.opens));
        }
    }
    let opened = problem.waits.iter().filter(|wait| wait.opens == act).flat_map(|wait| &wait.keeps);
    for need in problem.act(act)?.needs.iter().chain(opened) {
        if can_be(problem, progress, &left_out, need, STEPS) {
            continue;
        }
        let state = problem.state(&need.state)?;
        let changes = need.any_of.iter().filter_map(|value| state.change(value));
        let guard = changes.flat_map(|change| &change.after).find(|guard| left_out(guard));
        let wanted = need.any_of.join(" or ");
        return Some(match guard {
            Some(guard) => format!(
                "it needs `{}` {wanted}, and `{guard}`, which comes before that, was left out",
                need.state
            ),
            None => format!("it needs `{}` {wanted}, which cannot be reached now", need.state),
        });
    }
    None
}

/// Changes may need other states this deep.
const STEPS: u32 = 8;

/// Whether a need is met or can be brought about although some acts were left out.
fn can_be(
    problem: &Problem,
    progress: &Progress,
    left_out: &dyn Fn(&str) -> bool,
    need: &Need,
    steps: u32,
) -> bool {
    let Some(state) = problem.state(&need.state) else { return false };
    let now = progress.states.get(&need.state).unwrap_or(&state.found);
    need.any_of.iter().any(|value| {
        let reached = state.change(value).is_some_and(|change| {
            steps > 0
                && !change.after.iter().any(|guard| left_out(guard))
                && change
                    .needs
                    .iter()
                    .all(|one| can_be(problem, progress, left_out, one, steps - 1))
        });
        value == now || reached
    })
}
