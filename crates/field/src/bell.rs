//! The alarm of waits: which have something to tell now, each thing once, and when to look again.
//!
//! Clocks follow from the record, so they can be kept beside it and read after a restart without opening the job.

use std::collections::BTreeMap;

use inspection::WaitId;

use crate::{Now, Visit};

/// The longest time before the latest return at which one is told to hurry, seconds.
const HURRY_SECONDS: i64 = 300;

/// The clock of a wait that runs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WaitClock {
    /// The job, as the app names it.
    pub job: String,
    /// The wait.
    pub wait: WaitId,
    /// Its point's heading.
    pub title: String,
    /// When it is over at the earliest, seconds since 1970-01-01 00:00 UTC.
    pub ends: i64,
    /// When it has run too long to be of use; none where that does not matter.
    pub latest: Option<i64>,
}

/// What a clock has to tell; later ones outdo earlier ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Due {
    /// It has run long enough: time to go back.
    Over,
    /// It will soon have run too long.
    Hurry,
    /// It has run too long to be of use.
    TooLong,
}

impl WaitClock {
    /// What it has to tell at a time; nothing while it runs.
    #[must_use]
    pub fn due(&self, unix_seconds: i64) -> Option<Due> {
        let stages = self.stages();
        stages.into_iter().rev().find(|(_, from)| *from <= unix_seconds).map(|(due, _)| due)
    }

    /// When it next has something else to tell; none when it has told all.
    #[must_use]
    pub fn next(&self, unix_seconds: i64) -> Option<i64> {
        self.stages().into_iter().map(|(_, from)| from).find(|from| *from > unix_seconds)
    }

    /// Whole minutes until it has run too long, rounded up; none where that does not matter.
    #[must_use]
    pub fn minutes_left(&self, unix_seconds: i64) -> Option<i64> {
        let left = self.latest?.saturating_sub(unix_seconds).max(0);
        Some(left / 60 + i64::from(left % 60 > 0))
    }

    /// What it tells from when on, in time. It has run too long only after the latest second.
    fn stages(&self) -> Vec<(Due, i64)> {
        let mut stages = vec![(Due::Over, self.ends)];
        if let Some(latest) = self.latest {
            let latest = latest.max(self.ends);
            let room = latest.saturating_sub(self.ends);
            let hurry = latest - HURRY_SECONDS.min(room / 2);
            if hurry > self.ends {
                stages.push((Due::Hurry, hurry));
            }
            stages.push((Due::TooLong, latest.saturating_add(1)));
        }
        stages
    }
}

/// What was told already since the app was started. After a restart whatever is due is told again.
#[derive(Clone, Debug, Default)]
pub struct Bell {
    told: BTreeMap<(String, WaitId), Due>,
}

impl Bell {
    /// What is to be told now and was not yet, in the order of the clocks; clocks that are gone are forgotten.
    pub fn ring<'c>(
        &mut self,
        clocks: &'c [WaitClock],
        unix_seconds: i64,
    ) -> Vec<(&'c WaitClock, Due)> {
        let key = |clock: &WaitClock| (clock.job.clone(), clock.wait.clone());
        let mut told = BTreeMap::new();
        let mut rung = Vec::new();
        for clock in clocks {
            let key = key(clock);
            let before = self.told.get(&key).copied();
            // A clock that was set back has not told again what it told before.
            let Some(due) = clock.due(unix_seconds) else {
                told.extend(before.map(|before| (key, before)));
                continue;
            };
            if before.is_none_or(|before| before < due) {
                rung.push((clock, due));
            }
            told.insert(key, before.map_or(due, |before| before.max(due)));
        }
        self.told = told;
        rung
    }
}

