//! From a priority order to a schedule: a replay against clock, walking, site states, waits and guards.
//!
//! An order says only what matters first. The replay does what an act waits for before the act, makes
//! the changes of site states that are needed when they are needed, and ends a wait before the next
//! thing would break it. It always comes to an end and always does everything; where rules cannot be
//! kept it counts how badly they are broken, so that a search can climb out.
//!
//! A search replays orders that differ little from one it accepted before. Such a replay begins at a
//! checkpoint before the first difference. Where one person works, it ends at the first checkpoint after
//! the last difference at which all is as it was but for the clock, if the rest would then go the same way.

mod acts;
mod changes;
mod facts;
mod marks;
mod people;
mod standing;

use facts::Facts;
use marks::Marks;
use standing::{Leeway, Standing};

use crate::Ticks;
use crate::compact::{Compact, Item};
use crate::preference::{Score, Weights};

/// Acts may wait for one another this deep; deeper is a circle.
const DEEPEST: u32 = 60;
/// So often the way is cleared for one act; each time something was done or nothing helps.
const ROUNDS: u32 = 16;
/// A checkpoint after so many items of the order.
const STRIDE: usize = 4;

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

/// Where an altered order differs from the accepted one.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Changed {
    /// Up to this index they are the same.
    pub(crate) from: usize,
    /// So many items at the end are the same.
    pub(crate) tail: usize,
}

/// Replays orders of one problem.
pub(crate) struct Decoder<'a> {
    pub(crate) problem: &'a Compact,
    facts: Facts,
    weights: Weights,
    several: bool,
    at: Standing,
    /// By how much the clock could have been off since the last checkpoint without any other decision.
    leeway: Leeway,
    /// Acts that are being made possible: a circle comes back to one of them.
    in_hand: Vec<bool>,
    depth: u32,
    /// The order without changes that changed nothing.
    kept: Vec<Item>,
    /// Checkpoints of the accepted order, how long it is, and where its replay ended.
    marks: Marks,
    accepted: usize,
    ended: Standing,
    steps: Option<Vec<RawStep>>,
}

impl Changed {
    /// Everything.
    pub(crate) const ALL: Self = Self { from: 0, tail: 0 };

    /// What is the same after another alteration too.
    pub(crate) fn and(self, other: Self) -> Self {
        Self { from: self.from.min(other.from), tail: self.tail.min(other.tail) }
    }
}

impl<'a> Decoder<'a> {
    pub(crate) fn new(problem: &'a Compact, weights: Weights) -> Self {
        let facts = Facts::new(problem);
        let at = Standing::start(problem, &facts);
        Self {
            problem,
            facts,
            weights,
            several: problem.skills.len() > 1,
            leeway: Leeway::ANY,
            in_hand: vec![false; problem.acts.len()],
            depth: 0,
            kept: Vec::new(),
            marks: Marks::new(&at),
            accepted: 0,
            ended: at.clone(),
            at,
            steps: None,
        }
    }

    /// Replays an order that differs from the accepted one somewhere. Stops early, with a score that is at
    /// least `enough`, once it is clear that it cannot be better than that.
    pub(crate) fn score_changed(&mut self, order: &[Item], changed: Changed, enough: i64) -> Score {
        let (from, mut ahead) = self.marks.resume(changed.from, &mut self.at);
        let same_from = self.same_from(order, changed);
        self.kept.clear();
        for (index, &item) in order.iter().enumerate().skip(from) {
            if index >= same_from {
                let accepted_index = index + self.accepted - order.len();
                if let Some(number) = self.alike_at(&mut ahead, accepted_index) {
                    self.at.go_on_like(self.marks.standing(number), &self.ended);
                    return self.score_at_end(&self.at);
                }
            }
            self.do_item(item);
            if self.at.broken > 0 && self.weights.cost_of_broken(self.at.broken) >= enough {
                return Score { broken: self.at.broken, cost: i64::MAX, ..Score::default() };
            }
        }
        self.leave_the_site();
        self.go_to_the_end();
        self.score_at_end(&self.at)
    }

