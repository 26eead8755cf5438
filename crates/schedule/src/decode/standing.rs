//! Where a replay stands: what a checkpoint keeps and a later replay takes up again.

use super::facts::{Facts, bit};
use crate::Ticks;
use crate::compact::{Compact, UNDONE, small};
use crate::ticks::NEVER;

/// People, site states and channels that are counted; [`check`](crate::check) sees to it.
const PEOPLE: usize = 2;
const STATES: usize = 16;
const CHANNELS: usize = 32;

/// Where a replay stands.
#[derive(Clone, Debug)]
pub(super) struct Standing {
    /// Where each person is, and from when on they are free.
    pub(super) places: [u8; PEOPLE],
    pub(super) free: [Ticks; PEOPLE],
    /// The value of each site state, and all of them as bits.
    pub(super) values: [u8; STATES],
    pub(super) shown: u128,
    /// Which acts are done, one bit each, and how many.
    pub(super) done: Vec<u64>,
    pub(super) done_count: u32,
    pub(super) waits: Vec<WaitStanding>,
    /// Waits that are running, and all that they want quiet, claim and refuse of site states.
    pub(super) running: Vec<u16>,
    pub(super) quiet: u32,
    pub(super) claimed: u32,
    pub(super) refused: u128,
    /// The first latest return of them.
    pub(super) soonest: Ticks,
    /// How badly rules are broken.
    pub(super) broken: i64,
    pub(super) walking: Ticks,
    pub(super) idle: Ticks,
    pub(super) switches: u32,
    /// The sum of all ends.
    pub(super) completion: i64,
    /// What one person alone has no need to remember.
    pub(super) company: Option<Box<Company>>,
}

/// How a wait stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct WaitStanding {
    /// Since when it runs, or [`UNDONE`].
    pub(super) since: Ticks,
    /// How much later it could have begun, against all that was done until now, without any other decision.
    pub(super) leeway: Leeway,
}

/// By how much a time may be off; the least and the most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leeway {
    least: Ticks,
    most: Ticks,
}

/// What matters where two people work at a time: one's past may be another's future.
#[derive(Clone, Debug)]
pub(super) struct Company {
    /// The end of each act.
    pub(super) ends: Vec<Ticks>,
    /// Since when each site state is settled, and until when somebody needs it.
    pub(super) settled: [Ticks; STATES],
    pub(super) needed_until: [Ticks; STATES],
    /// For each channel: until when it is stirred, wanted quiet, and claimed.
    pub(super) stirred_until: [Ticks; CHANNELS],
    pub(super) quiet_until: [Ticks; CHANNELS],
    pub(super) claimed_until: [Ticks; CHANNELS],
}

impl Leeway {
    /// Anything.
    pub(super) const ANY: Self = Self { least: Ticks::MIN, most: Ticks::MAX };
    /// Nothing but what it is.
    pub(super) const NONE: Self = Self { least: 0, most: 0 };

    pub(super) fn at_least(&mut self, least: Ticks) {
        self.least = self.least.max(least);
    }

    pub(super) fn at_most(&mut self, most: Ticks) {
        self.most = self.most.min(most);
    }

    pub(super) fn and(self, other: Self) -> Self {
        Self { least: self.least.max(other.least), most: self.most.min(other.most) }
    }

    /// The same for a time that is off already.
    pub(super) fn after(self, by: Ticks) -> Self {
        Self { least: self.least.saturating_sub(by), most: self.most.saturating_sub(by) }
    }

    pub(super) fn allows(self, by: Ticks) -> bool {
        (self.least..=self.most).contains(&by)
    }
}

impl Standing {
    /// Where a replay of this problem starts.
    pub(super) fn start(problem: &Compact, facts: &Facts) -> Self {
        let now = &problem.standing;
        let mut standing = Self {
            places: [problem.start; PEOPLE],
            free: [now.time; PEOPLE],
            values: [0; STATES],
            shown: 0,
            done: vec![0; problem.acts.len().div_ceil(64)],
            done_count: 0,
            waits: Vec::with_capacity(problem.waits.len()),
            running: Vec::with_capacity(problem.waits.len()),
            quiet: 0,
            claimed: 0,
            refused: 0,
            soonest: NEVER,
            broken: 0,
            walking: 0,
            idle: 0,
            switches: 0,
            completion: 0,
            company: (problem.skills.len() > 1).then(|| Box::new(Company::start(problem))),
        };
        for (person, &(place, free)) in now.people.iter().enumerate() {
            standing.places[person] = place;
            standing.free[person] = free;
        }
        standing.values[..now.values.len()].copy_from_slice(&now.values);
        for (state, &value) in (0_u8..).zip(&now.values) {
            standing.shown |= bit(state, value);
        }
        for (number, &end) in now.ends.iter().enumerate() {
            if end != UNDONE {
                standing.mark_done(small(number));
            }
        }
        for (number, wait) in problem.waits.iter().enumerate() {
            let since = now.ends[usize::from(wait.opens)];
            standing.waits.push(WaitStanding { since, leeway: Leeway::ANY });
            if since != UNDONE && !standing.is_done(wait.closes) {
                standing.running.push(small(number));
                let broken = facts.waits[number].refuses & standing.shown != 0;
                standing.broken += super::penalty::WAIT * i64::from(broken);
            }
        }
        standing.sum_up_waits(facts);
        standing
    }

    /// Becomes a copy of another, without asking for memory.
    pub(super) fn copy_from(&mut self, other: &Self) {
        let Self { done, waits, running, company, .. } = self;
        let mut done = std::mem::take(done);
        let mut waits = std::mem::take(waits);
        let mut running = std::mem::take(running);
        let mut company = company.take();
        done.clone_from(&other.done);
        waits.clone_from(&other.waits);
        running.clone_from(&other.running);
        if let (Some(mine), Some(theirs)) = (&mut company, &other.company) {
            mine.copy_from(theirs);
        }
        *self = Self { done, waits, running, company, ..*other };
    }