impl Visit {
    /// The clocks of the waits under way, the one that is over first on top.
    #[must_use]
    pub fn wait_clocks(&self, job: &str, now: Now) -> Vec<WaitClock> {
        let clock = |wait: crate::view::RunningWait| WaitClock {
            job: job.to_owned(),
            wait: wait.id,
            title: wait.title,
            ends: wait.ends_unix_seconds,
            latest: wait.latest_unix_seconds,
        };
        self.waits(now).into_iter().map(clock).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn clock(wait: &str, ends: i64, latest: Option<i64>) -> WaitClock {
        WaitClock {
            job: "2026-041".into(),
            wait: wait.into(),
            title: "Lock-up".into(),
            ends,
            latest,
        }
    }

    #[test]
    fn a_clock_tells_over_then_hurry_then_too_long() {
        // Over after 600 s, of use until 1800 s: hurry from 1500 s on.
        let clock = clock("a", 600, Some(1800));
        let told: Vec<Option<Due>> =
            [599, 600, 1499, 1500, 1800, 1801].map(|now| clock.due(now)).into();
        let (over, hurry) = (Some(Due::Over), Some(Due::Hurry));
        assert_eq!(told, [None, over, over, hurry, hurry, Some(Due::TooLong)]);
        let next: Vec<Option<i64>> = [0, 600, 1500, 1801].map(|now| clock.next(now)).into();
        assert_eq!(next, [Some(600), Some(1500), Some(1801), None]);
        let left: Vec<Option<i64>> =
            [1500, 1741, 1799, 1900].map(|now| clock.minutes_left(now)).into();
        assert_eq!(left, [Some(5), Some(1), Some(1), Some(0)]);
    }

    #[test]
    fn a_short_span_is_halved_and_one_without_room_has_no_hurry() {
        assert_eq!(clock("a", 600, Some(700)).due(649), Some(Due::Over));
        assert_eq!(clock("a", 600, Some(700)).due(650), Some(Due::Hurry));
        assert_eq!(clock("a", 600, Some(600)).due(600), Some(Due::Over));
        assert_eq!(clock("a", 600, Some(600)).due(601), Some(Due::TooLong));
        // A plan that gives less than the wait itself takes is read as no room.
        assert_eq!(clock("a", 600, Some(300)).due(400), None);
    }

    #[test]
    fn each_thing_is_told_once_and_all_that_is_due_again_after_a_restart() {
        let clocks = [clock("a", 600, Some(1800)), clock("b", 900, None)];
        let mut bell = Bell::default();
        let mut rung = |now| {
            let rung = bell.ring(&clocks, now);
            rung.into_iter().map(|(clock, due)| (clock.wait.0.clone(), due)).collect::<Vec<_>>()
        };
        let one = |wait: &str, due| (wait.to_owned(), due);
        assert_eq!(rung(599), []);
        assert_eq!(rung(600), [one("a", Due::Over)]);
        assert_eq!(rung(601), []);
        assert_eq!(rung(900), [one("b", Due::Over)]);
        // The page slept through the hurry.
        assert_eq!(rung(5000), [one("a", Due::TooLong)]);
        // The device's clock was set back, then right again.
        assert_eq!(rung(10), []);
        assert_eq!(rung(5000), []);
        let again = Bell::default().ring(&clocks, 5000).len();
        assert_eq!(again, 2);
    }

    #[test]
    fn a_wait_that_is_ended_and_started_anew_is_told_anew() {
        let (mut bell, clocks) = (Bell::default(), [clock("a", 600, None)]);
        assert_eq!(bell.ring(&clocks, 700).len(), 1);
        assert_eq!(bell.ring(&[], 700), []);
        assert_eq!(bell.ring(&clocks, 700).len(), 1);
    }

    proptest! {
        /// However rarely one looks, nothing is told early, nothing twice, and the last thing due is told.
        #[test]
        fn whatever_is_due_is_told_once(
            ends in 0..5_000_i64,
            room in prop::option::of(0..5_000_i64),
            mut looks in prop::collection::vec(0..12_000_i64, 1..40),
        ) {
            looks.sort_unstable();
            let clocks = [clock("a", ends, room.map(|room| ends + room))];
            let mut bell = Bell::default();
            let mut told = Vec::new();
            for now in &looks {
                for (clock, due) in bell.ring(&clocks, *now) {
                    prop_assert_eq!(clock.due(*now), Some(due));
                    prop_assert!(*now >= ends);
                    told.push(due);
                }
            }
            prop_assert!(told.windows(2).all(|two| two[0] < two[1]), "{:?}", told);
            prop_assert_eq!(told.last().copied(), clocks[0].due(*looks.last().unwrap()));
        }
    }
}
