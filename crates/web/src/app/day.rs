//! The schedule of the day on this device: planned anew after each act, its order kept beside the record.

use std::cell::RefCell;

use field::Day;
use field::view::Ahead;
use leptos::prelude::*;
use sync::JobId;
use wasm_bindgen_futures::spawn_local;

use super::{App, core::core};
use crate::browser::{measure, next_picture, wait};

/// Orders that are tried after each act: a phone at a quarter of this machine's speed has its answer within 200 ms.
const TRIES: u32 = 500;
/// How often so many are tried before the first plan is shown.
const FIRST_ROUNDS: u64 = 24;

thread_local! {
    /// The day of the job that was planned last.
    static DAY: RefCell<Option<(JobId, Day)>> = const { RefCell::new(None) };
}

/// What the schedule shows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Planned {
    /// How many are there.
    pub(crate) people: usize,
    /// What comes next; none before the first plan.
    pub(crate) ahead: Option<Ahead>,
}

impl App {
    /// What comes next in the open job.
    pub(crate) fn planned(self) -> Signal<Planned> {
        self.planned.into()
    }

    /// Says how many are there, and plans anew.
    pub(crate) fn set_people(self, people: usize) {
        DAY.with_borrow_mut(|day| {
            if let Some((_, day)) = day {
                day.set_people(people);
            }
        });
        self.planned.update(|planned| *planned = Planned { people, ahead: None });
        self.plan_ahead();
    }

    /// Plans the rest of the open job: at once where an order is known, else in the background until a good one is.
    pub(crate) fn plan_ahead(self) {
        let Some(job) = self.open.get_untracked() else { return };
        spawn_local(async move {
            if DAY.with_borrow(|day| day.as_ref().is_none_or(|(of, _)| *of != job)) {
                self.planned.set(Planned::default());
                let kept = match core() {
                    Some(core) => core.disk.setting(&setting(&job)).await.ok().flatten(),
                    None => None,
                };
                let day = kept.as_deref().map(Day::from_text).unwrap_or_default();
                DAY.set(Some((job.clone(), day)));
            }
            let first =
                DAY.with_borrow(|day| day.as_ref().is_none_or(|(_, day)| !day.is_planned()));
            if first {
                for round in 1..=FIRST_ROUNDS {
                    // The page stays at hand meanwhile.
                    next_picture().await;
                    wait(0).await;
                    if !self.plan_once(&job, round, round == FIRST_ROUNDS) {
                        return;
                    }
                }
            } else {
                self.plan_once(&job, 1, true);
            }
            let text = DAY.with_borrow(|day| day.as_ref().map(|(_, day)| day.to_text()));
            if let Some(text) = text {
                self.remember(setting(&job), text);
            }
        });
    }

    /// One planning; whether the job is still the open one.
    fn plan_once(self, job: &JobId, seed: u64, show: bool) -> bool {
        if self.open.get_untracked().as_ref() != Some(job) {
            return false;
        }
        let mut day = match DAY.take() {
            Some((of, day)) if of == *job => day,
            other => {
                DAY.set(other);
                return false;
            }
        };
        let now = self.now();
        let ahead = measure("replan", || {
            self.visit_untracked(|visit| visit.ahead(&mut day, now, TRIES, seed))
        });
        let people = day.people();
        DAY.set(Some((job.clone(), day)));
        if show {
            self.planned.set(Planned { people, ahead });
        }
        true
    }
}

fn setting(job: &JobId) -> String {
    format!("day/{job}")
}
