//! The search without a clock: A* over place, site states and what is done.
//!
//! What has no length but its own and restricts nothing is done as soon as one is there and may: later is
//! never better. So only walks, changes of site states and the openings of restricting waits are choices, and
//! of these only what is not plainly worse: nobody walks past a place where something can be done.
//! The estimate of what is left is exact or too low, so the first end that is reached is the least.

use super::Bound;
use super::classes::Classes;
use super::estimate::Estimate;
use super::ledger::{Key, Ledger};
use super::workable::{Workable, met};
use crate::Ticks;
use crate::compact::{Compact, UNDONE};

/// Bits of a state's value in a packed number, and of the place below them.
const VALUE_BITS: u32 = 3;
const PLACE_BITS: u32 = 8;
/// States that can be packed.
pub(super) const STATES: usize = 16;

struct Search<'a> {
    problem: &'a Compact,
    workable: Workable,
    estimates: Estimate<'a>,
    /// For each two places those that lie on a shortest way between them.
    between: Vec<Vec<u8>>,
    ledger: Ledger,
    /// States to look at, by their estimate of walking and changing.
    queue: Vec<Vec<(Key, u16)>>,
    /// The estimate at hand; an estimate never falls along a way.
    estimate: usize,
    /// Estimates from this one on are of no interest.
    limit: usize,
    /// What is done once one has been at each place: memory that is used again.
    after_walk: Vec<u128>,
}

/// The least that walking and changing come to, with all hands-on time, as a finish.
pub(super) fn least_without_clock(problem: &Compact, known: Ticks, most_states: usize) -> Bound {
    let now = &problem.standing;
    let hands_on: Ticks = problem
        .acts
        .iter()
        .zip(&now.ends)
        .filter(|&(_, &end)| end == UNDONE)
        .map(|(act, _)| act.ticks)
        .sum();
    let (place, free) = now.people[0];
    let sure = free + hands_on;
    let Some(classes) = Classes::new(problem) else {
        return Bound { finish: sure, complete: false, states: 0 };
    };
    let limit = usize::try_from(known - sure).unwrap_or(0).min(usize::from(u16::MAX) - 1);
    let workable = Workable::new(classes, problem.places);
    let mut search = Search {
        problem,
        between: between(problem),
        estimates: Estimate::new(problem, &workable.classes),
        workable,
        ledger: Ledger::new(),
        queue: Vec::new(),
        estimate: 0,
        limit,
        after_walk: Vec::new(),
    };
    let (estimate, complete) = search.run(place, most_states);
    let finish = sure.saturating_add(Ticks::try_from(estimate).unwrap_or(0));
    Bound { finish, complete, states: search.ledger.len() }
}

/// For each two places those that lie on a shortest way between them.
fn between(problem: &Compact) -> Vec<Vec<u8>> {
    let places = 0..u8::try_from(problem.places).unwrap_or(u8::MAX);
    let mut between = Vec::new();
    for from in places.clone() {
        for to in places.clone() {
            let way = problem.walk(from, to);
            let lies = |&place: &u8| {
                let (there, on) = (problem.walk(from, place), problem.walk(place, to));
                // Nearer than the end in earnest, or two places side by side would rule each other out.
                there > 0 && on > 0 && there + on <= way
            };
            between.push(places.clone().filter(lies).collect());
        }
    }
    between
}

fn pack(place: u8, values: &[u8]) -> u64 {
    let shifted =
        |(number, &value): (u32, &u8)| u64::from(value) << (PLACE_BITS + VALUE_BITS * number);
    (0_u32..).zip(values).map(shifted).fold(u64::from(place), |all, one| all | one)
}

