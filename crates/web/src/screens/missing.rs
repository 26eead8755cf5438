//! What is missing at the desk: by kind, each with what would close it, one press away from where that is done.

use field::view::{MissingGroup, MissingRow, Target};
use leptos::prelude::*;

use super::left::{ToRelease, Uses, use_key};
use super::tray::focus;
use super::{Screen, go, seen, units};
use crate::app::{say, say_with, texts};

/// The screen.
#[component]
pub(super) fn DeskMissing() -> impl IntoView {
    let missing = seen(|visit| Some(visit.missing(units())));
    request_animation_frame(|| focus("missing-first"));
    view! {
        <h1>{move || say("left-title")}</h1>
        <div class="desk-missing">
            <section class="desk-uses"><Uses/><ToRelease/></section>
            <section>
                {move || missing.get().map(|missing| {
                    let count = missing.count.to_string();
                    let first = missing.groups.first().map(|group| group.what.clone());
                    view! {
                        <p class="figures" role="status" id="missing-count">{match missing.count {
                            0 => say("left-nothing"),
                            _ => say_with("missing-count", &[("count", &count)]),
                        }}</p>
                        {missing.groups.into_iter().map(|group| {
                            let begins = first.as_ref() == Some(&group.what);
                            view! { <Group group begins/> }
                        }).collect_view()}
                    }
                })}
            </section>
        </div>
    }
}

#[component]
fn Group(group: MissingGroup, begins: bool) -> impl IntoView {
    let heading = texts().of(&group.what);
    let count = group.rows.len();
    view! {
        <h2>{heading}" "<span class="count">{count}</span></h2>
        <ul class="points">
            {group.rows.into_iter().enumerate().map(|(at, row)| view! { <Row row first=begins && at == 0/> }).collect_view()}
        </ul>
    }
}

#[component]
fn Row(row: MissingRow, first: bool) -> impl IntoView {
    let what = texts().of(&row.what);
    let decides: Vec<String> = row.decides.iter().map(|one| texts().of(one)).collect();
    let uses: Vec<String> = row.keeps_open.iter().map(|one| say(use_key(*one))).collect();
    let target = row.target;
    let again = row.what.key == "gap-not-rechecked";
    view! {
        <li>
            <button class="row missing" id=first.then_some("missing-first") on:click=move |_| go(screen_of(&target, again))>
                <span class="row-words">
                    <span class="row-title">{row.title}</span>
                    <span class="row-facts">
                        <span>{what}</span>
                        {decides.into_iter().map(|one| view! { <span>{one}</span> }).collect_view()}
                        {(!uses.is_empty()).then(|| view! { <span class="fact essential">{say_with("left-keeps-open", &[("uses", &uses.join(", "))])}</span> })}
                    </span>
                </span>
            </button>
        </li>
    }
}

/// Where a gap is closed. What became of a carried finding is said on a screen of its own.
pub(super) fn screen_of(target: &Target, again: bool) -> Screen {
    match target {
        Target::Point(point) | Target::Reading { point, .. } => Screen::Point(point.clone()),
        Target::Finding(key) if again => Screen::Again(Some(key.clone())),
        Target::Finding(key) => Screen::Finding(key.clone()),
        Target::Photo(photo) => Screen::Photo(photo.clone()),
        Target::Instrument(id) => Screen::Instruments(Some(id.clone())),
        // Of the job's own facts the agreement can be open, and only there are scope and limits written.
        Target::Job => Screen::Engagement,
    }
}
