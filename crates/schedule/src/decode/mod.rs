//! From a priority order to a schedule: a replay against clock, walking, site states, waits and guards.
//!
//! An order says only what matters first. The replay does what an act waits for before the act, makes
//! the changes of site states that are needed when they are needed, and ends a wait before the next
//! thing would break it. It always comes to an end and always does everything; where rules cannot be
//! kept it counts how badly they are broken, so that a search can climb out.

mod acts;
mod changes;
mod people;
mod standing;

use standing::Standing;

use crate::Ticks;
use crate::compact::{Compact, Item};
use crate::preference::{Score, Weights};

/// Acts may wait for one another this deep; deeper is a circle.
const DEEPEST: u32 = 60;
/// So often the way is cleared for one act; each time something was done or nothing helps.
const ROUNDS: u32 = 16;
/// A checkpoint after so many items of the order.
const STRIDE: usize = 8;

/// How badly a rule is broken, in half minutes of lateness that would be as bad.
mod penalty {
    /// A wait's rule.
    pub(super) const WAIT: i64 = 200;
    /// A need or an order.
    pub(super) const NEED: i64 = 500;
    /// A state that cannot be reached or is not left as it should be.
    pub(super) const STATE: i64 = 1000;
    /// A circle.
    pub(super) const CIRCLE: i64 = 5000;
}

/// One step of a replay.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RawStep {
    pub(crate) item: Item,
    pub(crate) start: Ticks,
    pub(crate) end: Ticks,
    /// One bit a person.
    pub(crate) people: u8,
}

/// Replays orders of one problem.
pub(crate) struct Decoder<'a> {
    pub(crate) problem: &'a Compact,
    weights: Weights,
    several: bool,
    at: Standing,
    /// Acts that are being made possible: a circle comes back to one of them.
    in_hand: Vec<bool>,
    depth: u32,
    /// The order without changes that changed nothing.
    kept: Vec<Item>,
    /// Checkpoints of the order that was accepted last, and of the one replayed last.
    marks: Marks,
    fresh: Marks,
    /// How many marks of the accepted order the last replay shares.
    shared: usize,
    steps: Option<Vec<RawStep>>,
}

/// Checkpoints along an order; memory of earlier ones is used again.
#[derive(Default)]
struct Marks {
    marks: Vec<(usize, Standing)>,
    used: usize,
}

impl<'a> Decoder<'a> {
    pub(crate) fn new(problem: &'a Compact, weights: Weights) -> Self {
        let at = Standing::start(problem);
        let mut marks = Marks::default();
        marks.push(0, &at);
        Self {
            problem,
            weights,
            several: problem.skills.len() > 1,
            at,
            in_hand: vec![false; problem.acts.len()],
            depth: 0,
            kept: Vec::new(),
            marks,
            fresh: Marks::default(),
            shared: 1,
            steps: None,
        }
    }

    /// Replays an order from its start.
    pub(crate) fn score(&mut self, order: &[Item]) -> Score {
        self.score_changed(order, 0, i64::MAX)
    }

    /// Replays an order that agrees with the accepted one up to an index. Stops early, with a score
    /// that is at least `enough`, once it is clear that it cannot be better than that.
    pub(crate) fn score_changed(&mut self, order: &[Item], unchanged: usize, enough: i64) -> Score {
        self.shared = self.marks.before(unchanged);
        let (from, standing) = &self.marks.marks[self.shared - 1];
        let from = *from;
        self.at.copy_from(standing);
        self.fresh.used = 0;
        self.kept.clear();
        self.kept.extend_from_slice(&order[..from]);
        let mut next_mark = from + STRIDE;
        for &item in &order[from..] {
            match item {
                Item::Act(act) => {
                    self.kept.push(item);
                    self.perform(act);
                }
                Item::Change { state, to } => {
                    if self.at.values[usize::from(state)] == to {
                        continue;
                    }
                    self.kept.push(item);
                    self.change(state, to);
                }
            }
            if self.kept.len() >= next_mark {
                if self.at.broken > 0 && self.weights.cost_of_broken(self.at.broken) >= enough {
                    return Score { broken: self.at.broken, cost: i64::MAX, ..Score::default() };
                }
                self.fresh.push(self.kept.len(), &self.at);
                next_mark = self.kept.len() + STRIDE;
            }
        }
        self.leave_the_site();
        self.finish()
    }

