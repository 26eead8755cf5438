//! What stands above every screen: where one is, what is kept and copied, alarms, sentences, a newer version.

use leptos::prelude::*;

use crate::{
    app::{App, Copying, Keeping, Line, Place, Recording, app, say, say_with},
    browser::milliseconds,
    screens::Screen,
};

/// A newer version lies ready; only a tap brings it in.
#[component]
pub(super) fn UpdateBar() -> impl IntoView {
    let app = app();
    view! {
        <Show when=move || app.newer_version().get()>
            <aside class="bar update" aria-label=move || say("shell-update-label")>
                <p>{move || say("shell-update")}</p>
                <button on:click=move |_| app.use_newer_version()>{move || say("shell-update-use")}</button>
            </aside>
        </Show>
    }
}

/// Back, the title, and what is kept and copied.
#[component]
pub(super) fn TopBar() -> impl IntoView {
    let app = app();
    let place = app.place();
    // Of a job that is still on its way nothing may be said.
    let in_job =
        Memo::new(move |_| place.with(|place| place.job().is_some()) && app.job().is_some());
    let title = move || match place.get() {
        Place::Job(_, _) => app.visit(|visit| visit.title()).unwrap_or_default(),
        Place::Pairing(_) => say("shell-pairing"),
        Place::Jobs => "Nearside".to_owned(),
        Place::NewJob => say("shell-new-job"),
        Place::Settings => say("shell-settings"),
        Place::Archive => say("archive-title"),
    };
    Effect::new(move |_| {
        if let Some(document) = crate::browser::window().and_then(|window| window.document()) {
            document.set_title(&match place.get() {
                Place::Jobs => "Nearside".to_owned(),
                _ => format!("{} · Nearside", title()),
            });
        }
    });
    view! {
        <header class="top">
            {move || match place.with(|place| matches!(place, Place::Jobs | Place::Pairing(_))) {
                true => ().into_any(),
                false => view! {
                    <button class="plain back" on:click=move |_| app.go(Place::Jobs)>
                        <span aria-hidden="true">"‹"</span>" "{move || say("shell-jobs")}
                    </button>
                }.into_any(),
            }}
            <p class="title">{title}</p>
            {move || match in_job.get() {
                true => view! { <JobState/> }.into_any(),
                false => view! { <LineState/> }.into_any(),
            }}
        </header>
    }
}

/// Kept here, copied there.
#[component]
fn JobState() -> impl IntoView {
    let app = app();
    let kept = app.kept();
    let copied = app.copied();
    let kept_words = move || match kept.get() {
        Keeping::Writing => say("shell-kept-writing"),
        Keeping::Kept => say("shell-kept"),
        Keeping::NotKept(why) => say_with("shell-not-kept", &[("why", &why)]),
        Keeping::Gone(count) => say_with("shell-gone", &[("count", &count.to_string())]),
    };
    let bad = move || matches!(kept.get(), Keeping::NotKept(_) | Keeping::Gone(_));
    view! {
        <p class="state" role="status" id="state">
            <span class="kept" class:bad=bad>{kept_words}</span>
            <span class="copied">{move || copied_words(&copied.get())}</span>
        </p>
    }
}

/// What of a job is on the server, in words.
pub(super) fn copied_words(copying: &Copying) -> String {
    let waiting = copying.only_here + copying.photos_only_here;
    let count = waiting.to_string();
    let with = [("count", count.as_str())];
    match &copying.line {
        Line::Unpaired => say("shell-copied-unpaired"),
        Line::ShutOut(why) => say_with("shell-copied-shut-out", &[("why", why)]),
        _ if copying.all_copied => say("shell-copied"),
        _ if waiting == 0 => say("shell-copied-rest"),
        Line::Off => say_with("shell-copied-off", &with),
        Line::Waiting => say_with("shell-copied-waiting", &with),
        Line::Working => match &copying.trouble {
            Some(why) => say_with("shell-copied-trouble", &[("count", &count), ("why", why)]),
            None => say_with("shell-copied-working", &with),
        },
    }
}

/// How the line is, where no job is open.
#[component]
fn LineState() -> impl IntoView {
    let app = app();
    view! { <p class="state" role="status" id="state"><span class="copied">{move || line_words(app)}</span></p> }
}

fn line_words(app: App) -> String {
    match app.line().get() {
        Line::Working => say("shell-line-working"),
        Line::Waiting => say("shell-line-waiting"),
        Line::Off => say("shell-line-off"),
        Line::ShutOut(_) => say("shell-line-shut-out"),
        Line::Unpaired => say("shell-line-unpaired"),
    }
}

/// A voice memo that is being recorded: in sight wherever one goes, so that no microphone runs unseen.
#[component]
pub(super) fn RecordingBar() -> impl IntoView {
    let app = app();
    let recording = app.recording();
    let stage = Memo::new(move |_| recording.get());
    view! {
        <div role="status" class="recording" id="recording">
            {move || match stage.get() {
                Recording::Idle => ().into_any(),
                Recording::Asking => view! { <p class="bar">{say("memo-asking")}</p> }.into_any(),
                Recording::Keeping => view! { <p class="bar">{say("memo-keeping")}</p> }.into_any(),
                Recording::Running { since } => {
                    let time = move || {
                        app.clock().track();
                        let seconds = milliseconds().saturating_sub(since) / 1_000;
                        format!("{}:{:02}", seconds / 60, seconds % 60)
                    };
                    view! {
                        <div class="bar" data-unsaved="true">
                            <p class="time" aria-live="off">{move || say_with("memo-recording", &[("time", &time())])}</p>
                            <button class="primary" id="end-memo" on:click=move |_| app.end_memo()>{say("memo-stop")}</button>
                        </div>
                    }.into_any()
                }
            }}
        </div>
    }
}

/// Waits that are over.
#[component]
pub(super) fn Alarms() -> impl IntoView {
    let app = app();
    let alarms = Memo::new(move |_| app.alarms());
    view! {
        <div role="alert" class="alarms">
            {move || alarms.get().into_iter().map(|alarm| view! {
                <div class="bar alarm">
                    <p>{alarm.words}</p>
                    {alarm.job.map(|job| view! {
                        <button on:click=move |_| app.go(Place::Job(job.clone(), Screen::Waits))>{say("shell-alarm-go")}</button>
                    })}
                </div>
            }).collect_view()}
        </div>
    }
}

/// Sentences, each until it is put away.
#[component]
pub(super) fn Sentences() -> impl IntoView {
    let app = app();
    let sentences = app.sentences();
    view! {
        <div aria-live="assertive" class="sentences" id="sentences">
            <For each=move || sentences.get() key=|sentence| sentence.number let:sentence>
                {
                    let number = sentence.number;
                    view! {
                        <div class="bar sentence">
                            <p>{sentence.text}</p>
                            <button on:click=move |_| sentences.update(|all| all.retain(|one| one.number != number))>
                                {move || say("shell-put-away")}
                            </button>
                        </div>
                    }
                }
            </For>
        </div>
    }
}
