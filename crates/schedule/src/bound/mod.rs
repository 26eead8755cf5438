//! How much better any schedule could be: a lower bound on the finish, by exact search without a clock.
//!
//! One person's finish is hands-on time, changes of site states, walking and idling. The search drops the
//! lengths of waits and the windows, keeps everything else, and finds the least that changes and walking
//! can come to. Whatever it has not ruled out when it stops is a bound that holds. Two people share what
//! has to be done; the longest chain of acts and waits holds for both.

mod chain;
mod classes;
mod estimate;
mod ledger;
mod search;
mod tours;
mod workable;

use crate::Ticks;
use crate::compact::Compact;
use crate::problem::{Problem, Progress};
use crate::schedule::Schedule;
use crate::ticks::{NEVER, length_in_words};

/// A time that no schedule can finish before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// No schedule finishes earlier.
    pub finish: Ticks,
    /// Whether the search came to its end; more states would not raise the bound.
    pub complete: bool,
    /// States that it looked at.
    pub states: usize,
}

impl Bound {
    /// How far a schedule is from the best possible, in a sentence.
    #[must_use]
    pub fn gap_in_words(&self, schedule: &Schedule) -> String {
        let gap = schedule.finish - self.finish;
        if gap <= 0 {
            return "no order finishes earlier".to_owned();
        }
        format!("at most {} from the best possible", length_in_words(gap))
    }
}

/// A lower bound on the finish of every schedule. Looks at no more than `most_states` states, each
/// of some 60 bytes of memory; `known` is a schedule that keeps the rules, if there is one: nothing above
/// it is looked for.
#[must_use]
pub fn lower_bound(
    problem: &Problem,
    progress: &Progress,
    known: Option<&Schedule>,
    most_states: usize,
) -> Bound {
    // Where a walk through a third place is shorter than the straight one, no schedule walks less than that.
    let compact = Compact::new(problem, progress).with_short_cuts();
    let known = known.filter(|schedule| schedule.penalty == 0).map_or(NEVER, |one| one.finish);
    let chain = chain::longest(&compact);
    let mut bound = if compact.skills.len() == 1 {
        search::least_without_clock(&compact, known, most_states)
    } else {
        Bound { finish: shared(&compact), complete: true, states: 0 }
    };
    bound.finish = bound.finish.max(chain).min(known);
    bound
}

/// The work shared evenly: no walking, no idling.
fn shared(problem: &Compact) -> Ticks {
    let people = Ticks::try_from(problem.skills.len()).unwrap_or(1);
    let undone = |number: usize| problem.standing.ends[number] == crate::compact::UNDONE;
    let work: Ticks = problem
        .acts
        .iter()
        .enumerate()
        .filter(|(number, _)| undone(*number))
        .map(|(_, act)| act.ticks * if act.together { people } else { 1 })
        .sum();
    let free: Ticks = problem.standing.people.iter().map(|&(_, free)| free).sum();
    (work + free + people - 1) / people
}
