//! Waits under way: what is left of each, and when to be back. All of it follows from the record, so it holds
//! after a restart.

use inspection::{PointId, WaitId};

use crate::now::minutes_after;
use crate::{Now, Visit};

/// A wait under way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RunningWait {
    /// The wait.
    pub id: WaitId,
    /// Its point.
    pub point: PointId,
    /// The point's heading.
    pub title: String,
    /// What runs meanwhile.
    pub words: String,
    /// What must not be touched meanwhile.
    pub untouched: Vec<String>,
    /// When it began, seconds since 1970-01-01 00:00 UTC.
    pub started_unix_seconds: i64,
    /// When it is over at the earliest; the time of the alarm.
    pub ends_unix_seconds: i64,
    /// When it has run too long to be of use; none where that does not matter.
    pub latest_unix_seconds: Option<i64>,
    /// How it stands now.
    pub state: WaitState,
    /// Seconds until it is over; 0 when it is.
    pub seconds_left: i64,
    /// Whole minutes, rounded up, that it is of use for still; none while it runs, and where that does not matter.
    pub minutes_of_use: Option<i64>,
    /// It is over: time to go back.
    pub over: bool,
}

/// How a wait stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaitState {
    /// It still runs.
    Running,
    /// It has run long enough.
    Over,
    /// It has run longer than is of use.
    TooLong,
}

impl Visit {
    /// The waits under way, the one that is over first on top.
    #[must_use]
    pub fn waits(&self, now: Now) -> Vec<RunningWait> {
        let mut running: Vec<RunningWait> = self
            .inspection()
            .waits
            .iter()
            .filter(|(_, wait)| wait.ended.is_none())
            .map(|(id, wait)| {
                let point = self.plan().point(wait.point.as_str());
                let planned = point.and_then(|point| point.wait.as_ref());
                let started = wait.started.unwrap_or(now.moment);
                let after = |minutes| now.unix_seconds_of(minutes_after(started, minutes));
                let ends = after(planned.map_or(0, |planned| planned.minutes));
                let latest = planned.and_then(|planned| planned.at_most).map(after);
                let state = if latest.is_some_and(|latest| now.unix_seconds > latest) {
                    WaitState::TooLong
                } else if now.unix_seconds >= ends {
                    WaitState::Over
                } else {
                    WaitState::Running
                };
                RunningWait {
                    id: id.clone(),
                    point: wait.point.clone(),
                    title: point
                        .map_or_else(|| wait.point.to_string(), |point| point.title.clone()),
                    words: planned.map_or_else(String::new, |planned| planned.what.clone()),
                    untouched: planned.map_or_else(Vec::new, |planned| planned.untouched.clone()),
                    started_unix_seconds: now.unix_seconds_of(started),
                    ends_unix_seconds: ends,
                    latest_unix_seconds: latest,
                    state,
                    minutes_of_use: latest.filter(|_| state == WaitState::Over).map(|latest| {
                        let left = latest - now.unix_seconds;
                        left / 60 + i64::from(left % 60 > 0)
                    }),
                    seconds_left: (ends - now.unix_seconds).max(0),
                    over: state != WaitState::Running,
                }
            })
            .collect();
        running.sort_by_key(|wait| (wait.ends_unix_seconds, wait.id.clone()));
        running
    }
}
