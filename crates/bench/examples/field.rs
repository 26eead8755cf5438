//! The mending of a schedule in the field as a WebAssembly program: `field.mjs` calls `main` again and again and times it.
//!
//! The first call plans an invented visit of 150 acts. Each later one mends it after somebody did first what was planned
//! for later, at four places of the day and from three seeds by turns. The host finds the answer by its heading.

use std::sync::Mutex;
use std::sync::atomic::{AtomicI32, Ordering::Relaxed};

use schedule::{
    Budget, Preference, Problem, Progress, Schedule, Span, Task, plan, read_problem, replan,
    validate,
};

const VISIT: &str = include_str!("../../schedule/tests/visits/hundred_fifty_acts_a.json");

/// Steps done, and how far ahead is what somebody does next instead.
const DEVIATIONS: [(usize, usize); 4] = [(10, 30), (40, 25), (80, 40), (110, 20)];
/// Orders tried in the field, and at the desk to compare with.
const FIELD: u32 = 3_000;
const DESK: u32 = 150_000;

/// In the order that the host reads: a heading, then 32-bit numbers.
#[repr(C)]
struct Answer {
    heading: [u8; 16],
    /// Which deviation, from 0; -1 for the plan itself.
    deviation: AtomicI32,
    /// Finish after the old order is only followed, after it is mended, and planned anew at the desk.
    followed: AtomicI32,
    mended: AtomicI32,
    anew: AtomicI32,
    /// Rules that the mended schedule breaks.
    broken: AtomicI32,
}

static ANSWER: Answer = Answer {
    heading: *b"nearside field\n\n",
    deviation: AtomicI32::new(-1),
    followed: AtomicI32::new(0),
    mended: AtomicI32::new(0),
    anew: AtomicI32::new(0),
    broken: AtomicI32::new(0),
};

/// The visit, its schedule, what planning anew comes to at each deviation, and the calls so far.
struct Day {
    problem: Problem,
    planned: Schedule,
    anew: Vec<i32>,
    calls: usize,
}

static DAY: Mutex<Option<Day>> = Mutex::new(None);

fn main() {
    let answer = std::hint::black_box(&ANSWER);
    let Ok(mut day) = DAY.lock() else { return };
    match day.as_mut() {
        None => *day = begin(),
        Some(day) => {
            let (done, ahead) = DEVIATIONS[day.calls % DEVIATIONS.len()];
            let seed = 1 + (day.calls / DEVIATIONS.len()) as u64 % 3;
            let (progress, order) = deviated(&day.planned, done, ahead);
            let mend = |decodes: u32| {
                let budget = Budget { decodes, seed };
                replan(&day.problem, &progress, &order, Preference::FinishSoonest, budget).schedule
            };
            let mended = mend(FIELD);
            let number = |count: usize| i32::try_from(count).unwrap_or(i32::MAX);
            answer.deviation.store(number(day.calls % DEVIATIONS.len()), Relaxed);
            answer.followed.store(mend(0).finish, Relaxed);
            answer.mended.store(mended.finish, Relaxed);
            answer.anew.store(day.anew[day.calls % DEVIATIONS.len()], Relaxed);
            let broken = validate(&day.problem, &progress, &mended).len();
            answer.broken.store(number(broken), Relaxed);
            day.calls += 1;
        }
    }
    std::hint::black_box(answer.heading);
}

fn begin() -> Option<Day> {
    let problem = read_problem(VISIT).ok()?;
    let budget = Budget { decodes: DESK, seed: 1 };
    let soonest = Preference::FinishSoonest;
    let planned = plan(&problem, &Progress::default(), soonest, budget);
    let anew = DEVIATIONS
        .iter()
        .map(|&(done, ahead)| {
            let (progress, _) = deviated(&planned, done, ahead);
            plan(&problem, &progress, soonest, budget).finish
        })
        .collect();
    Some(Day { problem, planned, anew, calls: 0 })
}

/// Where the visit stands after so many steps, and an order in which somebody does first what was planned for later.
fn deviated(planned: &Schedule, done: usize, ahead: usize) -> (Progress, Vec<Task>) {
    let mut progress = Progress::default();
    for step in &planned.steps[..done] {
        match &step.task {
            Task::Act(id) => {
                let span = Span { start: step.start, end: step.end, person: 0 };
                progress.done.insert(id.clone(), span);
            }
            Task::Change { state, to } => {
                progress.states.insert(state.clone(), to.clone());
            }
        }
        progress.now = step.end;
        progress.at = vec![step.place.clone()];
    }
    let mut order = planned.order().split_off(done);
    let next = order.remove(ahead.min(order.len() - 1));
    order.insert(0, next);
    (progress, order)
}
