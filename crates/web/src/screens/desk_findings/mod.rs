//! Findings at the desk: all of them by where they stand, one with its evidence and its words, and its page beside it.

mod bearing;
mod decision;
mod evidence;
mod list;
mod merging;
mod one;
mod words;

use field::view::{FindingCard, FindingRow};
use leptos::prelude::*;

pub(super) use list::in_sight;

use self::list::{Row, keys, option_id};
use self::one::One;
use super::again::ToAgain;
use super::live::LivePart;
use super::tray::focus;
use super::{Screen, go, report_language, seen, units};
use crate::app::{say, texts};
use crate::line::{FindingTyped, PagesWanted};

/// What is typed in the card and not entered yet: the page beside it shows that.
type Typed = RwSignal<Option<FindingTyped>>;

/// A finding as it stands.
type Card = Memo<Option<FindingCard>>;

/// The screen; the finding with this key is at hand, else the first that nobody decided on.
#[component]
pub(super) fn DeskFindings(key: Option<String>) -> impl IntoView {
    let list = seen(|visit| Some(visit.finding_list(units())));
    let rows = Memo::new(move |_| {
        let groups = list.get().map(|list| list.groups).unwrap_or_default();
        groups.into_iter().flat_map(|group| group.rows).collect::<Vec<FindingRow>>()
    });
    let first = rows.with_untracked(|rows| rows.first().map(|row| row.key.clone()));
    let at_hand = RwSignal::new(key.or(first).unwrap_or_default());
    let there = Memo::new(move |_| {
        let key = at_hand.get();
        rows.with(|rows| rows.iter().any(|row| row.key == key)).then_some(key)
    });
    let typed: Typed = RwSignal::new(None);
    Effect::new(move |_| {
        at_hand.track();
        typed.set(None);
    });
    request_animation_frame(|| focus("finding-list"));
    view! {
        <div class="tray-head">
            <h1>{move || say("findings-title")}</h1>
            <button id="write-finding" on:click=move |_| go(Screen::NewFinding(None))>{move || say("findings-write")}</button>
            <ToAgain/>
        </div>
        {move || rows.with(Vec::is_empty).then(|| view! { <p class="quiet">{say("findings-none")}</p> })}
        <div class="desk-findings">
            <div class="finding-list" id="finding-list" role="listbox" tabindex="0" aria-label=move || say("findings-title")
                aria-activedescendant=move || there.get().map(|key| option_id(&key))
                on:keydown=move |event| keys(rows, at_hand, &event)>
                {move || list.get().map(|list| list.groups.into_iter().map(|group| {
                    let heading = texts().of(&group.heading);
                    let name = heading.clone();
                    view! {
                        <div role="group" aria-label=name>
                            <p class="finding-group" aria-hidden="true">{heading}</p>
                            {group.rows.into_iter().map(|row| view! { <Row row at_hand/> }).collect_view()}
                        </div>
                    }
                }).collect_view())}
            </div>
            <div class="finding-one">{move || there.get().map(|key| view! { <One key typed/> })}</div>
            {move || there.get().map(|key| view! { <Beside key typed/> })}
        </div>
    }
}

/// The page of the finding, with what is typed.
#[component]
fn Beside(key: String, typed: Typed) -> impl IntoView {
    let wanted = Signal::derive(move || PagesWanted {
        part: "finding".to_owned(),
        about: key.clone(),
        language: report_language(),
        finding: typed.get(),
        ..PagesWanted::default()
    });
    view! { <LivePart wanted/> }
}
