//! Where a replay stands: what a checkpoint keeps and a later replay takes up again.

use crate::Ticks;
use crate::compact::Compact;

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
    /// The value of each site state, since when it is settled, and until when somebody needs it.
    pub(super) values: [u8; STATES],
    pub(super) settled: [Ticks; STATES],
    pub(super) needed_until: [Ticks; STATES],
    /// For each channel: until when it is stirred, wanted quiet, and claimed.
    pub(super) stirred_until: [Ticks; CHANNELS],
    pub(super) quiet_until: [Ticks; CHANNELS],
    pub(super) claimed_until: [Ticks; CHANNELS],
    /// The end of each act.
    pub(super) ends: Vec<Ticks>,
    /// Waits that are running.
    pub(super) running: Vec<u16>,
    /// How badly rules are broken.
    pub(super) broken: i64,
    pub(super) walking: Ticks,
    pub(super) idle: Ticks,
    pub(super) switches: u32,
    /// The sum of all ends.
    pub(super) completion: i64,
}

impl Standing {
    /// Where a replay of this problem starts.
    pub(super) fn start(problem: &Compact) -> Self {
        let now = &problem.standing;
        let mut standing = Self {
            places: [problem.start; PEOPLE],
            free: [now.time; PEOPLE],
            values: [0; STATES],
            settled: [now.time; STATES],
            needed_until: [now.time; STATES],
            stirred_until: [now.time; CHANNELS],
            quiet_until: [now.time; CHANNELS],
            claimed_until: [now.time; CHANNELS],
            ends: now.ends.clone(),
            running: Vec::with_capacity(problem.waits.len()),
            broken: 0,
            walking: 0,
            idle: 0,
            switches: 0,
            completion: 0,
        };
        for (person, &(place, free)) in now.people.iter().enumerate() {
            standing.places[person] = place;
            standing.free[person] = free;
        }
        standing.values[..now.values.len()].copy_from_slice(&now.values);
        for (number, wait) in problem.waits.iter().enumerate() {
            if standing.is_done(wait.opens) && !standing.is_done(wait.closes) {
                standing.running.push(crate::compact::small(number));
                let kept = wait.keeps.iter();
                standing.broken += 200 * i64::from(!kept.clone().all(|&one| standing.meets(one)));
            }
        }
        // What is in hand goes on needing and stirring until its end.
        for (number, act) in problem.acts.iter().enumerate() {
            let end = standing.ends[number];
            if end > now.time {
                for &(state, _) in &act.needs {
                    let until = &mut standing.needed_until[usize::from(state)];
                    *until = end.max(*until);
                }
                raise(&mut standing.stirred_until, act.stirs, end);
            }
        }
        standing
    }

    /// Becomes a copy of another, without asking for memory.
    pub(super) fn copy_from(&mut self, other: &Self) {
        let Self { ends, running, .. } = self;
        let mut ends = std::mem::take(ends);
        let mut running = std::mem::take(running);
        ends.clear();
        ends.extend_from_slice(&other.ends);
        running.clear();
        running.extend_from_slice(&other.running);
        *self = Self {
            ends,
            running,
            places: other.places,
            free: other.free,
            values: other.values,
            settled: other.settled,
            needed_until: other.needed_until,
            stirred_until: other.stirred_until,
            quiet_until: other.quiet_until,
            claimed_until: other.claimed_until,
            broken: other.broken,
            walking: other.walking,
            idle: other.idle,
            switches: other.switches,
            completion: other.completion,
        };
    }

    pub(super) fn is_done(&self, act: u16) -> bool {
        self.ends[usize::from(act)] != crate::compact::UNDONE
    }

    /// Whether a need is met by the states as they are.
    pub(super) fn meets(&self, (state, values): (u8, u8)) -> bool {
        values >> self.values[usize::from(state)] & 1 == 1
    }
}

/// Sets these channels to at least this time.
pub(super) fn raise(times: &mut [Ticks; CHANNELS], channels: u32, to: Ticks) {
    let mut left = channels;
    while left != 0 {
        let time = &mut times[left.trailing_zeros() as usize];
        *time = to.max(*time);
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
