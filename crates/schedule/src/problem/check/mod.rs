//! Whether a problem can be planned at all: every fault at once, each naming what clashes.

mod names;
mod needs;
mod times;

use super::Problem;

/// Why a problem cannot be planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// What kind of fault, for whoever says it in words of his own.
    pub kind: FaultKind,
    /// Ids of the acts, states or places that clash.
    pub about: Vec<String>,
    /// What is wrong, in a sentence.
    pub sentence: String,
}

/// Kinds of faults.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultKind {
    /// A name that leads nowhere or is there twice, or a size that is not counted.
    Written,
    /// Acts each of which must come before the next, in a circle.
    Circle,
    /// An act that cannot be done within its windows, after what comes before it.
    Window,
    /// A wait that must end before what comes meanwhile can be done.
    Wait,
    /// An act or a wait that wants a state to have two values at once.
    Contradiction,
    /// A state that can never be brought to what is needed, or to how it should be left.
    Unreachable,
}

impl Fault {
    fn new(kind: FaultKind, about: &[&str], sentence: String) -> Self {
        Self { kind, about: about.iter().map(|&id| id.to_owned()).collect(), sentence }
    }
}

/// Every fault that shows without planning: names that lead nowhere, circles, requirements that can
/// never be met together. A problem without any can still be impossible; then a
/// [`clash()`](crate::clash()) says which requirements do not go together.
#[must_use]
pub fn check(problem: &Problem) -> Vec<Fault> {
    let faults = names::faults(problem);
    if !faults.is_empty() {
        return faults;
    }
    let mut faults = needs::faults(problem);
    faults.extend(times::faults(problem));
    faults
}
