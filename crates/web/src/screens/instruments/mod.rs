//! The job's instruments: which there are, how good they are, and whether their calibration lasts until the visit.

mod form;
mod over;
mod warning;

use field::Act;
use field::view::{InstrumentCard, InstrumentList, kinds_of_instruments};
use inspection::InstrumentId;
use leptos::prelude::*;

use super::desk_findings::in_sight;
use super::marks::{Icon, Shape};
use super::tray::focus;
use super::{seen, today};
use crate::app::{app, say, say_with, texts};
use crate::browser::focus_soon;

pub(super) use warning::InstrumentsToSeeTo;

/// What the parts of the screen share.
#[derive(Debug, Clone, Copy)]
struct Shared {
    list: Memo<InstrumentList>,
    /// The one that is looked at.
    at_hand: RwSignal<Option<InstrumentId>>,
    /// A new one is being entered.
    adding: RwSignal<bool>,
    /// What instruments are called: the text's key, and the words that are recorded.
    kinds: StoredValue<Vec<(&'static str, String)>>,
}

impl Shared {
    /// The one at hand, while it is in the list.
    fn there(self) -> Option<InstrumentId> {
        let id = self.at_hand.get()?;
        self.list.with(|list| list.rows.iter().any(|row| row.id == id)).then_some(id)
    }

    fn add(self) {
        self.adding.set(true);
        focus_soon("instrument-name");
    }

