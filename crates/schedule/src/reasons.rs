//! Why a step comes where it comes, in words.

use crate::Ticks;
use crate::problem::{Problem, Progress, Why};
use crate::schedule::{Schedule, Task};
use crate::ticks::length_in_words;

/// One reason for a step's place in a schedule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// It starts something that runs by itself: the sooner the better.
    StartsWait {
        /// The act that ends it.
        closes: String,
        /// How long it runs at least.
        at_least: Ticks,
    },
    /// It ends something that runs by itself.
    EndsWait {
        /// The act that started it.
        opens: String,
        /// How long it has run then.
        ran: Ticks,
        /// How long it may run at most.
        at_most: Option<Ticks>,
    },
    /// It makes later acts safe.
    MakesSafe(Vec<String>),
    /// It is done before a site state may be changed.
    Guards {
        /// The state.
        state: String,
        /// The value that it guards.
        to: String,
    },
    /// Later acts come after it.
    OpensTheWay(Vec<String>),
    /// A change that the acts up to the next change need.
    Needed(Vec<String>),
    /// A change back to how the site should be left.
    Leaves,
    /// It can only be done in this span.
    Window {
        /// From then on.
        from: Ticks,
        /// Until then.
        to: Ticks,
    },
    /// A site state that it needs is as it needs it now.
    WhileSo {
        /// The state.
        state: String,
        /// Its value.
        value: String,
    },
    /// It is where one stands already.
    SamePlace,
    /// It is near.
    Near(Ticks),
}

impl Reason {
    /// The reason in words; `name` gives what people read for an act's or a state's id.
    #[must_use]
    pub fn in_words(&self, name: &dyn Fn(&str) -> String) -> String {
        let list = |acts: &[String]| match acts {
            [one] => name(one),
            [one, other] => format!("{} and {}", name(one), name(other)),
            [first, rest @ ..] => format!("{} and {} more", name(first), rest.len()),
            [] => String::new(),
        };
        match self {
            Self::StartsWait { closes, at_least } => {
                format!("starts a wait of {} until {}", length_in_words(*at_least), name(closes))
            }
            Self::EndsWait { opens, ran, at_most } => {
                let most = at_most.map(|most| format!(", {} at most", length_in_words(most)));
                let most = most.unwrap_or_default();
                format!("{} after {}{most}", length_in_words(*ran), name(opens))
            }
            Self::MakesSafe(acts) => format!("makes {} safe", list(acts)),
            Self::Guards { state, to } => format!("comes before {} {to}", name(state)),
            Self::OpensTheWay(acts) => format!("comes before {}", list(acts)),
            Self::Needed(acts) => format!("needed for {}", list(acts)),
            Self::Leaves => "leaves it as it was found".to_owned(),
            Self::Window { from, to } => format!(
                "only from {} to {} after the start",
                length_in_words(*from),
                length_in_words(*to)
            ),
            Self::WhileSo { state, value } => format!("while {} is {value}", name(state)),
            Self::SamePlace => "at the same place".to_owned(),
            Self::Near(walk) => format!("{} on foot", length_in_words(*walk)),
        }
    }
}

/// The reasons for a step, the weightiest first.
#[must_use]
pub fn reasons(
    problem: &Problem,
    progress: &Progress,
    schedule: &Schedule,
    index: usize,
) -> Vec<Reason> {
    let Some(step) = schedule.steps.get(index) else { return Vec::new() };
    let mut reasons = Vec::new();
    match &step.task {
        Task::Act(id) => {
            if let Some(act) = problem.act(id) {
                for window in &act.windows {
                    if window.from <= step.start && step.end <= window.to && window.from > 0 {
                        reasons.push(Reason::Window { from: window.from, to: window.to });
                    }
                }
            }
            of_waits(problem, progress, schedule, index, id, &mut reasons);
            of_orders(problem, schedule, id, &mut reasons);
            of_needs(problem, schedule, index, id, &mut reasons);
        }
        Task::Change { state, to } => {
            let needed = acts_that_need(problem, schedule, index, state, to);
            let leave = problem.state(state).and_then(|state| state.leave.as_ref());
            if !needed.is_empty() {
                reasons.push(Reason::Needed(needed));
            } else if leave == Some(to) {
                reasons.push(Reason::Leaves);
            }
        }
    }
    reasons.extend(of_the_way(problem, progress, schedule, index));
    reasons
}

