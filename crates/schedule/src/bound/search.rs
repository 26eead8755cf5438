//! The search without a clock: A* over place, site states and what is done.
//!
//! What has no length but its own and restricts nothing is done as soon as one is there and may: later is
//! never better. So only walks, changes of site states and the openings of restricting waits are choices.
//! The estimate of what is left is the shortest way over all places still to be seen, and every change
//! that cannot be avoided; both are exact or too low, so the first end that is reached is the least.

use super::Bound;
use super::classes::Classes;
use super::ledger::{Key, Ledger};
use super::tours::Tours;
use crate::Ticks;
use crate::compact::{Compact, NeedMask, UNDONE};

/// Bits of a state's value in a packed number, and of the place below them.
const VALUE_BITS: u32 = 3;
const PLACE_BITS: u32 = 8;
/// States that can be packed.
const STATES: usize = 16;

struct Search<'a> {
    problem: &'a Compact,
    classes: Classes,
    tours: Tours,
    /// The classes at each place.
    at_place: Vec<Vec<usize>>,
    ledger: Ledger,
    /// States to look at, by their estimate of walking and changing.
    queue: Vec<Vec<(Key, u16)>>,
    /// The estimate at hand; an estimate never falls along a way.
    estimate: usize,
    /// Estimates from this one on are of no interest.
    limit: usize,
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
    let mut wanted = vec![false; problem.places];
    wanted[usize::from(place)] = true;
    wanted[usize::from(problem.end)] = true;
    for class in &classes.classes {
        wanted[usize::from(class.place)] = true;
    }
    for change in problem.states.iter().flat_map(|state| &state.changes).flatten() {
        wanted[usize::from(change.place)] = true;
    }
    let mut at_place = vec![Vec::new(); problem.places];
    for (number, class) in classes.classes.iter().enumerate() {
        at_place[usize::from(class.place)].push(number);
    }
    let mut search = Search {
        problem,
        tours: Tours::new(problem, &wanted),
        at_place,
        ledger: Ledger::new(),
        queue: Vec::new(),
        estimate: 0,
        limit,
        classes,
    };
    let (estimate, complete) = search.run(place, most_states);
    let finish = sure.saturating_add(Ticks::try_from(estimate).unwrap_or(0));
    Bound { finish, complete, states: search.ledger.len() }
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
        let done = self.closure(place, &values, self.classes.done);
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
            if key.done == self.classes.all() && !left {
                return (self.estimate, true);
            }
            if self.ledger.len() > most_states {
                return (self.estimate, false);
            }
            self.open_waits(place, values, key.done, cost);
            self.walk_on(place, values, key.done, cost);
            self.change_something(place, values, key.done, cost);
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
        let estimate = cost + self.left(place, values, done);
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

    fn runs(&self, wait: usize, done: u128) -> bool {
        let wait = &self.classes.waits[wait];
        done >> wait.opens & 1 == 1 && done >> wait.closes & 1 == 0
    }

    /// Whether a class may be done now.
    fn may(&self, number: usize, values: &[u8], done: u128) -> bool {
        let class = &self.classes.classes[number];
        if done >> number & 1 == 1 || class.before & !done != 0 || !met(&class.needs, values) {
            return false;
        }
        let waits = &self.classes.waits;
        let claims = class.opens.iter().fold(0, |all, &wait| all | waits[wait].claims);
        let disturbs = (0..waits.len()).any(|running| {
            let wait = &waits[running];
            wait.closes != number
                && (wait.quiet & class.stirs != 0 || wait.claims & claims != 0)
                && self.runs(running, done)
        });
        !disturbs && class.opens.iter().all(|&wait| met(&waits[wait].keeps, values))
    }

    /// What is done after everything that restricts nothing is done at a place.
    fn closure(&self, place: u8, values: &[u8], mut done: u128) -> u128 {
        loop {
            let before = done;
            for &number in &self.at_place[usize::from(place)] {
                if !self.classes.classes[number].is_choice && self.may(number, values, done) {
                    done |= 1 << number;
                }
            }
            if done == before {
                return done;
            }
        }
    }

    fn open_waits(&mut self, place: u8, values: &[u8], done: u128, cost: u16) {
        for index in 0..self.at_place[usize::from(place)].len() {
            let number = self.at_place[usize::from(place)][index];
            if self.classes.classes[number].is_choice && self.may(number, values, done) {
                let done = self.closure(place, values, done | 1 << number);
                self.push(place, values, done, Ticks::from(cost));
            }
        }
    }

    fn walk_on(&mut self, place: u8, values: &[u8], done: u128, cost: u16) {
        for next in 0..u8::try_from(self.problem.places).unwrap_or(u8::MAX) {
            let here = &self.at_place[usize::from(next)];
            if next != place && here.iter().any(|&number| self.may(number, values, done)) {
                let done = self.closure(next, values, done);
                self.push(next, values, done, Ticks::from(cost) + self.problem.walk(place, next));
            }
        }
    }

    fn change_something(&mut self, place: u8, values: &[u8], done: u128, cost: u16) {
        let problem = self.problem;
        for (state, one) in problem.states.iter().enumerate() {
            for (to, change) in (0_u8..).zip(&one.changes) {
                let Some(change) = change else { continue };
                let of_act = &self.classes.of_act;
                let guarded = change.guards.iter().all(|&guard| {
                    of_act[usize::from(guard)].is_none_or(|class| done >> class & 1 == 1)
                });
                let breaks = |wait: usize| {
                    let mut keeps = self.classes.waits[wait].keeps.iter();
                    let broken = keeps
                        .any(|&(kept, values)| usize::from(kept) == state && values >> to & 1 == 0);
                    broken && self.runs(wait, done)
                };
                if to == values[state]
                    || !guarded
                    || !met(&change.needs, values)
                    || (0..self.classes.waits.len()).any(breaks)
                {
                    continue;
                }
                let mut after = [0; STATES];
                after[..values.len()].copy_from_slice(values);
                after[state] = to;
                let after = &after[..values.len()];
                // On the way everything at that place can be done, before the change and after it.
                let done = self.closure(change.place, values, done);
                let done = self.closure(change.place, after, done);
                let walk = problem.walk(place, change.place);
                self.push(change.place, after, done, Ticks::from(cost) + walk + change.ticks);
            }
        }
    }

    /// What walking and changing come to at least from here to the end.
    fn left(&self, place: u8, values: &[u8], done: u128) -> Ticks {
        let problem = self.problem;
        let mut places = 0;
        // Values that something still needs and nothing else will do, and the last need of several.
        let mut exact = [0_u8; STATES];
        let mut several = [0_u8; STATES];
        let mut undone = self.classes.all() & !done;
        while undone != 0 {
            let class = &self.classes.classes[undone.trailing_zeros() as usize];
            undone &= undone - 1;
            places |= self.tours.bit(class.place);
            for &(state, wanted) in &class.needs {
                let state = usize::from(state);
                if wanted.count_ones() == 1 {
                    exact[state] |= wanted;
                } else {
                    several[state] = wanted;
                }
            }
        }
        let mut ticks = 0;
        for (state, one) in problem.states.iter().enumerate() {
            let value = values[state];
            let leave = one.leave.unwrap_or(u8::MAX);
            let leaving = if leave == u8::MAX { 0 } else { 1 << leave };
            let wanted = exact[state] & !(1 << value);
            for to in bits(wanted & !leaving) {
                if let Some(change) = &one.changes[usize::from(to)] {
                    ticks += change.ticks;
                    places |= self.tours.bit(change.place);
                }
            }
            let choice = several[state];
            let mut moved = wanted & !leaving != 0;
            if !moved && choice != 0 && choice >> value & 1 == 0 && exact[state] & choice == 0 {
                // Whichever of them is cheapest; where it is done is open, unless it is what is left.
                if choice & leaving == 0 {
                    let changes =
                        bits(choice).filter_map(|to| one.changes[usize::from(to)].as_ref());
                    ticks += changes.map(|change| change.ticks).min().unwrap_or(0);
                    moved = true;
                }
            }
            if leave != u8::MAX
                && (moved || value != leave)
                && let Some(change) = &one.changes[usize::from(leave)]
            {
                ticks += change.ticks;
                places |= self.tours.bit(change.place);
            }
        }
        ticks + Ticks::from(self.tours.length(place, places))
    }
}

/// Whether needs are met.
fn met(needs: &[NeedMask], values: &[u8]) -> bool {
    needs.iter().all(|&(state, wanted)| wanted >> values[usize::from(state)] & 1 == 1)
}

/// The numbers of the bits that are set.
fn bits(mask: u8) -> impl Iterator<Item = u8> {
    (0..8).filter(move |bit| mask >> bit & 1 == 1)
}
