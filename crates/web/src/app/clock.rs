//! The clock on the screen, and the clocks of waits: of all jobs on this device, kept beside their records, so that they
//! ring after a restart whichever job is open.

use std::collections::BTreeMap;

use field::{Due, WaitClock};
use inspection::WaitId;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use sync::JobId;
use wasm_bindgen::{JsCast as _, closure::Closure};

use super::{App, core::core};
use crate::browser::{listen, unix_seconds, window};

/// The setting that holds the clocks. They follow from the records, so their loss is mended when a job is opened.
const CLOCKS: &str = "clocks";

/// A wait that has something to tell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Alarm {
    /// Its job.
    pub(crate) job: Option<JobId>,
    /// What it says.
    pub(crate) words: String,
}

/// A clock as it is kept.
#[derive(Serialize, Deserialize)]
struct Written {
    job: String,
    wait: String,
    title: String,
    ends: i64,
    latest: Option<i64>,
}

impl App {
    /// Lets the clock tick every second, and at once when the page is seen again.
    pub(super) fn start_clock(self) {
        let Some(window) = window() else { return };
        let tick = Closure::<dyn FnMut()>::new(move || self.tick());
        let set = window.set_interval_with_callback_and_timeout_and_arguments_0(
            tick.as_ref().unchecked_ref(),
            1_000,
        );
        if set.is_ok() {
            tick.forget();
        }
        if let Some(document) = window.document() {
            listen(&document, "visibilitychange", move |_| self.tick());
        }
        self.start_alerts();
        Effect::new(move |_| self.follow_waits());
        // Whatever is due rings once; after a restart all that is due rings again.
        Effect::new(move |_| {
            self.clock.track();
            let clocks: Vec<WaitClock> = self.clocks.get().into_values().flatten().collect();
            self.ring(&clocks);
        });
    }

    fn tick(self) {
        let seen = window()
            .and_then(|window| window.document())
            .is_some_and(|document| !document.hidden());
        let now = unix_seconds();
        let due = || {
            self.clocks.with_untracked(|clocks| {
                let before = self.clock.get_untracked();
                clocks.values().flatten().any(|one| one.next(before).is_some_and(|at| at <= now))
            })
        };
        // A page that nobody sees is drawn anew only when something is due.
        if seen || due() {
            self.clock.set(now);
        }
    }

    /// Reads the clocks of all jobs as they were kept.
    pub(super) async fn restore_clocks(self) -> Result<(), String> {
        let Some(core) = core() else { return Ok(()) };
        let text = core.disk.setting(CLOCKS).await?;
        let written: Vec<Written> =
            text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        let mut clocks: BTreeMap<String, Vec<WaitClock>> = BTreeMap::new();
        for Written { job, wait, title, ends, latest } in written {
            let clock = WaitClock { job: job.clone(), wait: WaitId(wait), title, ends, latest };
            clocks.entry(job).or_default().push(clock);
        }
        self.clocks.set(clocks);
        Ok(())
    }

    /// Brings the open job's clocks up to date with its record, and keeps them.
    fn follow_waits(self) {
        let now = self.now();
        let seen = self.open.get().and_then(|job| {
            let clocks = self.visit(|visit| visit.wait_clocks(job.as_str(), now))?;
            Some((job.to_string(), clocks))
        });
        let Some((job, clocks)) = seen else { return };
        let same = self.clocks.with_untracked(|all| {
            all.get(&job).map_or(clocks.is_empty(), |before| *before == clocks)
        });
        if same {
            return;
        }
        self.clocks.update(|all| {
            if clocks.is_empty() {
                all.remove(&job);
            } else {
                all.insert(job, clocks);
            }
        });
        let written: Vec<Written> = self
            .clocks
            .get_untracked()
            .into_values()
            .flatten()
            .map(|WaitClock { job, wait, title, ends, latest }| Written {
                job,
                wait: wait.0,
                title,
                ends,
                latest,
            })
            .collect();
        if let Ok(text) = serde_json::to_string(&written) {
            self.remember(CLOCKS.to_owned(), text);
        }
    }

    /// What waits have to tell now, those of all jobs on this device.
    pub(crate) fn alarms(self) -> Vec<Alarm> {
        self.open.track();
        self.titles.track();
        let now = self.clock.get();
        let clocks = self.clocks.get().into_values().flatten();
        let due = clocks.filter_map(|clock| clock.due(now).map(|due: Due| (clock, due)));
        due.map(|(clock, due)| Alarm {
            job: JobId::new(&clock.job).ok(),
            words: self.alarm_words(&clock, due, now),
        })
        .collect()
    }
}
