//! The frame: what is on every screen, and which screen it is.

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::{
    bars::{Alarms, RecordingBar, Sentences, TopBar, UpdateBar},
    jobs::Jobs,
    new_job::NewJobScreen,
    pairing::Pairing,
    settings::SettingsScreen,
    stages::{Broken, Elsewhere, Starting},
};
use crate::app::{App, Place, Stage, say, work_here};

/// Which screen is shown; going on within a job is no change of it.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Shown {
    Pairing(Option<String>),
    Jobs,
    NewJob,
    Settings,
    Archive,
    Opening,
    Job,
}

/// The whole page.
#[component]
pub(crate) fn Frame(app: App) -> impl IntoView {
    provide_context(app);
    let stage = Memo::new(move |_| app.stage().get());
    move || match stage.get() {
        Stage::Starting => view! { <Starting/> }.into_any(),
        Stage::Elsewhere => view! { <Elsewhere/> }.into_any(),
        Stage::Broken(why) => view! { <Broken why/> }.into_any(),
        Stage::Ready => view! { <Ready/> }.into_any(),
    }
}

#[component]
fn Ready() -> impl IntoView {
    let app = crate::app::app();
    let shown = Memo::new(move |_| match app.place().get() {
        Place::Pairing(code) => Shown::Pairing(code),
        Place::Jobs => Shown::Jobs,
        Place::NewJob => Shown::NewJob,
        Place::Settings => Shown::Settings,
        Place::Archive => Shown::Archive,
        Place::Job(job, _) if app.job().as_ref() == Some(&job) => Shown::Job,
        Place::Job(_, _) => Shown::Opening,
    });
    // Another screen begins at its top: a job that was just made, with its cautions.
    Effect::new(move |before: Option<()>| {
        shown.track();
        if let (Some(()), Some(window)) = (before, crate::browser::window()) {
            window.scroll_to_with_x_and_y(0.0, 0.0);
        }
    });
    view! {
        <a class="skip" href="#main" on:click=move |event| {
            event.prevent_default();
            focus_main();
        }>{move || say("shell-skip")}</a>
        <div class="head">
            <UpdateBar/>
            <TopBar/>
            <aside class="messages" aria-label=move || say("shell-messages")>
                <RecordingBar/>
                <Alarms/>
                <Sentences/>
            </aside>
        </div>
        <main id="main" tabindex="-1">
            {move || match shown.get() {
                Shown::Pairing(code) => view! { <Pairing code/> }.into_any(),
                Shown::Jobs => view! { <Jobs/> }.into_any(),
                Shown::NewJob => view! { <NewJobScreen/> }.into_any(),
                Shown::Settings => view! { <SettingsScreen/> }.into_any(),
                Shown::Archive => view! { <Archive/> }.into_any(),
                Shown::Opening => view! { <p class="quiet" role="status">{say("shell-opening-job")}</p> }.into_any(),
                Shown::Job => work_here().map(|work| (work.screen)()).into_any(),
            }}
        </main>
    }
}

/// All jobs together: the screen is in the part of the program that comes after the start.
#[component]
fn Archive() -> impl IntoView {
    let come = RwSignal::new(None::<Result<(), String>>);
    spawn_local(async move {
        let came = crate::app::app().work().await.map(drop);
        // The screen may be gone by now.
        let _shown = come.try_set(Some(came));
    });
    move || match come.get() {
        None => view! { <p class="quiet" role="status">{say("archive-coming")}</p> }.into_any(),
        Some(Ok(())) => work_here().map(|work| (work.archive)()).into_any(),
        Some(Err(why)) => view! { <p class="trouble" role="alert">{why}</p> }.into_any(),
    }
}

/// Moves the keyboard's focus to the screen itself.
fn focus_main() {
    let document = crate::browser::window().and_then(|window| window.document());
    let main = document.and_then(|document| document.get_element_by_id("main"));
    if let Some(main) =
        main.and_then(|it| wasm_bindgen::JsCast::dyn_into::<web_sys::HtmlElement>(it).ok())
    {
        drop(main.focus());
    }
}