    /// Makes an order, which differs from the accepted one somewhere, the accepted one. Leaves it without
    /// the changes that changed nothing.
    pub(crate) fn accept(&mut self, order: &mut Vec<Item>, changed: Changed) -> Score {
        let (from, mut ahead) = self.marks.resume(changed.from, &mut self.at);
        let same_from = self.same_from(order, changed);
        self.marks.begin_anew(ahead);
        self.leeway = Leeway::ANY;
        self.kept.clear();
        self.kept.extend_from_slice(&order[..from]);
        let mut next_mark = from + STRIDE;
        for (index, &item) in order.iter().enumerate().skip(from) {
            if index >= same_from {
                let accepted_index = index + self.accepted - order.len();
                if let Some(number) = self.alike_at(&mut ahead, accepted_index) {
                    self.marks.go_on_from(
                        number,
                        self.kept.len(),
                        &self.at,
                        self.leeway,
                        &mut self.ended,
                        &self.facts,
                    );
                    self.kept.extend_from_slice(&order[index..]);
                    return self.accepted(order);
                }
            }
            if self.do_item(item) {
                self.kept.push(item);
            }
            if self.kept.len() >= next_mark {
                self.marks.push(self.kept.len(), &self.at, self.leeway);
                self.leeway = Leeway::ANY;
                next_mark = self.kept.len() + STRIDE;
            }
        }
        self.leave_the_site();
        self.go_to_the_end();
        self.marks.close(self.leeway);
        self.ended.copy_from(&self.at);
        self.accepted(order)
    }

    /// Takes over the order as it was kept.
    fn accepted(&mut self, order: &mut Vec<Item>) -> Score {
        self.accepted = self.kept.len();
        std::mem::swap(order, &mut self.kept);
        self.score_at_end(&self.ended)
    }

    /// From which index on an order is the same as the accepted one, if the replay can make use of that.
    fn same_from(&self, order: &[Item], changed: Changed) -> usize {
        if self.several || !self.facts.straight {
            return order.len();
        }
        changed.from.max(order.len() - changed.tail)
    }

    /// The number of the checkpoint at an index of the accepted order if the replay goes on alike from there.
    fn alike_at(&self, ahead: &mut usize, index: usize) -> Option<usize> {
        let mark = self.marks.at(ahead, index)?;
        mark.goes_on_alike(&self.at, &self.ended).then_some(*ahead)
    }

    /// The steps of an order.
    pub(crate) fn steps(&mut self, order: &[Item]) -> (Score, Vec<RawStep>) {
        self.steps = Some(Vec::new());
        let score = self.score_changed(order, Changed::ALL, i64::MAX);
        (score, self.steps.take().unwrap_or_default())
    }

    /// Does an item of an order; says whether it was not done already.
    fn do_item(&mut self, item: Item) -> bool {
        match item {
            Item::Act(act) => self.perform(act),
            Item::Change { state, to } if self.at.values[usize::from(state)] == to => return false,
            Item::Change { state, to } => self.change(state, to),
        }
        true
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

    /// Everybody back to the end.
    fn go_to_the_end(&mut self) {
        for person in 0..self.problem.skills.len() {
            let walk = self.problem.walk(self.at.places[person], self.problem.end);
            self.at.walking += walk;
            self.at.places[person] = self.problem.end;
            self.at.free[person] += walk;
        }
    }

    fn score_at_end(&self, at: &Standing) -> Score {
        let acts = i64::try_from(self.problem.acts.len().max(1)).unwrap_or(i64::MAX);
        let free = at.free[..self.problem.skills.len()].iter();
        let mut score = Score {
            broken: at.broken,
            finish: free.fold(self.problem.standing.time, |latest, &free| latest.max(free)),
            walking: at.walking,
            idle: at.idle,
            switches: at.switches,
            mean_end: at.completion / acts,
            cost: 0,
        };
        score.cost = self.weights.cost(&score);
        score
    }
}