fn of_waits(
    problem: &Problem,
    progress: &Progress,
    schedule: &Schedule,
    index: usize,
    id: &str,
    reasons: &mut Vec<Reason>,
) {
    for wait in &problem.waits {
        if wait.opens == id {
            let closes = wait.closes.clone();
            reasons.push(Reason::StartsWait { closes, at_least: wait.at_least });
        } else if wait.closes == id {
            let before = progress.done.get(&wait.opens).map(|span| span.end);
            let planned = schedule.step_of(&wait.opens).map(|step| step.end);
            if let Some(end) = before.or(planned) {
                reasons.push(Reason::EndsWait {
                    opens: wait.opens.clone(),
                    ran: schedule.steps[index].start - end,
                    at_most: wait.at_most,
                });
            }
        }
    }
}

fn of_orders(problem: &Problem, schedule: &Schedule, id: &str, reasons: &mut Vec<Reason>) {
    let later = |why: Why| -> Vec<String> {
        let orders = problem.orders.iter().filter(|order| order.first == id && order.why == why);
        let mut later: Vec<String> = Vec::new();
        for order in orders.filter(|order| schedule.step_of(&order.then).is_some()) {
            if !later.contains(&order.then) {
                later.push(order.then.clone());
            }
        }
        later
    };
    let safe = later(Why::Safety);
    if !safe.is_empty() {
        reasons.push(Reason::MakesSafe(safe));
    }
    for state in &problem.states {
        for change in &state.changes {
            if change.after.iter().any(|guard| guard == id) {
                reasons.push(Reason::Guards { state: state.id.clone(), to: change.to.clone() });
            }
        }
    }
    let next = later(Why::Sequence);
    if !next.is_empty() {
        reasons.push(Reason::OpensTheWay(next));
    }
}

/// A state that is changed during the visit and stands now as the act needs it.
fn of_needs(
    problem: &Problem,
    schedule: &Schedule,
    index: usize,
    id: &str,
    reasons: &mut Vec<Reason>,
) {
    let Some(act) = problem.act(id) else { return };
    for need in &act.needs {
        let change = schedule.steps[..index].iter().rev().find_map(|step| match &step.task {
            Task::Change { state, to } if *state == need.state => Some(to.clone()),
            Task::Change { .. } | Task::Act(_) => None,
        });
        if let Some(value) = change {
            reasons.push(Reason::WhileSo { state: need.state.clone(), value });
        }
    }
}

/// The acts up to the next change of a state that need the value it has until then.
fn acts_that_need(
    problem: &Problem,
    schedule: &Schedule,
    index: usize,
    state: &str,
    to: &str,
) -> Vec<String> {
    let mut acts = Vec::new();
    for step in &schedule.steps[index + 1..] {
        match &step.task {
            Task::Change { state: other, .. } if other == state => break,
            Task::Change { .. } => {}
            Task::Act(id) => {
                let needs = problem.act(id).map(|act| act.needs.as_slice()).unwrap_or_default();
                let wanted = |need: &&crate::Need| need.state == state;
                if let Some(need) = needs.iter().find(wanted)
                    && need.any_of.iter().any(|value| value == to)
                {
                    acts.push(id.clone());
                }
            }
        }
    }
    acts
}

/// Whether the step is where the person stands, or near.
fn of_the_way(
    problem: &Problem,
    progress: &Progress,
    schedule: &Schedule,
    index: usize,
) -> Option<Reason> {
    let step = &schedule.steps[index];
    let person = *step.people.first()?;
    let before = schedule.steps[..index].iter().rev().find(|one| one.people.contains(&person));
    let from = match before {
        Some(before) => &before.place,
        None => progress.at.get(person).unwrap_or(&problem.start),
    };
    if *from == step.place {
        return Some(Reason::SamePlace);
    }
    let at = |place: &str| problem.places.iter().position(|one| one == place);
    Some(Reason::Near(problem.walks[at(from)?][at(&step.place)?]))
}
