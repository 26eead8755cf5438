//! In the field: a schedule mended from the moment at hand, changed no more than it must be.

use crate::Ticks;
use crate::compact::{Compact, Item, UNDONE, small};
use crate::decode::Decoder;
use crate::planning::schedule;
use crate::preference::Preference;
use crate::problem::{Problem, Progress, Wait};
use crate::schedule::{Schedule, Step, Task};
use crate::search::{Budget, search};

/// A new order is taken only if it saves at least this much: people hate a list that jumps about.
const WORTH_IT: Ticks = 4;

/// A schedule that was mended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Replanned {
    /// The schedule from now on.
    pub schedule: Schedule,
    /// Whether the order is another one than before, and not only the times.
    pub reordered: bool,
}

/// Mends a schedule after something went otherwise: the same order from now on, or another one if
/// that saves two minutes or keeps a rule that the old one would break.
///
/// `order` is what was planned ([`Schedule::order`]); what of it is done, skipped or blocked drops out,
/// and what is new comes last before the search. Acts in hand ([`Progress::done`] with an end to come) and
/// running waits stay as they are. With a budget of 0 the order is only mended.
#[must_use]
pub fn replan(
    problem: &Problem,
    progress: &Progress,
    order: &[Task],
    preference: Preference,
    budget: Budget,
) -> Replanned {
    let compact = Compact::new(problem, progress);
    let weights = preference.weights();
    let old = items(problem, &compact, order);
    let mut decoder = Decoder::new(&compact, weights);
    let (old_score, old_steps) = decoder.steps(&old);
    let mended = || schedule(problem, &compact, &old_score, old_steps.clone());
    if budget.decodes == 0 {
        return Replanned { schedule: mended(), reordered: false };
    }
    let (new, _) = search(&compact, weights, budget, Some(old));
    let (score, steps) = decoder.steps(&new);
    let worth_it = score.broken < old_score.broken
        || score.broken == old_score.broken
            && weights.cost(&score) + weights.of_first(WORTH_IT) <= weights.cost(&old_score);
    if worth_it {
        Replanned { schedule: schedule(problem, &compact, &score, steps), reordered: true }
    } else {
        Replanned { schedule: mended(), reordered: false }
    }
}

/// The tasks that are left, in their order, and after them whatever is not among them.
fn items(problem: &Problem, compact: &Compact, order: &[Task]) -> Vec<Item> {
    let undone = |number: &usize| compact.standing.ends[*number] == UNDONE;
    let mut left: Vec<usize> = (0..compact.acts.len()).filter(undone).collect();
    let id_of = |number: usize| problem.acts[compact.acts[number].sources[0]].id.as_str();
    // Changes before something that is over are over too.
    let is_left = |id: &str| left.iter().any(|&number| id_of(number) == id);
    let is_over = |task: &Task| matches!(task, Task::Act(id) if !is_left(id));
    let over = order.iter().rposition(is_over).map_or(0, |last| last + 1);
    let mut items = Vec::new();
    for (index, task) in order.iter().enumerate() {
        match task {
            Task::Act(id) => {
                if let Some(at) = left.iter().position(|&number| id_of(number) == id) {
                    items.push(Item::Act(small(left.remove(at))));
                }
            }
            Task::Change { .. } if index < over => {}
            Task::Change { state, to } => {
                for (number, one) in (0_u8..).zip(&compact.states) {
                    if problem.states[one.source].id != *state {
                        continue;
                    }
                    for (value, name) in (0_u8..).zip(&one.values) {
                        if name == to {
                            items.push(Item::Change { state: number, to: value });
                        }
                    }
                }
            }
        }
    }
    items.extend(left.into_iter().map(|number| Item::Act(small(number))));
    items
}

/// A wait that runs now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RunningWait {
    /// The wait.
    pub wait: Wait,
    /// Since when it runs.
    pub since: Ticks,
    /// From when on it may be ended.
    pub earliest: Ticks,
    /// Until when it has to be ended.
    pub latest: Option<Ticks>,
}

/// The waits that run, the one that can be ended first before the others.
#[must_use]
pub fn running_waits(problem: &Problem, progress: &Progress) -> Vec<RunningWait> {
    let mut running: Vec<RunningWait> = problem
        .waits
        .iter()
        .filter(|wait| {
            !progress.done.contains_key(&wait.closes)
                && !progress.skipped.contains_key(&wait.closes)
        })
        .filter_map(|wait| {
            let since = progress.done.get(&wait.opens)?.end;
            Some(RunningWait {
                wait: wait.clone(),
                since,
                earliest: since + wait.at_least,
                latest: wait.at_most.map(|most| since + most),
            })
        })
        .collect();
    running.sort_by(|one, other| {
        (one.earliest, &one.wait.closes).cmp(&(other.earliest, &other.wait.closes))
    });
    running
}

/// What a person does next, by its place in [`Schedule::steps`].
#[must_use]
pub fn what_now(schedule: &Schedule, person: usize) -> Option<(usize, &Step)> {
    schedule.steps.iter().enumerate().find(|(_, step)| step.people.contains(&person))
}
