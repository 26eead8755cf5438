//! The list of jobs: those on this device, and those that only the server has.

use leptos::prelude::*;

use super::{bars::copied_words, find::FindInJobs};
use crate::{
    app::{App, Line, Place, app, say, say_with},
    screens::Screen,
};

/// The list.
#[component]
pub(super) fn Jobs() -> impl IntoView {
    let app = app();
    view! {
        <h1>{move || say("shell-jobs")}</h1>
        <PairFirst/>
        <p class="actions">
            <button class="primary" on:click=move |_| app.go(Place::NewJob)>{move || say("shell-new-job")}</button>
        </p>
        <FindInJobs/>
        <Show when=move || app.finding().get().trim().is_empty()><Lists/></Show>
        <p class="actions">
            <button id="to-archive" on:click=move |_| app.go(Place::Archive)>{move || say("archive-title")}</button>
            <button on:click=move |_| app.go(Place::Settings)>{move || say("shell-settings")}</button>
            <button on:click=move |_| app.try_now()>{move || say("shell-try-now")}</button>
        </p>
        <Promise app/>
    }
}

/// All jobs, where nothing is searched for.
#[component]
fn Lists() -> impl IntoView {
    let app = app();
    let here = move || app.titles().get().into_iter().rev().collect::<Vec<_>>();
    let there = move || app.elsewhere().get().into_iter().rev().collect::<Vec<_>>();
    view! {
        <Show when=move || app.titles().get().is_empty()>
            <p class="quiet">{move || say("shell-no-jobs")}</p>
        </Show>
        <ul class="jobs" id="jobs-here">
            <For each=here key=|job| job.clone() let:entry>
                {
                    let (job, title) = entry;
                    let copied = app.copied_of(job.clone());
                    view! {
                        <li>
                            <button class="row" on:click=move |_| app.go(Place::Job(job.clone(), Screen::default()))>
                                <span class="row-title">{title}</span>
                                <span class="quiet">{move || {
                                    let copied = copied.get();
                                    let gone = (copied.gone > 0)
                                        .then(|| say_with("shell-gone", &[("count", &copied.gone.to_string())]) + " · ");
                                    gone.unwrap_or_default() + &copied_words(&copied)
                                }}</span>
                            </button>
                        </li>
                    }
                }
            </For>
        </ul>
        <Show when=move || !app.elsewhere().get().is_empty()>
            <h2>{move || say("shell-jobs-on-server")}</h2>
        </Show>
        <ul class="jobs" id="jobs-there">
            <For each=there key=|job| job.clone() let:entry>
                {
                    let (job, summary) = entry;
                    let id = job.to_string();
                    let title = if summary.is_empty() { id } else { format!("{id} · {summary}") };
                    view! {
                        <li>
                            <button class="row" on:click=move |_| app.go(Place::Job(job.clone(), Screen::default()))>
                                <span class="row-title">{title}</span>
                                <span class="quiet">{move || say("shell-job-fetch")}</span>
                            </button>
                        </li>
                    }
                }
            </For>
        </ul>
    }
}

/// Not paired, or shut out: the way to pair.
#[component]
fn PairFirst() -> impl IntoView {
    let app = app();
    move || {
        let words = match app.line().get() {
            Line::Unpaired => say("shell-pair-first"),
            Line::ShutOut(why) => say_with("shell-pair-again", &[("why", &why)]),
            Line::Working | Line::Waiting | Line::Off => return None,
        };
        Some(view! {
            <div class="note">
                <p>{words}</p>
                <button on:click=move |_| app.go(Place::Pairing(None))>{say("shell-pairing-do")}</button>
            </div>
        })
    }
}

/// Whether the browser promises to keep what is here.
#[component]
pub(super) fn Promise(app: App) -> impl IntoView {
    let words = move || match app.room().get().promised {
        Some(true) => say("shell-room-promised"),
        Some(false) => say("shell-room-refused"),
        None => say("shell-room-unknown"),
    };
    view! { <p class="quiet" id="promise">{words}</p> }
}
