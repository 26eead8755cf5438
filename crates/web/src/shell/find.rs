//! Search over all jobs: what is typed, and the places in which it stands.

use field::FoundPlace;
use leptos::ev;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use crate::app::{FindStanding, JobFound, Place, app, say, say_with};
use crate::browser::{focus_soon, typing};
use crate::screens::Screen;

/// The box, and below it what was found.
#[component]
pub(super) fn FindInJobs() -> impl IntoView {
    let app = app();
    let typed = app.finding();
    let searching = Memo::new(move |_| !typed.get().trim().is_empty());
    // The jobs are read when something is looked for, each time the list is come to: they may have changed since.
    Effect::new(move |_| {
        if searching.get() {
            app.read_jobs_to_find();
        }
    });
    Effect::new(move |_| {
        typed.track();
        // A line that works again is a reason to ask.
        app.line().track();
        app.search_there();
    });
    let heard = window_event_listener(ev::keydown, move |event| {
        let letters = app.settings().with_untracked(|settings| settings.letter_keys);
        let with = event.ctrl_key() || event.alt_key() || event.meta_key();
        if event.key() == "/" && letters && !with && !typing() && !event.default_prevented() {
            event.prevent_default();
            focus_soon("find");
        }
    });
    on_cleanup(move || heard.remove());
    let found = Memo::new(move |_| if searching.get() { app.jobs_found() } else { Vec::new() });
    view! {
        <search>
            <div class="field find">
                <label for="find">{move || say("find-label")}" "<kbd class="desk-only" aria-hidden="true">"/"</kbd></label>
                <input id="find" type="search" autocomplete="off" enterkeyhint="search" aria-describedby="find-said"
                    prop:value=move || typed.get() on:input=move |event| typed.set(event_target_value(&event))
                    on:keydown=move |event| match event.key().as_str() {
                        "Escape" => typed.set(String::new()),
                        "ArrowDown" => { event.prevent_default(); step(1); }
                        _ => {}
                    }/>
            </div>
            <p class="quiet" role="status" id="find-said">{move || if searching.get() { standing(found.with(Vec::len)) } else { say("find-hint") }}</p>
            <Show when=move || searching.get()>
                <ul class="jobs found" id="found" on:keydown=move |event| match event.key().as_str() {
                    "ArrowDown" => { event.prevent_default(); step(1); }
                    "ArrowUp" => { event.prevent_default(); step(-1); }
                    "Escape" => focus_soon("find"),
                    _ => {}
                }>
                    {move || found.get().into_iter().map(|job| view! { <Job job/> }).collect_view()}
                </ul>
            </Show>
        </search>
    }
}

/// How far the search has come, in words.
fn standing(count: usize) -> String {
    let (standing, left) = app().find_standing();
    let count_words = say_with("find-count", &[("count", &count.to_string())]);
    let mut said = match &standing {
        _ if count > 0 => vec![count_words],
        FindStanding::UnderWay => Vec::new(),
        _ if left > 0 => Vec::new(),
        _ => vec![say("find-nothing")],
    };
    match standing {
        FindStanding::UnderWay => said.push(say("find-under-way")),
        FindStanding::Searched(0) => {}
        FindStanding::Searched(behind) => {
            said.push(say_with("find-behind", &[("count", &behind.to_string())]));
        }
        FindStanding::NoLine => said.push(say("find-no-line")),
        FindStanding::Refused(why) => said.push(say_with("find-refused", &[("why", &why)])),
    }
    if left > 0 {
        said.push(say_with("find-left", &[("count", &left.to_string())]));
    }
    said.join(" ")
}

#[component]
fn Job(job: JobFound) -> impl IntoView {
    let JobFound { job, here, found } = job;
    let more = found.more;
    let whole = job.clone();
    view! {
        <li>
            <h2>{found.line}</h2>
            {(!here).then(|| view! { <p class="hint">{say("find-on-server")}</p> })}
            <ul class="points">
                {found.places.into_iter().map(|place| {
                    let there = Place::Job(job.clone(), screen_of(&place));
                    let head = [say(kind_key(&place.kind)), place.title].into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" · ");
                    let text = place.parts.into_iter().map(|(text, found)| if found {
                        view! { <mark>{text}</mark> }.into_any()
                    } else {
                        text.into_any()
                    }).collect_view();
                    view! {
                        <li><button class="row" on:click=move |_| app().go(there.clone())>
                            <span class="row-words"><span class="row-title">{head}</span><span class="row-facts"><span class="excerpt">{text}</span></span></span>
                        </button></li>
                    }
                }).collect_view()}
            </ul>
            {(more > 0).then(|| view! {
                <button class="plain" on:click=move |_| app().go(Place::Job(whole.clone(), Screen::Search))>
                    {say_with("find-more", &[("count", &more.to_string())])}
                </button>
            })}
        </li>
    }
}

/// Where a place of a job is shown.
fn screen_of(place: &FoundPlace) -> Screen {
    match place.kind.as_str() {
        "finding" if !place.reference.is_empty() => Screen::Finding(place.reference.clone()),
        "photo" if !place.reference.is_empty() => Screen::Photo(place.reference.as_str().into()),
        "agreement" | "terms" | "invoice" => Screen::Engagement,
        _ if !place.point.is_empty() => Screen::Point(place.point.as_str().into()),
        _ => Screen::Opening,
    }
}

fn kind_key(kind: &str) -> &'static str {
    match kind {
        "finding" => "search-finding",
        "unit" => "find-unit",
        "client" => "find-client",
        "site" => "find-site",
        "note" => "search-note",
        "photo" => "find-photo",
        "point" => "search-point",
        "agreement" | "terms" => "find-agreement",
        "invoice" => "find-invoice",
        _ => "find-job",
    }
}

/// Gives the focus to the next result, or to the one before; before the first is the box.
fn step(by: i32) {
    let document = crate::browser::window().and_then(|window| window.document());
    let Some(document) = document else { return };
    let Ok(all) = document.query_selector_all("#found button") else { return };
    let all: Vec<web_sys::HtmlElement> =
        (0..all.length()).filter_map(|at| all.get(at)?.dyn_into().ok()).collect();
    let focused = document.active_element();
    let at = all.iter().position(|it| focused.as_ref() == Some(it.as_ref()));
    let next = match (at, by) {
        (None, _) => all.first(),
        (Some(0), -1) => return focus_soon("find"),
        (Some(at), -1) => all.get(at - 1),
        (Some(at), _) => all.get(at + 1),
    };
    if let Some(next) = next {
        drop(next.focus());
    }
}
