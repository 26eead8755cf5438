//! The service worker: installs the app on the device, and offers a newer version, which only the person's tap brings in.

use std::cell::Cell;
use std::rc::Rc;

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    RegistrationOptions, ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState,
};

use super::{App, Keeping, Recording, core::core, texts};
use crate::browser::{listen, wait, window};

/// How often a page that stays open asks for a newer version, milliseconds.
const ASK_AGAIN: i32 = 3_600_000;

thread_local! {
    static RELOAD: Cell<bool> = const { Cell::new(false) };
}

impl App {
    /// Installs the app on the device and watches for newer versions.
    pub(super) fn install(self) {
        let Some(container) = container() else { return };
        listen(&container, "controllerchange", move |_| {
            if RELOAD.get()
                && let Some(window) = window()
            {
                drop(window.location().reload());
            }
        });
        spawn_local(async move {
            let options = RegistrationOptions::new();
            options.set_update_via_cache(web_sys::ServiceWorkerUpdateViaCache::None);
            let registered =
                JsFuture::from(container.register_with_options("/sw.js", &options)).await;
            // Without one the app works as long as there is a network; the settings say so.
            let Ok(registration) = registered else { return };
            let registration: ServiceWorkerRegistration = registration.unchecked_into();
            self.watch(&registration, &container);
            loop {
                wait(ASK_AGAIN).await;
                if let Ok(promise) = registration.update() {
                    drop(JsFuture::from(promise).await);
                }
            }
        });
    }

    fn watch(self, registration: &ServiceWorkerRegistration, container: &ServiceWorkerContainer) {
        // On the very first visit nothing is replaced, so nothing is offered.
        if registration.waiting().is_some() && container.controller().is_some() {
            self.update.set(true);
        }
        let (kept, container) = (registration.clone(), container.clone());
        listen(registration, "updatefound", move |_| {
            let Some(worker) = kept.installing() else { return };
            let (watched, container) = (Rc::new(worker.clone()), container.clone());
            listen(&worker, "statechange", move |_| {
                if watched.state() == ServiceWorkerState::Installed
                    && container.controller().is_some()
                {
                    self.update.set(true);
                }
            });
        });
    }

    /// Brings the newer version in: the person has tapped. What is half typed or not on the disk yet holds it up.
    pub(crate) fn use_newer_version(self) {
        if half_typed() {
            return self.say(texts().say("shell-update-half-typed"));
        }
        spawn_local(async move {
            while untrack(|| self.keeping()) == Keeping::Writing
                || self.photos_under_way.get_untracked().left > 0
                || self.recording.get_untracked() != Recording::Idle
            {
                wait(50).await;
            }
            let Some(container) = container() else { return };
            let Ok(registration) = JsFuture::from(container.get_registration()).await else {
                return;
            };
            let registration: ServiceWorkerRegistration = registration.unchecked_into();
            let Some(worker) = registration.waiting() else { return };
            RELOAD.set(true);
            drop(worker.post_message(&"activate-now".into()));
        });
    }

    /// Whether the app starts without a network from now on.
    pub(crate) fn installed(self) -> bool {
        container().is_some_and(|container| container.controller().is_some())
    }

    /// Follows whether the device has a network.
    pub(super) fn follow_network(self) {
        let Some(window) = window() else { return };
        self.online.set(window.navigator().on_line());
        listen(&window, "online", move |_| {
            self.online.set(true);
            self.happened(sync::Event::Online);
            self.listen_for_pokes();
        });
        listen(&window, "offline", move |_| self.online.set(false));
    }

    /// The person asks to try the line now.
    pub(crate) fn try_now(self) {
        if core().is_some() {
            self.happened(sync::Event::Online);
            self.listen_for_pokes();
        }
    }
}

pub(super) fn container() -> Option<ServiceWorkerContainer> {
    let navigator = window()?.navigator();
    // Absent where the page is not secure.
    js_sys::Reflect::has(&navigator, &"serviceWorker".into())
        .ok()?
        .then(|| navigator.service_worker())
}

/// Whether something on the screen is typed and not entered yet.
fn half_typed() -> bool {
    let document = window().and_then(|window| window.document());
    document
        .and_then(|document| document.query_selector("[data-unsaved='true']").ok().flatten())
        .is_some()
}
