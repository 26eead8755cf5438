//! Searching all jobs: those on this device by what they say here, all others by the server, as far as it can be reached.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

use field::{FoundJob, FoundPlace, JobTexts};
use leptos::prelude::*;
use sync::JobId;
use wasm_bindgen_futures::spawn_local;
use web_sys::AbortController;

use super::{App, Line, core::core};
use crate::browser::wait;
use crate::line::{self, Found, NoAnswer};

/// So long nothing more must be typed before the server is asked, milliseconds.
const QUIET: i32 = 150;

/// What is searched for, and what was found.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Find {
    typed: RwSignal<String>,
    /// The texts of the jobs on this device, as far as they are read.
    here: RwSignal<BTreeMap<JobId, Arc<JobTexts>>>,
    /// How many jobs are still to be read.
    left: RwSignal<usize>,
    there: RwSignal<There>,
}

/// What the server says.
#[derive(Debug, Clone, Default)]
struct There {
    standing: Standing,
    found: Found,
}

/// How far the search has come.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum Standing {
    /// Under way.
    #[default]
    UnderWay,
    /// Everything that the server has was searched, but so many jobs that have just changed.
    Searched(usize),
    /// The server is out of reach: the jobs of this device alone were searched.
    NoLine,
    /// The server refused. Why, in its words.
    Refused(String),
}

/// A job that has all the words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct JobFound {
    /// The job.
    pub(crate) job: JobId,
    /// It is on this device.
    pub(crate) here: bool,
    /// It in one line, and where the words stand in it.
    pub(crate) found: FoundJob,
}

thread_local! {
    /// The search that the server was asked last.
    static ASKED: RefCell<Option<AbortController>> = const { RefCell::new(None) };
    /// Which reading of this device's jobs is the newest.
    static READING: Cell<u32> = const { Cell::new(0) };
}

impl App {
    /// What is searched for.
    pub(crate) fn finding(self) -> RwSignal<String> {
        self.find.typed
    }

    /// How far the search has come, and how many jobs of this device are still to be looked through.
    pub(crate) fn find_standing(self) -> (Standing, usize) {
        (self.find.there.with(|there| there.standing.clone()), self.find.left.get())
    }

    /// The jobs that have all the words: those that the server found, best first, then what only this device has.
    pub(crate) fn jobs_found(self) -> Vec<JobFound> {
        let typed = self.find.typed.get();
        let mut here: BTreeMap<JobId, FoundJob> = self.find.here.with(|jobs| {
            let found = jobs.iter().map(|(job, texts)| Some((job.clone(), texts.find(&typed)?)));
            found.flatten().collect()
        });
        let there = self.find.there.with(|there| there.found.hits.clone());
        let mut all: Vec<JobFound> = Vec::new();
        for hit in there {
            let Ok(job) = JobId::new(&hit.job) else { continue };
            // What is entered here and not copied yet is newer than what the server has.
            let own = here.remove(&job);
            let is_here = own.is_some() || self.titles.with(|titles| titles.contains_key(&job));
            let found = own.unwrap_or_else(|| found_there(hit));
            all.push(JobFound { job, here: is_here, found });
        }
        let own = here.into_iter().rev();
        all.extend(own.map(|(job, found)| JobFound { job, here: true, found }));
        all
    }

    /// Takes the texts out of every job on this device, one after the other, so that the screen stays quick. A job that cannot
    /// be read has none; opening it says why.
    pub(crate) fn read_jobs_to_find(self) {
        let reading = READING.get().wrapping_add(1);
        READING.set(reading);
        let jobs: Vec<JobId> =
            self.titles.with_untracked(|titles| titles.keys().rev().cloned().collect());
        self.find.here.set(BTreeMap::new());
        self.find.left.set(jobs.len());
        spawn_local(async move {
            let Some(core) = core() else { return };
            let Ok(work) = self.work().await else { return self.find.left.set(0) };
            let spoken = self.plan_texts().await;
            for job in jobs {
                wait(0).await;
                let changes = core.disk.changes(&job).await.unwrap_or_default();
                if READING.get() != reading {
                    return;
                }
                let author = self.author(&core.identity.borrow());
                let units = self.settings.with_untracked(|settings| settings.units);
                if let Ok(texts) = (work.texts_of)(&changes, author, spoken.texts.as_deref(), units)
                {
                    self.find.here.update(|here| drop(here.insert(job, Arc::new(texts))));
                }
                self.find.left.update(|left| *left = left.saturating_sub(1));
            }
        });
    }

    /// Asks the server for what is typed now; what was asked before is given up.
    pub(crate) fn search_there(self) {
        let typed = self.find.typed.get_untracked();
        let Ok(stop) = AbortController::new() else { return };
        if let Some(older) = ASKED.replace(Some(stop.clone())) {
            older.abort();
        }
        self.find.there.set(There::default());
        // Signs without a letter or digit are no words: there is nothing to ask.
        if !typed.contains(char::is_alphanumeric) {
            return self.find.there.update(|there| there.standing = Standing::Searched(0));
        }
        spawn_local(async move {
            wait(QUIET).await;
            let line = untrack(|| self.line().get());
            let key = core().and_then(|core| core.identity.borrow().key.clone());
            let key = key.filter(|_| !matches!(line, Line::Unpaired | Line::ShutOut(_)));
            let answer = match key {
                _ if stop.signal().aborted() => return,
                Some(key) => line::search(&key, typed.trim(), &stop.signal()).await,
                None => Err(NoAnswer::NoLine),
            };
            if stop.signal().aborted() {
                return;
            }
            self.find.there.set(match answer {
                Ok(found) => There { standing: Standing::Searched(found.behind), found },
                Err(NoAnswer::NoLine) => There { standing: Standing::NoLine, ..There::default() },
                Err(NoAnswer::Refused(_, why)) => {
                    There { standing: Standing::Refused(why), ..There::default() }
                }
            });
        });
    }
}

fn found_there(hit: line::FoundHit) -> FoundJob {
    let places = hit.places.into_iter().map(|place| FoundPlace {
        kind: place.kind,
        point: place.point,
        title: place.title,
        reference: place.reference,
        parts: place.snippet.into_iter().map(|part| (part.text, part.found)).collect(),
    });
    FoundJob {
        line: format!("{} · {}", hit.job, hit.line),
        places: places.collect(),
        more: hit.more_places,
    }
}