impl Search<'_> {
    /// The least estimate that is not ruled out, and whether it is reached.
    fn run(&mut self, place: u8, most_states: usize) -> (usize, bool) {
        let values = self.problem.standing.values.clone();
        let done = self.workable.closure(place, &values, self.workable.classes.done);
        self.push(place, &values, done, 0);
        while self.estimate < self.limit {
            let Some(bucket) = self.queue.get_mut(self.estimate) else {
                return (self.limit, true);
            };
            let Some((key, cost)) = bucket.pop() else {
                self.estimate += 1;
                continue;
            };
            if self.ledger.cost(key).is_some_and(|least| least < cost) {
                continue;
            }
            let (place, values) = self.unpack(key.site);
            let values = &values[..self.problem.states.len()];
            let left = (0..values.len()).any(|state| {
                self.problem.states[state].leave.is_some_and(|leave| leave != values[state])
            });
            if key.done == self.workable.classes.all() && !left {
                return (self.estimate, true);
            }
            if self.ledger.len() > most_states {
                return (self.estimate, false);
            }
            self.open_waits(place, values, key.done, cost);
            self.move_on(place, values, key.done, cost);
        }
        (self.limit, true)
    }

    fn unpack(&self, site: u64) -> (u8, [u8; STATES]) {
        let mut values = [0; STATES];
        for (number, value) in (0_u32..).zip(&mut values[..self.problem.states.len()]) {
            let bits = site >> (PLACE_BITS + VALUE_BITS * number) & ((1 << VALUE_BITS) - 1);
            *value = u8::try_from(bits).unwrap_or(0);
        }
        (u8::try_from(site & 0xFF).unwrap_or(0), values)
    }

    fn push(&mut self, place: u8, values: &[u8], done: u128, cost: Ticks) {
        let estimate = cost + self.estimates.left(&self.workable.classes, place, values, done);
        let estimate = usize::try_from(estimate).unwrap_or(usize::MAX).max(self.estimate);
        let (true, Ok(cost)) = (estimate < self.limit, u16::try_from(cost)) else { return };
        let key = Key { done, site: pack(place, values) };
        if self.ledger.lower(key, cost) {
            if self.queue.len() <= estimate {
                self.queue.resize_with(estimate + 1, Vec::new);
            }
            self.queue[estimate].push((key, cost));
        }
    }

    fn open_waits(&mut self, place: u8, values: &[u8], done: u128, cost: u16) {
        for index in 0..self.workable.at_place[usize::from(place)].len() {
            let number = self.workable.at_place[usize::from(place)][index];
            if self.workable.may_begin(number, values, done) {
                let done = self.workable.closure(place, values, done | 1 << number);
                self.push(place, values, done, Ticks::from(cost));
            }
        }
    }

    fn move_on(&mut self, place: u8, values: &[u8], done: u128, cost: u16) {
        let mut after = std::mem::take(&mut self.after_walk);
        after.clear();
        let places = 0..u8::try_from(self.problem.places).unwrap_or(u8::MAX);
        after.extend(places.map(|next| self.workable.closure(next, values, done)));
        self.walk_on(place, values, done, cost, &after);
        self.change_something(place, values, done, cost, &after);
        self.after_walk = after;
    }

    /// Whether one passes a place where something can be done on the way from one to another: then
    /// stopping there is never worse, and the straight way need not be looked at.
    fn passes_work(&self, from: u8, to: u8, done: u128, after: &[u128]) -> bool {
        let way = &self.between[usize::from(from) * self.problem.places + usize::from(to)];
        way.iter().any(|&place| after[usize::from(place)] != done)
    }

    /// `after`: what is done once one has been at each place.
    fn walk_on(&mut self, place: u8, values: &[u8], done: u128, cost: u16, after: &[u128]) {
        for (next, &then) in (0_u8..).zip(after) {
            let worth_going = || then != done || self.workable.may_begin_any(next, values, done);
            if next != place && worth_going() && !self.passes_work(place, next, done, after) {
                self.push(next, values, then, Ticks::from(cost) + self.problem.walk(place, next));
            }
        }
    }

    fn change_something(
        &mut self,
        place: u8,
        values: &[u8],
        done: u128,
        cost: u16,
        after: &[u128],
    ) {
        let problem = self.problem;
        for (state, one) in problem.states.iter().enumerate() {
            for (to, change) in (0_u8..).zip(&one.changes) {
                let Some(change) = change else { continue };
                if to == values[state]
                    || !self.workable.classes.all_done(&change.guards, done)
                    || !met(&change.needs, values)
                    || self.workable.breaks_a_wait(state, to, done)
                    || self.passes_work(place, change.place, done, after)
                {
                    continue;
                }
                let mut changed = [0; STATES];
                changed[..values.len()].copy_from_slice(values);
                changed[state] = to;
                let changed = &changed[..values.len()];
                // On the way everything at that place can be done, before the change and after it.
                let before = after[usize::from(change.place)];
                let done = self.workable.closure(change.place, changed, before);
                let walk = problem.walk(place, change.place);
                self.push(change.place, changed, done, Ticks::from(cost) + walk + change.ticks);
            }
        }
    }
}
