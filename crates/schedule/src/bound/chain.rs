//! The longest chain: acts that wait for one another, with the waits between them and the way to the end.

use crate::Ticks;
use crate::compact::{Compact, UNDONE};

/// No schedule finishes before the last act of its longest chain, and the walk from there.
pub(super) fn longest(problem: &Compact) -> Ticks {
    let now = &problem.standing;
    let count = problem.acts.len();
    let mut ends: Vec<Ticks> = now.ends.clone();
    let mut waiting: Vec<usize> = (0..count).filter(|&act| ends[act] == UNDONE).collect();
    let mut latest = now.people.iter().map(|&(_, free)| free).max().unwrap_or(now.time);
    while !waiting.is_empty() {
        let ready = waiting.iter().position(|&act| {
            problem.acts[act].before.iter().all(|&earlier| ends[usize::from(earlier)] != UNDONE)
        });
        // A circle has no chain.
        let Some(ready) = ready else { break };
        let number = waiting.remove(ready);
        let act = &problem.acts[number];
        let mut start = now.time;
        for &earlier in &act.before {
            start = start.max(ends[usize::from(earlier)]);
        }
        for &closed in &act.closes {
            let wait = &problem.waits[usize::from(closed)];
            start = start.max(ends[usize::from(wait.opens)] + wait.at_least);
        }
        let fits = act.windows.iter().filter(|&&(_, to)| start + act.ticks <= to);
        start = fits.map(|&(from, _)| from.max(start)).min().unwrap_or(start);
        ends[number] = start + act.ticks;
        latest = latest.max(ends[number] + problem.walk(act.place, problem.end));
    }
    latest
}
