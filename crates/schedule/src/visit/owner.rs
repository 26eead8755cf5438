//! The note for the owner: what to switch on before the visit and what to leave open, from the schedule.

use super::Visit;
use crate::Ticks;
use crate::schedule::Schedule;
use crate::ticks::length_in_words;

/// A wait as long as this is worth starting before the visit.
const WORTH_STARTING_EARLY: Ticks = 60 * 2;

/// Sentences for the owner, in the order in which they matter.
#[must_use]
pub fn note_for_the_owner(visit: &Visit, schedule: &Schedule) -> Vec<String> {
    let problem = &visit.problem;
    let clock = |ticks: Ticks| {
        let time = visit.time(ticks);
        format!("{:02}:{:02}", time.hour(), time.minute())
    };
    let mut note = vec![format!(
        "The visit is from {} to about {}.",
        clock(visit.progress.now),
        clock(schedule.finish)
    )];
    for wait in &problem.waits {
        let running = visit.progress.done.contains_key(&wait.opens);
        if wait.at_least < WORTH_STARTING_EARLY || running {
            continue;
        }
        note.push(format!(
            "If it can be done safely, start this the day before, and write down when: {}. It needs {} at least.",
            visit.title(&wait.opens),
            length_in_words(wait.at_least)
        ));
    }
    let used: Vec<String> = problem.states.iter().map(|state| visit.title(&state.id)).collect();
    if !used.is_empty() {
        note.push(format!(
            "These are used and have to be there, working: {}. Please change nothing on the day; they are left as \
             they were found.",
            used.join(", ")
        ));
    }
    note.push(
        "Please leave every door, hatch, storage compartment and the utility connections unlocked, the way around \
         and under the unit clear, and papers, manuals and keys at hand."
            .to_owned(),
    );
    let papers = schedule.steps.iter().filter(|step| step.place == "papers");
    let from = papers.clone().map(|step| step.start).min();
    let to = papers.map(|step| step.end).max();
    if let (Some(from), Some(to)) = (from, to) {
        note.push(format!(
            "There are questions for you between {} and {}.",
            clock(from),
            clock(to)
        ));
    }
    note
}
