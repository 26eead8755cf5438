//! A change of a site state in the replay: guards, running waits and other states first.

use super::facts::bit;
use super::standing::{latest, raise, raise_one};
use super::{DEEPEST, Decoder, ROUNDS, RawStep, penalty};
use crate::Ticks;
use crate::compact::{CompactChange, Item, NeedMask};
use crate::ticks::NEVER;

/// What an unguarded value seems to cost when its guard is not done, or when a wait would break.
const GUARDED: Ticks = 1000;
const BREAKS_A_WAIT: Ticks = 500;

impl Decoder<'_> {
    /// Brings a state to the one of the wanted values that seems nearest.
    pub(super) fn bring_about(&mut self, (state, wanted): NeedMask) {
        let problem = self.problem;
        let mut best = (NEVER, None);
        for (value, change) in (0_u8..).zip(&problem.states[usize::from(state)].changes) {
            let Some(change) = change.as_ref().filter(|_| wanted >> value & 1 == 1) else {
                continue;
            };
            let mut cost = change.ticks + problem.walk(self.at.places[0], change.place);
            if !self.guards_done(change) {
                cost += GUARDED;
            }
            if self.at.refused & bit(state, value) != 0 {
                let waits = self.at.running.iter().filter(|&&wait| self.breaks(wait, state, value));
                cost += BREAKS_A_WAIT * Ticks::try_from(waits.count()).unwrap_or(0);
            }
            if cost < best.0 {
                best = (cost, Some(value));
            }
        }
        match best.1 {
            Some(value) => self.change(state, value),
            None => self.at.broken += penalty::STATE,
        }
    }

    fn guards_done(&self, change: &CompactChange) -> bool {
        change.guards.iter().all(|&guard| self.at.is_done(guard))
    }

    /// Whether a wait keeps a state from having a value.
    fn breaks(&self, wait: u16, state: u8, value: u8) -> bool {
        self.facts.waits[usize::from(wait)].refuses & bit(state, value) != 0
    }

    /// Changes a state, with all that the change waits for before it.
    pub(super) fn change(&mut self, state: u8, to: u8) {
        let problem = self.problem;
        if self.at.values[usize::from(state)] == to {
            return;
        }
        let Some(change) = &problem.states[usize::from(state)].changes[usize::from(to)] else {
            self.at.broken += penalty::STATE;
            return;
        };
        if self.depth > DEEPEST {
            self.at.broken += penalty::CIRCLE;
            return;
        }
        self.depth += 1;
        for _ in 0..ROUNDS {
            if !self.clear_the_way_to(change, state, to) {
                break;
            }
        }
        // What was done first may have brought the value along.
        if self.at.values[usize::from(state)] != to {
            self.turn_it(change, state, to);
        }
        self.depth -= 1;
    }

    /// Does what the change needs done first; says whether there was anything.
    fn clear_the_way_to(&mut self, change: &CompactChange, state: u8, to: u8) -> bool {
        if self.at.values[usize::from(state)] == to {
            return false;
        }
        let mut something = false;
        for &guard in &change.guards {
            if !self.at.is_done(guard) && !self.in_hand[usize::from(guard)] {
                self.perform(guard);
                something = true;
            }
        }
        if self.at.refused & bit(state, to) != 0 {
            let broken = self.at.running.iter().find_map(|&wait| {
                let closes = self.facts.waits[usize::from(wait)].closes;
                let free = !self.in_hand[usize::from(closes)];
                (free && self.breaks(wait, state, to)).then_some(closes)
            });
            if let Some(closing) = broken {
                self.perform(closing);
                something = true;
            }
        }
        for &need in &change.needs {
            if !self.at.meets(need) {
                self.bring_about(need);
                something = true;
            }
        }
        if something {
            return true;
        }
        let turn = self.turn(change.place, self.ready_for(change, state), change.skill, false);
        let end = turn.start + change.ticks;
        match self.missed_return(turn, change.place, end, u16::MAX) {
            Some(closing) => {
                self.perform(closing);
                true
            }
            None => false,
        }
    }

    /// From when on a change may be made, whoever makes it.
    fn ready_for(&self, change: &CompactChange, state: u8) -> Ticks {
        let mut ready = self.problem.standing.time;
        let Some(company) = &self.at.company else { return ready };
        ready = ready.max(company.needed_until[usize::from(state)]);
        ready = ready.max(company.settled[usize::from(state)]);
        for &guard in &change.guards {
            ready = ready.max(company.ends[usize::from(guard)]);
        }
        for &(needed, _) in &change.needs {
            ready = ready.max(company.settled[usize::from(needed)]);
        }
        ready = ready.max(latest(&company.stirred_until, change.clears));
        ready
    }

    /// Makes the change now, and counts the rules that it breaks.
    fn turn_it(&mut self, change: &CompactChange, state: u8, to: u8) {
        let broken = self.at.running.iter().filter(|&&wait| self.breaks(wait, state, to)).count();
        self.at.broken += penalty::WAIT * i64::try_from(broken).unwrap_or(0);
        let needs_met = change.needs.iter().all(|&need| self.at.meets(need));
        if !needs_met || !self.guards_done(change) {
            self.at.broken += penalty::NEED;
        }
        let turn = self.turn(change.place, self.ready_for(change, state), change.skill, false);
        let end = turn.start + change.ticks;
        self.send(turn, change.place, end);
        self.at.set_value(state, to);
        self.at.switches += 1;
        if let Some(company) = &mut self.at.company {
            company.settled[usize::from(state)] = end;
            for &(needed, _) in &change.needs {
                raise_one(&mut company.needed_until[usize::from(needed)], end);
            }
            raise(&mut company.quiet_until, change.clears, end);
        }
        if self.steps.is_some() {
            let people = self.people_bits(turn);
            let steps = self.steps.get_or_insert_default();
            let item = Item::Change { state, to };
            steps.push(RawStep { item, start: turn.start, end, people });
        }
    }
}