    /// Makes the order that was replayed last the one that later ones are compared with. Gives it
    /// without the changes that changed nothing.
    pub(crate) fn accept(&mut self, order: &mut Vec<Item>) {
        self.marks.used = self.shared;
        for index in 0..self.fresh.used {
            self.marks.take(&mut self.fresh.marks[index]);
        }
        std::mem::swap(order, &mut self.kept);
    }

    /// The steps of an order.
    pub(crate) fn steps(&mut self, order: &[Item]) -> (Score, Vec<RawStep>) {
        self.steps = Some(Vec::new());
        let score = self.score_changed(order, 0, i64::MAX);
        (score, self.steps.take().unwrap_or_default())
    }

    /// Brings every site state to the value that it is left at, the nearest first, and those that
    /// another one still needs last.
    fn leave_the_site(&mut self) {
        let states = &self.problem.states;
        for _ in 0..2 * states.len() {
            let astray = |at: &Standing, index: usize| {
                let leave = states[index].leave?;
                (at.values[index] != leave).then_some(leave)
            };
            let mut best: Option<(Ticks, u8, u8)> = None;
            for index in 0..states.len() {
                let Some(leave) = astray(&self.at, index) else { continue };
                let Some(change) = &states[index].changes[usize::from(leave)] else { continue };
                let mut cost = self.problem.walk(self.at.places[0], change.place);
                if !change.needs.iter().all(|&need| self.at.meets(need)) {
                    cost += 50;
                }
                let needed = (0..states.len()).any(|other| {
                    let change = astray(&self.at, other)
                        .and_then(|leave| states[other].changes[usize::from(leave)].as_ref());
                    let mut needs = change.iter().flat_map(|change| &change.needs);
                    needs.any(|&(state, values)| {
                        usize::from(state) == index && values >> leave & 1 == 0
                    })
                });
                if needed {
                    cost += 100;
                }
                if best.is_none_or(|(other, ..)| cost < other) {
                    let state = u8::try_from(index).unwrap_or(u8::MAX);
                    best = Some((cost, state, leave));
                }
            }
            let Some((_, state, to)) = best else { break };
            // Written down, so that a search can move something behind it.
            self.kept.push(Item::Change { state, to });
            self.change(state, to);
        }
        for (index, state) in states.iter().enumerate() {
            if state.leave.is_some_and(|leave| leave != self.at.values[index]) {
                self.at.broken += penalty::STATE;
            }
        }
    }

    /// Everybody back to the end, and the score.
    fn finish(&mut self) -> Score {
        let mut finish = self.problem.standing.time;
        for person in 0..self.problem.skills.len() {
            let walk = self.problem.walk(self.at.places[person], self.problem.end);
            self.at.walking += walk;
            finish = finish.max(self.at.free[person] + walk);
        }
        let acts = i64::try_from(self.problem.acts.len().max(1)).unwrap_or(i64::MAX);
        let mut score = Score {
            broken: self.at.broken,
            finish,
            walking: self.at.walking,
            idle: self.at.idle,
            switches: self.at.switches,
            mean_end: self.at.completion / acts,
            cost: 0,
        };
        score.cost = self.weights.cost(&score);
        score
    }
}

impl Marks {
    fn push(&mut self, at: usize, standing: &Standing) {
        if self.used == self.marks.len() {
            self.marks.push((at, standing.clone()));
        } else {
            let mark = &mut self.marks[self.used];
            mark.0 = at;
            mark.1.copy_from(standing);
        }
        self.used += 1;
    }

    /// How many marks stand at or before this index.
    fn before(&self, index: usize) -> usize {
        self.marks[..self.used].partition_point(|(at, _)| *at <= index)
    }

    /// Takes a mark over, leaving an old one's memory in its place.
    fn take(&mut self, mark: &mut (usize, Standing)) {
        if self.used == self.marks.len() {
            self.marks.push(mark.clone());
        } else {
            std::mem::swap(&mut self.marks[self.used], mark);
        }
        self.used += 1;
    }
}
