//! The replica's hands: what happened goes in, what it wants done is done.

use leptos::prelude::*;
use sync::{Batch, Connection, Effect, Event, JobId, Refusal, WriteId};
use wasm_bindgen::{JsCast as _, closure::Closure};
use wasm_bindgen_futures::spawn_local;

use super::{App, core::core, work_here};
use crate::{
    browser::{milliseconds, wait, window},
    line,
};

/// After the stream of pokes was cut, it is opened again after a wait between these, in milliseconds.
const POKES_AGAIN: (i32, i32) = (2_000, 60_000);

impl App {
    /// Tells the replica what happened and carries out what follows.
    pub(super) fn happened(self, event: Event) {
        let Some(core) = core() else { return };
        let effects = core.replica.borrow_mut().handle(milliseconds(), event);
        for effect in effects {
            self.carry_out(effect);
        }
        self.set_timer();
    }

    fn carry_out(self, effect: Effect) {
        let Some(core) = core() else { return };
        match effect {
            Effect::Write { write, batch } => spawn_local(self.write(write, batch)),
            Effect::Send { request, message } => {
                let key = core.identity.borrow().key.clone();
                spawn_local(async move {
                    let answer = match key {
                        Some(key) => line::send(&key, &message).await,
                        None => Some(Err(Refusal::NotPaired)),
                    };
                    self.happened(match answer {
                        Some(answer) => Event::Answered { request, answer },
                        None => Event::Unanswered { request },
                    });
                    self.standing.update(|count| *count += 1);
                });
            }
            Effect::ReadBlob { request, blob, offset, length } => spawn_local(async move {
                self.happened(match core.disk.piece(blob, offset, length).await {
                    Ok(bytes) => Event::BlobRead { request, bytes },
                    Err(_) => Event::BlobNotRead { request },
                });
            }),
            Effect::ReadChanges { job, hashes } => spawn_local(async move {
                match core.disk.some_changes(&job, &hashes).await {
                    Ok(changes) => {
                        let changes = changes.into_iter().flatten().collect();
                        self.happened(Event::ChangesRead { job, changes });
                    }
                    Err(_) => self.happened(Event::ChangesNotRead { job }),
                }
            }),
            Effect::Arrived { job, changes } => self.arrived(&job, changes),
            Effect::Discovered { job, summary } => {
                self.elsewhere.update(|jobs| drop(jobs.insert(job, summary)));
            }
            Effect::Changed { job } => {
                if self.elsewhere.with_untracked(|jobs| jobs.contains_key(&job)) {
                    self.elsewhere.update(|jobs| drop(jobs.remove(&job)));
                }
                self.standing.update(|count| *count += 1);
            }
            Effect::ShutOut { refusal: _ } => self.standing.update(|count| *count += 1),
        }
    }

    async fn write(self, write: WriteId, batch: Batch) {
        let Some(core) = core() else { return };
        let event = match core.disk.write(&batch).await {
            Ok(()) => {
                self.disk_trouble.set(None);
                Event::Written { write }
            }
            Err(why) => {
                self.disk_trouble.set(Some(why.clone()));
                Event::NotWritten { write, why }
            }
        };
        self.happened(event);
        self.standing.update(|count| *count += 1);
    }

    /// Changes of other devices are on this disk: the open visit takes them in.
    fn arrived(self, job: &JobId, changes: Vec<Vec<u8>>) {
        let Some(core) = core() else { return };
        if let Some((opening, waiting)) = &mut *core.opening.borrow_mut()
            && opening == job
        {
            waiting.extend(changes);
            return;
        }
        let mut visit = core.visit.borrow_mut();
        let Some((_, visit)) = visit.as_mut().filter(|(open, _)| open == job) else { return };
        let Some(work) = work_here() else { return };
        let refused = (work.arrived)(visit, &changes);
        for said in refused {
            self.say(self.texts().of(&said));
        }
        self.revision.update(|count| *count += 1);
    }

    /// Comes back when the replica wants to be told that time has passed.
    fn set_timer(self) {
        let (Some(core), Some(window)) = (core(), window()) else { return };
        if let Some(timer) = core.timer.take() {
            window.clear_timeout_with_handle(timer);
        }
        let Some(next) = core.replica.borrow().next_tick() else { return };
        let due = i32::try_from(next.saturating_sub(milliseconds())).unwrap_or(i32::MAX);
        let tick = Closure::once_into_js(move || self.happened(Event::Tick));
        let set = window.set_timeout_with_callback_and_timeout_and_arguments_0(
            tick.unchecked_ref(),
            due.saturating_add(1),
        );
        core.timer.set(set.ok());
    }

    /// Listens for pokes for as long as this device is paired; started anew after pairing.
    pub(super) fn listen_for_pokes(self) {
        let Some(core) = core() else { return };
        let Some(key) = core.identity.borrow().key.clone() else { return };
        let Ok(stop) = web_sys::AbortController::new() else { return };
        if let Some(old) = core.pokes.replace(Some(stop.clone())) {
            old.abort();
        }
        let signal = stop.signal();
        spawn_local(async move {
            let mut pause = POKES_AGAIN.0;
            while !signal.aborted() {
                let listening = || self.happened(Event::Listening);
                let poked = |poke| self.happened(Event::Poked { poke });
                let opened = line::follow(&key, &signal, listening, poked).await;
                pause = if opened { POKES_AGAIN.0 } else { (pause * 2).min(POKES_AGAIN.1) };
                wait(pause).await;
                let shut_out =
                    matches!(core.replica.borrow().connection(), Connection::ShutOut { .. });
                if shut_out {
                    return;
                }
            }
        });
    }
}
