//! Search by any word.

use field::view::{Hit, HitKind};
use leptos::prelude::*;

use super::{Screen, go, units};
use crate::app::{app, say, say_with};

/// The screen.
#[component]
pub(super) fn SearchScreen() -> impl IntoView {
    let app = app();
    let text = RwSignal::new(String::new());
    let hits = Memo::new(move |_| {
        let text = text.get();
        app.visit(|visit| visit.search(&text, units())).unwrap_or_default()
    });
    view! {
        <h1>{move || say("search-title")}</h1>
        <div class="field">
            <label for="search">{move || say("search-label")}</label>
            <input id="search" type="search" autocomplete="off" enterkeyhint="search"
                prop:value=move || text.get() on:input=move |event| text.set(event_target_value(&event))/>
        </div>
        <p class="quiet" role="status">{move || match (text.get().trim().is_empty(), hits.with(Vec::len)) {
            (true, _) => say("search-hint"),
            (false, 0) => say("search-nothing"),
            (false, count) => say_with("search-count", &[("count", &count.to_string())]),
        }}</p>
        <ul class="points">
            {move || hits.get().into_iter().map(|hit| view! { <HitRow hit/> }).collect_view()}
        </ul>
    }
}

#[component]
fn HitRow(hit: Hit) -> impl IntoView {
    let kind = match hit.kind {
        HitKind::Point => "search-point",
        HitKind::Finding => "search-finding",
        HitKind::Reading => "search-reading",
        HitKind::Note => "search-note",
        HitKind::Act => "search-act",
    };
    let (finding, point) = (hit.finding.clone(), hit.point.clone());
    view! {
        <li>
            <button class="row" on:click=move |_| match (&finding, &point) {
                (Some(key), _) => go(Screen::Finding(key.clone())),
                (None, Some(point)) => go(Screen::Point(point.clone())),
                (None, None) => {}
            }>
                <span class="row-words">
                    <span class="row-title">{hit.title}</span>
                    <span class="row-facts"><span>{say(kind)}</span><span class="excerpt">{hit.excerpt}</span></span>
                </span>
            </button>
        </li>
    }
}
