//! Which requirements do not go together, where no schedule keeps every rule.

use crate::compact::Compact;
use crate::preference::Preference;
use crate::problem::{Problem, Progress};
use crate::search::{Budget, search};

/// One requirement of a problem that can be given up to see whether the rest goes together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Requirement {
    /// An act has to lie in one of its windows.
    Windows(String),
    /// A wait has a latest return; by the act that ends it.
    LatestReturn(String),
    /// A wait keeps site states; by the act that opens it.
    Keeps(String),
    /// A wait wants quiet; by the act that opens it.
    Quiet(String),
    /// A wait claims something; by the act that opens it.
    Claims(String),
    /// One act comes before another.
    Order(String, String),
    /// A change of a site state waits for a guard: state, value.
    Guards(String, String),
    /// A site state is left at a value.
    Leave(String),
}

impl Requirement {
    /// The requirement in words; `name` gives what people read for an id.
    #[must_use]
    pub fn in_words(&self, name: &dyn Fn(&str) -> String) -> String {
        match self {
            Self::Windows(act) => format!("{} only in its window", name(act)),
            Self::LatestReturn(act) => format!("the latest return to {}", name(act)),
            Self::Keeps(act) => format!("what must stay as it is after {}", name(act)),
            Self::Quiet(act) => format!("what must be left alone after {}", name(act)),
            Self::Claims(act) => format!("what {} has for itself", name(act)),
            Self::Order(first, then) => format!("{} before {}", name(first), name(then)),
            Self::Guards(state, to) => format!("what comes before {} {to}", name(state)),
            Self::Leave(state) => format!("{} left as it should be", name(state)),
        }
    }

    /// Takes the requirement out of a problem.
    fn give_up(&self, problem: &mut Problem) {
        match self {
            Self::Windows(id) => {
                for act in problem.acts.iter_mut().filter(|act| act.id == *id) {
                    act.windows.clear();
                }
            }
            Self::LatestReturn(id) => {
                for wait in problem.waits.iter_mut().filter(|wait| wait.closes == *id) {
                    wait.at_most = None;
                }
            }
            Self::Keeps(id) => {
                for wait in problem.waits.iter_mut().filter(|wait| wait.opens == *id) {
                    wait.keeps.clear();
                }
            }
            Self::Quiet(id) => {
                for wait in problem.waits.iter_mut().filter(|wait| wait.opens == *id) {
                    wait.quiet.clear();
                }
            }
            Self::Claims(id) => {
                for wait in problem.waits.iter_mut().filter(|wait| wait.opens == *id) {
                    wait.claims.clear();
                }
            }
            Self::Order(first, then) => {
                problem.orders.retain(|order| (&order.first, &order.then) != (first, then));
            }
            Self::Guards(id, to) => {
                let states = problem.states.iter_mut().filter(|state| state.id == *id);
                let changes = states.flat_map(|state| &mut state.changes);
                for change in changes.filter(|change| change.to == *to) {
                    change.after.clear();
                }
            }
            Self::Leave(id) => {
                for state in problem.states.iter_mut().filter(|state| state.id == *id) {
                    state.leave = None;
                }
            }
        }
    }
}

/// Requirements that cannot all be kept, as few as were found: giving up any one of them lets a search of
/// this budget keep all the rest. Empty if everything can be kept, or if giving them all up does not help.
///
/// Requirements are given up in halves first, so a problem with one clash takes some dozens of searches.
#[must_use]
pub fn clash(problem: &Problem, progress: &Progress, budget: Budget) -> Vec<Requirement> {
    let kept = |given_up: &[Requirement]| {
        let mut rest = problem.clone();
        for requirement in given_up {
            requirement.give_up(&mut rest);
        }
        let compact = Compact::new(&rest, progress);
        let weights = Preference::FinishSoonest.weights();
        search(&compact, weights, budget, None).1.broken == 0
    };
    let all = requirements(problem);
    if kept(&[]) || !kept(&all) {
        return Vec::new();
    }
    // What may be given up without help is no part of the clash: `core` shrinks to what is needed.
    let mut core = all.clone();
    let mut size = core.len().div_ceil(2);
    loop {
        let mut start = 0;
        while start < core.len() {
            let end = (start + size).min(core.len());
            let mut smaller = core.clone();
            smaller.drain(start..end);
            // Everything outside `smaller` is given up: does what is left still clash?
            let outside: Vec<Requirement> =
                all.iter().filter(|one| !smaller.contains(one)).cloned().collect();
            if smaller.is_empty() || kept(&outside) {
                start = end;
            } else {
                core = smaller;
            }
        }
        if size == 1 {
            return core;
        }
        size = size.div_ceil(2);
    }
}

/// Everything that can be given up.
fn requirements(problem: &Problem) -> Vec<Requirement> {
    let mut all = Vec::new();
    for act in problem.acts.iter().filter(|act| !act.windows.is_empty()) {
        all.push(Requirement::Windows(act.id.clone()));
    }
    for wait in &problem.waits {
        if wait.at_most.is_some() {
            all.push(Requirement::LatestReturn(wait.closes.clone()));
        }
        for (is_there, requirement) in [
            (!wait.keeps.is_empty(), Requirement::Keeps(wait.opens.clone())),
            (!wait.quiet.is_empty(), Requirement::Quiet(wait.opens.clone())),
            (!wait.claims.is_empty(), Requirement::Claims(wait.opens.clone())),
        ] {
            if is_there {
                all.push(requirement);
            }
        }
    }
    for order in &problem.orders {
        all.push(Requirement::Order(order.first.clone(), order.then.clone()));
    }
    for state in &problem.states {
        for change in state.changes.iter().filter(|change| !change.after.is_empty()) {
            all.push(Requirement::Guards(state.id.clone(), change.to.clone()));
        }
        if state.leave.is_some() {
            all.push(Requirement::Leave(state.id.clone()));
        }
    }
    all
}
