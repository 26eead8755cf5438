//! How long work takes: best and median of several runs.

use std::time::Instant;

use super::{Outcome, processor_seconds};

/// Best and median time of several runs, seconds. The first run warms up and is not counted. It is this thread's time on
/// a processor where the system tells it, so that a busy machine does not count against either side.
pub(super) fn times(runs: usize, work: impl FnMut() -> Outcome) -> Outcome<(f64, f64)> {
    timed(runs, work, processor_seconds)
}

/// The same by the clock on the wall, for work that waits for the disk.
#[cfg(feature = "whole")]
pub(super) fn times_by_the_clock(
    runs: usize,
    work: impl FnMut() -> Outcome,
) -> Outcome<(f64, f64)> {
    timed(runs, work, || None)
}

/// Linux counts a thread's time in ticks of 4 ms or so: shorter work is repeated until it has taken twenty of them.
const LONG_ENOUGH: f64 = 0.08;

fn timed(
    runs: usize,
    mut work: impl FnMut() -> Outcome,
    processor: impl Fn() -> Option<f64>,
) -> Outcome<(f64, f64)> {
    work()?;
    let mut times = Vec::new();
    for _ in 0..runs {
        let (start, before) = (Instant::now(), processor());
        let mut repeats = 0.0;
        times.push(loop {
            work()?;
            repeats += 1.0;
            let elapsed = start.elapsed().as_secs_f64();
            let taken = before.zip(processor()).map_or(elapsed, |(before, after)| after - before);
            if before.is_none() || taken >= LONG_ENOUGH {
                break taken / repeats;
            }
        });
    }
    times.sort_by(f64::total_cmp);
    let best = times.first().copied().unwrap_or(f64::NAN);
    Ok((best, times.get(runs / 2).copied().unwrap_or(f64::NAN)))
}