    /// Takes the one at hand out; the next comes to hand.
    fn take_out(self) {
        let Some(id) = self.at_hand.get_untracked() else { return };
        let next = self.list.with_untracked(|list| {
            let at = list.rows.iter().position(|row| row.id == id)?;
            let next = list.rows.get(at + 1).or(at.checked_sub(1).and_then(|at| list.rows.get(at)));
            next.map(|row| row.id.clone())
        });
        if app().act(Act::TakeOutInstrument { id }) {
            self.at_hand.set(next);
            focus_soon("instrument-list");
        }
    }
}

/// The screen; this instrument is at hand, else the first that is to be seen to.
#[component]
pub(super) fn InstrumentsScreen(id: Option<InstrumentId>) -> impl IntoView {
    let list = seen(|visit| visit.instrument_list(today()));
    let first = list.with_untracked(|list| {
        let first = list.to_see_to().next().or(list.rows.first());
        first.map(|row| row.id.clone())
    });
    let chosen = id.or(first);
    let shared = Shared {
        list,
        at_hand: RwSignal::new(chosen.clone()),
        adding: RwSignal::new(list.with_untracked(|list| list.rows.is_empty())),
        kinds: StoredValue::new(kinds_of_instruments().collect()),
    };
    let some = Memo::new(move |_| list.with(|list| !list.rows.is_empty()));
    let there = Memo::new(move |_| shared.there());
    // Whoever comes here by a key goes on with keys. After the screen's own focus, which goes to its top.
    request_animation_frame(move || {
        focus("instrument-list");
        if let Some(id) = chosen {
            in_sight(&option_id(&id));
        }
    });
    view! {
        <h1>{move || say("instruments-title")}</h1>
        <p class="figures" role="status" id="instruments-standing">{move || list.with(standing)}</p>
        <div class="desk-instruments">
            <div>
                {move || some.get().then(|| view! { <Rows shared/> })}
                <p class="actions"><button id="instrument-add" on:click=move |_| shared.add()>{move || say("instrument-add")}</button></p>
                <over::TakeOver shared/>
            </div>
            {move || match (shared.adding.get(), there.get()) {
                (true, _) => view! { <form::New shared/> }.into_any(),
                (false, Some(id)) => view! { <form::Known id shared/> }.into_any(),
                (false, None) => shared.at_hand.get().map(|_| view! { <p class="quiet">{say("instrument-gone")}</p> }).into_any(),
            }}
        </div>
    }
}

/// How many are to be seen to, in words.
fn standing(list: &InstrumentList) -> String {
    let day = list.visit.map(|day| day.to_string());
    match (list.rows.len(), list.to_see_to().count(), day) {
        (0, ..) => say("instruments-none"),
        (_, 0, Some(day)) => say_with("instruments-fine-day", &[("day", &day)]),
        (_, 0, None) => say("instruments-fine"),
        (_, count, _) => say_with("instruments-see-to", &[("count", &count.to_string())]),
    }
}

fn option_id(id: &InstrumentId) -> String {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    format!("instrument-row-{}", id.as_str().chars().map(plain).collect::<String>())
}

#[component]
fn Rows(shared: Shared) -> impl IntoView {
    view! {
        <div class="finding-list" id="instrument-list" role="listbox" tabindex="0" aria-label=move || say("instruments-list")
            aria-activedescendant=move || shared.there().map(|id| option_id(&id))
            on:keydown=move |event| keys(shared, &event)>
            {move || shared.list.with(|list| list.rows.clone()).into_iter().map(|row| view! { <Row row shared/> }).collect_view()}
        </div>
    }
}

#[component]
fn Row(row: InstrumentCard, shared: Shared) -> impl IntoView {
    let (of, chosen) = (row.id.clone(), row.id.clone());
    let here = Memo::new(move |_| shared.at_hand.with(|id| id.as_ref() == Some(&of)));
    let calibration = texts().of(&row.calibration);
    let serial = (!row.typed.serial.is_empty())
        .then(|| say_with("instrument-serial-is", &[("serial", &row.typed.serial)]));
    let readings = (row.readings > 0)
        .then(|| say_with("instrument-readings", &[("count", &row.readings.to_string())]));
    view! {
        <div class="finding-row" role="option" id=option_id(&row.id) class:at-hand=here aria-selected=move || here.get().to_string()
            on:click=move |_| { shared.adding.set(false); shared.at_hand.set(Some(chosen.clone())); focus("instrument-list"); }>
            <Icon shape=if row.see_to { Shape::Beyond } else { Shape::Done }/>
            <span class="row-words">
                <span class="row-title">{row.name}</span>
                <span class="row-facts">
                    {(!row.typed.kind.is_empty()).then(|| view! { <span>{row.typed.kind.clone()}</span> })}
                    {serial.map(|serial| view! { <span>{serial}</span> })}
                    <span class:flag=row.see_to>{calibration}</span>
                    {readings.map(|readings| view! { <span>{readings}</span> })}
                </span>
            </span>
        </div>
    }
}

/// The keys of the list. They work where the list has the focus, and nowhere else.
fn keys(shared: Shared, event: &web_sys::KeyboardEvent) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let ids: Vec<InstrumentId> =
        shared.list.with_untracked(|list| list.rows.iter().map(|row| row.id.clone()).collect());
    let here = shared.at_hand.get_untracked();
    let at = ids.iter().position(|id| Some(id) == here.as_ref()).unwrap_or(0);
    let go_to = |to: usize| {
        if let Some(id) = ids.get(to.min(ids.len().saturating_sub(1))) {
            shared.adding.set(false);
            shared.at_hand.set(Some(id.clone()));
            in_sight(&option_id(id));
        }
    };
    let change = |field: &'static str| {
        shared.adding.set(false);
        focus_soon(field);
    };
    match event.key().as_str() {
        "ArrowDown" => go_to(at + 1),
        "ArrowUp" => go_to(at.saturating_sub(1)),
        "Home" => go_to(0),
        "End" => go_to(ids.len()),
        "Enter" => change("instrument-name"),
        _ if !app().settings().with_untracked(|settings| settings.letter_keys) => return,
        "c" => change("instrument-due"),
        "a" => shared.add(),
        "x" => shared.take_out(),
        _ => return,
    }
    event.prevent_default();
    event.stop_propagation();
}