    pub(super) fn is_done(&self, act: u16) -> bool {
        self.done[usize::from(act >> 6)] >> (act & 63) & 1 == 1
    }

    pub(super) fn mark_done(&mut self, act: u16) {
        self.done[usize::from(act >> 6)] |= 1 << (act & 63);
        self.done_count += 1;
    }

    /// Whether a need is met by the states as they are.
    pub(super) fn meets(&self, (state, values): (u8, u8)) -> bool {
        values >> self.values[usize::from(state)] & 1 == 1
    }

    pub(super) fn set_value(&mut self, state: u8, value: u8) {
        self.shown &= !bit(state, self.values[usize::from(state)]);
        self.shown |= bit(state, value);
        self.values[usize::from(state)] = value;
    }

    /// Begins a wait; `runs` unless its end came first.
    pub(super) fn begin(&mut self, number: u16, since: Ticks, runs: bool, facts: &Facts) {
        self.waits[usize::from(number)] = WaitStanding { since, leeway: Leeway::ANY };
        if runs {
            self.running.push(number);
            self.sum_up_waits(facts);
        }
    }

    pub(super) fn end(&mut self, number: u16, facts: &Facts) {
        self.running.retain(|&running| running != number);
        self.sum_up_waits(facts);
    }

    fn sum_up_waits(&mut self, facts: &Facts) {
        (self.quiet, self.claimed, self.refused, self.soonest) = (0, 0, 0, NEVER);
        for &number in &self.running {
            let wait = &facts.waits[usize::from(number)];
            self.quiet |= wait.quiet;
            self.claimed |= wait.claims;
            self.refused |= wait.refuses;
            if wait.at_most != NEVER {
                let latest = self.waits[usize::from(number)].since + wait.at_most;
                self.soonest = self.soonest.min(latest);
            }
        }
    }

    /// Whether one person stands as in another replay but for the clock and what was counted.
    pub(super) fn is_like(&self, other: &Self) -> bool {
        self.done_count == other.done_count
            && self.places[0] == other.places[0]
            && self.shown == other.shown
            && self.done == other.done
            && self.running == other.running
    }

    /// Comes to where another replay came that stood where this one stands, but for the clock, and
    /// went on alike.
    pub(super) fn go_on_like(&mut self, stood: &Self, came: &Self) {
        let later = self.free[0] - stood.free[0];
        self.completion += came.completion - stood.completion
            + i64::from(came.done_count - stood.done_count) * i64::from(later);
        self.free[0] = came.free[0] + later;
        self.walking += came.walking - stood.walking;
        self.idle += came.idle - stood.idle;
        self.switches += came.switches - stood.switches;
        self.broken += came.broken - stood.broken;
    }

    /// What [`Self::go_on_like`] of another comes to, with all that only a checkpoint keeps.
    pub(super) fn shift(&mut self, stood: &Self, now: &Self, facts: &Facts) {
        let later = now.free[0] - stood.free[0];
        self.completion += now.completion - stood.completion
            + i64::from(self.done_count - stood.done_count) * i64::from(later);
        self.free[0] += later;
        self.walking += now.walking - stood.walking;
        self.idle += now.idle - stood.idle;
        self.switches = self.switches - stood.switches + now.switches;
        self.broken += now.broken - stood.broken;
        let begun = stood.waits.iter().zip(&now.waits);
        for (wait, (stood, now)) in self.waits.iter_mut().zip(begun) {
            if now.since != UNDONE {
                let begun_later = now.since - stood.since;
                wait.since = now.since;
                wait.leeway = wait.leeway.after(begun_later - later).and(now.leeway);
            } else if wait.since != UNDONE {
                wait.since += later;
            }
        }
        self.sum_up_waits(facts);
    }
}

impl Company {
    fn start(problem: &Compact) -> Self {
        let now = &problem.standing;
        let mut company = Self {
            ends: now.ends.clone(),
            settled: [now.time; STATES],
            needed_until: [now.time; STATES],
            stirred_until: [now.time; CHANNELS],
            quiet_until: [now.time; CHANNELS],
            claimed_until: [now.time; CHANNELS],
        };
        // What is in hand goes on needing and stirring until its end.
        for (act, &end) in problem.acts.iter().zip(&now.ends) {
            if end > now.time {
                for &(state, _) in &act.needs {
                    raise_one(&mut company.needed_until[usize::from(state)], end);
                }
                raise(&mut company.stirred_until, act.stirs, end);
            }
        }
        company
    }

    fn copy_from(&mut self, other: &Self) {
        let mut ends = std::mem::take(&mut self.ends);
        ends.clone_from(&other.ends);
        *self = Self { ends, ..*other };
    }
}

/// Sets a time to at least another.
pub(super) fn raise_one(time: &mut Ticks, to: Ticks) {
    *time = to.max(*time);
}

/// Sets these channels to at least this time.
pub(super) fn raise(times: &mut [Ticks; CHANNELS], channels: u32, to: Ticks) {
    let mut left = channels;
    while left != 0 {
        raise_one(&mut times[left.trailing_zeros() as usize], to);
        left &= left - 1;
    }
}

/// The latest time of these channels.
pub(super) fn latest(times: &[Ticks; CHANNELS], channels: u32) -> Ticks {
    let mut latest = Ticks::MIN;
    let mut left = channels;
    while left != 0 {
        latest = latest.max(times[left.trailing_zeros() as usize]);
        left &= left - 1;
    }
    latest
}
