//! Whether a problem can be planned at all: every fault at once, each naming what clashes.

mod names;
mod needs;
mod times;

use super::Problem;

/// Why a problem cannot be planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Ids of the acts, states or places that clash.
    pub about: Vec<String>,
    /// What is wrong, in a sentence.
    pub sentence: String,
}

impl Fault {
    fn new(about: &[&str], sentence: String) -> Self {
        Self { about: about.iter().map(|&id| id.to_owned()).collect(), sentence }
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
