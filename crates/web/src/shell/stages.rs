//! What is seen before the app can be used.

use leptos::prelude::*;

use crate::app::{say, say_with, take_over};

/// The disk is being read.
#[component]
pub(super) fn Starting() -> impl IntoView {
    view! { <main class="starting"><p role="status">{say("shell-starting")}</p></main> }
}

/// Another tab has the app open.
#[component]
pub(super) fn Elsewhere() -> impl IntoView {
    view! {
        <main class="starting">
            <h1>{say("shell-elsewhere-title")}</h1>
            <p>{say("shell-elsewhere")}</p>
            <button class="primary" on:click=|_| take_over()>{say("shell-elsewhere-use-here")}</button>
        </main>
    }
}

/// It cannot start.
#[component]
pub(super) fn Broken(why: String) -> impl IntoView {
    let reload = |_| {
        if let Some(window) = crate::browser::window() {
            drop(window.location().reload());
        }
    };
    view! {
        <main class="starting">
            <h1>{say("shell-broken-title")}</h1>
            <p role="alert">{say_with("shell-broken", &[("why", &why)])}</p>
            <button class="primary" on:click=reload>{say("shell-reload")}</button>
        </main>
    }
}
