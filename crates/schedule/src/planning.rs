//! A schedule for a problem: at the desk from nothing, in the field from the order at hand.

use crate::compact::{Compact, Item};
use crate::decode::{Decoder, RawStep};
use crate::preference::{Preference, Score};
use crate::problem::{Problem, Progress};
use crate::schedule::{Schedule, Step, Task};
use crate::search::{Budget, search};

/// Plans a visit from where it stands. The problem must have passed [`check`](crate::check).
///
/// The schedule does everything that is not done, skipped or blocked. If rules cannot all be kept, it
/// breaks as little as was found; [`validate`](crate::validate()) says what.
#[must_use]
pub fn plan(
    problem: &Problem,
    progress: &Progress,
    preference: Preference,
    budget: Budget,
) -> Schedule {
    let compact = Compact::new(problem, progress);
    let weights = preference.weights();
    let (order, _) = search(&compact, weights, budget, None);
    let (score, steps) = Decoder::new(&compact, weights).steps(&order);
    schedule(problem, &compact, &score, steps)
}

/// The schedule that follows an order as it stands, with only what has to be put in or before: what a
/// person with a list on paper would do.
#[must_use]
pub fn in_order(problem: &Problem, progress: &Progress, order: &[Task]) -> Schedule {
    let budget = Budget { decodes: 0, seed: 0 };
    crate::field::replan(problem, progress, order, Preference::FinishSoonest, budget).schedule
}

/// A replay in the words of the problem.
pub(crate) fn schedule(
    problem: &Problem,
    compact: &Compact,
    score: &Score,
    raw: Vec<RawStep>,
) -> Schedule {
    let mut steps: Vec<Step> =
        raw.into_iter().map(|step| in_words(problem, compact, step)).collect();
    // Two people's steps come in the order in which they were decided, not in time.
    steps.sort_by_key(|step| (step.start, step.end));
    Schedule {
        steps,
        finish: score.finish,
        walking: score.walking,
        idle: score.idle,
        switches: score.switches,
        penalty: score.broken,
    }
}

fn in_words(problem: &Problem, compact: &Compact, raw: RawStep) -> Step {
    let (task, place) = match raw.item {
        Item::Act(number) => {
            let act = &compact.acts[usize::from(number)];
            (Task::Act(problem.acts[act.sources[0]].id.clone()), act.place)
        }
        Item::Change { state, to } => {
            let one = &compact.states[usize::from(state)];
            let change = one.changes[usize::from(to)].as_ref();
            let task = Task::Change {
                state: problem.states[one.source].id.clone(),
                to: one.values[usize::from(to)].clone(),
            };
            (task, change.map_or(compact.start, |change| change.place))
        }
    };
    Step {
        task,
        place: problem.places[usize::from(place)].clone(),
        people: (0..compact.skills.len()).filter(|person| raw.people >> person & 1 == 1).collect(),
        start: raw.start,
        end: raw.end,
    }
}
