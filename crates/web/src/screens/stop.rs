//! A stop with its points.

use field::view::PointRow;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::states::StateBar;
use super::{Screen, go, seen};
use crate::app::{say, say_with};

/// The screen.
#[component]
pub(super) fn StopScreen(id: String) -> impl IntoView {
    let stop = seen(move |visit| visit.stop(&id));
    let points = Memo::new(move |_| stop.get().map(|stop| stop.points).unwrap_or_default());
    view! {
        <h1>{move || stop.get().map_or_else(|| say("stop-none"), |stop| stop.title)}</h1>
        <StateBar/>
        <ul class="points">
            <For each=move || points.get() key=|row| row.id.clone() let:row>
                <Row id=row.id points/>
            </For>
        </ul>
        <div class="act-bar">
            {move || stop.get().and_then(|stop| stop.before).map(|id| view! {
                <button on:click=move |_| go(Screen::Stop(id.clone()))>{say("stop-before")}</button>
            })}
            {move || stop.get().and_then(|stop| stop.after).map(|id| view! {
                <button on:click=move |_| go(Screen::Stop(id.clone()))>{say("stop-after")}</button>
            })}
        </div>
    }
}

#[component]
fn Row(id: inspection::PointId, points: Memo<Vec<PointRow>>) -> impl IntoView {
    let one = id.clone();
    let row =
        Memo::new(move |_| points.with(|rows| rows.iter().find(|row| row.id == one).cloned()));
    view! {
        <li>
            <button class="row" on:click=move |_| go(Screen::Point(id.clone()))>
                {move || row.get().map(|row| view! { <PointWords row/> })}
            </button>
        </li>
    }
}

/// A point in a row: its sign, its heading, what became of it.
#[component]
pub(super) fn PointWords(row: PointRow) -> impl IntoView {
    let missing = (row.missing > 0 && row.readings > 0)
        .then(|| say_with("point-missing", &[("count", &row.missing.to_string())]));
    let photos = (row.photos > 0).then(|| row.photos.to_string());
    view! {
        <Icon shape=Shape::of_state(row.state)/>
        <span class="row-words">
            <span class="row-title">{row.title}</span>
            <span class="row-facts">
                <span>{say(row.state.key())}</span>
                {missing.map(|words| view! { <span>{words}</span> })}
                {(!row.essential.is_empty()).then(|| view! { <span class="fact essential">{say("point-essential")}</span> })}
                {(row.seen > 0).then(|| view! { <span class="fact"><Icon shape=Shape::Finding/>{say("point-defect-seen")}</span> })}
                {row.waiting.then(|| view! { <span class="fact"><Icon shape=Shape::Clock/>{say("line-waiting")}</span> })}
                {row.caution.then(|| view! { <span class="fact"><Icon shape=Shape::Caution/>{say("point-caution")}</span> })}
                {photos.map(|count| view! { <span class="fact"><Icon shape=Shape::Camera/>{say_with("point-photos", &[("count", &count)])}</span> })}
            </span>
        </span>
    }
}
