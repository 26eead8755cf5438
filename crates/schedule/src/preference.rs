//! What makes one schedule better than another.

use crate::Ticks;

/// What people want of a visit, once no rule is broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Preference {
    /// Finish as soon as possible; then fewer changes of site states.
    #[default]
    FinishSoonest,
    /// Walk as little as possible; then finish soon.
    LeastWalking,
    /// Change site states as seldom as possible; then finish soon.
    LeastSwitching,
}

impl Preference {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::FinishSoonest, Self::LeastWalking, Self::LeastSwitching];

    /// The word on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::FinishSoonest => "soonest",
            Self::LeastWalking => "walking",
            Self::LeastSwitching => "switching",
        }
    }

    pub(crate) fn weights(self) -> Weights {
        let (finish, walking, switches) = match self {
            Self::FinishSoonest => (FIRST, 0, SECOND),
            Self::LeastWalking => (SECOND, FIRST, 1),
            Self::LeastSwitching => (SECOND, 0, FIRST * 8),
        };
        Weights { finish, walking, switches }
    }
}

/// Weight of a half minute of what counts first: what counts after it is seldom as much in sum.
const FIRST: i64 = 1024;
/// The same for temperatures.
pub(crate) const HALF_MINUTE: f64 = 1024.0;
const SECOND: i64 = 16;
/// A broken rule is as bad as being so many half minutes later for each half minute of lateness.
const BROKEN: i64 = 100 * FIRST;

/// How much each part of a score weighs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Weights {
    finish: i64,
    walking: i64,
    switches: i64,
}

/// What a replay came to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Score {
    /// How badly rules are broken; 0 for a good schedule.
    pub(crate) broken: i64,
    pub(crate) finish: Ticks,
    pub(crate) walking: Ticks,
    pub(crate) idle: Ticks,
    pub(crate) switches: u32,
    /// Mean end of all acts: of two orders that end alike the one that has done more earlier.
    pub(crate) mean_end: i64,
    /// All in one number; less is better.
    pub(crate) cost: i64,
}

impl Weights {
    pub(crate) fn cost(self, score: &Score) -> i64 {
        self.cost_of_broken(score.broken)
            + self.finish * i64::from(score.finish)
            + self.walking * i64::from(score.walking)
            + self.switches * i64::from(score.switches)
            + score.mean_end
    }

    /// What so much of what counts first weighs.
    pub(crate) fn of_first(self, ticks: Ticks) -> i64 {
        self.finish.max(self.walking).max(self.switches) * i64::from(ticks)
    }

    pub(crate) fn cost_of_broken(self, broken: i64) -> i64 {
        BROKEN.saturating_mul(broken)
    }
}
