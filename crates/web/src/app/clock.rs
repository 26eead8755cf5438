//! The clock on the screen, and the alarm of waits that are over.

use inspection::WaitId;
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, closure::Closure};

use super::App;
use crate::browser::{listen, unix_seconds, window};

/// A wait that is over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Alarm {
    /// The wait.
    pub(crate) id: WaitId,
    /// Its point's heading.
    pub(crate) title: String,
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
        // A wait that is over shakes the phone once, and again after a restart.
        Effect::new(move |before: Option<Vec<Alarm>>| {
            let alarms = self.alarms();
            let new = alarms.iter().any(|alarm| !before.iter().flatten().any(|old| old == alarm));
            if new && let Some(window) = crate::browser::window() {
                window.navigator().vibrate_with_duration(600);
            }
            alarms
        });
    }

    fn tick(self) {
        let seen = window()
            .and_then(|window| window.document())
            .is_some_and(|document| !document.hidden());
        // Timers of hidden pages are slowed down by the browser anyway; alarms still come.
        if seen || self.clock.get_untracked() + 10 <= unix_seconds() {
            self.clock.set(unix_seconds());
        }
    }

    /// The open job's waits that are over and not ended.
    pub(crate) fn alarms(self) -> Vec<Alarm> {
        self.clock.track();
        let now = self.now();
        let over =
            self.visit(|visit| visit.waits(now).into_iter().filter(|wait| wait.over).collect());
        let over: Vec<field::view::RunningWait> = over.unwrap_or_default();
        over.into_iter().map(|wait| Alarm { id: wait.id, title: wait.title }).collect()
    }
}
