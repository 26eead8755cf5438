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

/// Why an act cannot be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Blocked {
    /// This safety step before it was left out.
    Safety(String),
    /// This act, which starts the wait that it ends, was left out.
    Start(String),
    /// It needs a state, and what comes before the change to it was left out.
    Guard {
        /// The state.
        state: String,
        /// The values that would do.
        values: Vec<String>,
        /// The act that was left out.
        guard: String,
    },
    /// It needs a state that cannot be reached now.
    State {
        /// The state.
        state: String,
        /// The values that would do.
        values: Vec<String>,
    },
}

impl std::fmt::Display for Blocked {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Safety(first) => {
                write!(formatter, "the safety step `{first}` before it was left out")
            }
            Self::Start(opens) => write!(formatter, "`{opens}`, which starts it, was left out"),
            Self::Guard { state, values, guard } => write!(
                formatter,
                "it needs `{state}` {}, and `{guard}`, which comes before that, was left out",
                values.join(" or ")
            ),
            Self::State { state, values } => write!(
                formatter,
                "it needs `{state}` {}, which cannot be reached now",
                values.join(" or ")
            ),
        }
    }
}

/// The acts that cannot be done because of what was skipped, each with the reason. A skipped safety
/// step blocks what it protects, a skipped start its own reading, a skipped guard everything that
/// needs the state it guards: nothing dangerous is ever silently set free.
#[must_use]
pub fn blocked(problem: &Problem, progress: &Progress) -> BTreeMap<String, Blocked> {
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
    blocked: &BTreeMap<String, Blocked>,
    act: &str,
) -> Option<Blocked> {
    let left_out = |id: &str| progress.skipped.contains_key(id) || blocked.contains_key(id);
    for order in problem.orders.iter().filter(|order| order.then == act) {
        if order.why == Why::Safety && left_out(&order.first) {
            return Some(Blocked::Safety(order.first.clone()));
        }
    }
    for wait in problem.waits.iter().filter(|wait| wait.closes == act) {
        if left_out(&wait.opens) {
            return Some(Blocked::Start(wait.opens.clone()));
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
        let (state, values) = (need.state.clone(), need.any_of.clone());
        return Some(match guard {
            Some(guard) => Blocked::Guard { state, values, guard: guard.clone() },
            None => Blocked::State { state, values },
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
