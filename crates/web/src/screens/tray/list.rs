//! The photos in time, and between them what was entered. Only rows in sight are in the page.

use field::{Exposure, Stack, Sure, TrayRow};
use leptos::html::Div;
use leptos::prelude::*;

use super::rows::Rows;
use super::{Shared, focus, ids};
use crate::app::{app, say, say_with};
use crate::screens::Screen;
use crate::screens::marks::{Icon, Shape};

/// So many pixels above and below what is seen are drawn too.
const AROUND: u32 = 400;
/// What is seen at most before the list has told how high it is.
const SEEN_FIRST: u32 = 900;
/// How far a page goes, in photos.
const PAGE: usize = 6;

/// The list.
#[component]
pub(super) fn List(shared: Shared) -> impl IntoView {
    let scrolled = RwSignal::new(0_u32);
    let high = RwSignal::new(SEEN_FIRST);
    let list: NodeRef<Div> = NodeRef::new();
    let look = move || {
        if let Some(list) = list.get_untracked() {
            scrolled.set(u32::try_from(list.scroll_top()).unwrap_or(0));
            high.set(u32::try_from(list.client_height()).unwrap_or(SEEN_FIRST));
        }
    };
    // In steps, so that most scrolling changes nothing in the page.
    let window = Memo::new(move |_| (scrolled.get() / 200 * 200, high.get()));
    let shown = Memo::new(move |_| {
        let (top, high) = window.get();
        let rows = shared.rows.get();
        let range = rows.within(top.saturating_sub(AROUND), top + high + AROUND);
        range.filter_map(|at| Shown::of(&rows, at)).collect::<Vec<_>>()
    });
    // The photo at hand is in sight.
    Effect::new(move |_| {
        let rows = shared.rows.get();
        let at = shared.active.get().min(rows.stacks().saturating_sub(1));
        let (Some((top, bottom)), Some(list)) = (rows.span(at), list.get()) else { return };
        let (top, bottom) = (top.cast_signed(), bottom.cast_signed());
        if top < list.scroll_top() {
            list.set_scroll_top(top);
        } else if bottom > list.scroll_top() + list.client_height() {
            list.set_scroll_top(bottom - list.client_height());
        }
        look();
    });
    let height = move || format!("{}px", shared.rows.with(|rows| rows.height()));
    let filter = move |only: bool, key: &'static str| {
        view! {
            <button aria-pressed=move || (shared.to_place.get() == only).to_string()
                on:click=move |_| { shared.to_place.set(only); shared.active.set(0); }>{move || say(key)}</button>
        }
    };
    // A list to choose from without anything to choose would be said to be broken.
    let none = Memo::new(move |_| shared.rows.with(|rows| rows.stacks() == 0));
    view! {
        <section class="tray-times" aria-labelledby="tray-times">
            <h2 class="unseen" id="tray-times">{move || say("tray-list")}</h2>
            <div class="choice-buttons">{filter(true, "tray-to-place")}{filter(false, "tray-all")}</div>
            <div class="tray-list" id="tray-list" tabindex="0" node_ref=list
                role=move || if none.get() { "group" } else { "listbox" }
                aria-multiselectable=move || (!none.get()).then_some("true")
                aria-label=move || say("tray-list")
                aria-activedescendant=move || shared.rows.with(|rows| (rows.stacks() > 0).then(|| option_id(shared.active.get().min(rows.stacks() - 1))))
                on:scroll=move |_| look() on:keydown=move |event| keys(shared, &event)>
                <div class="tray-rows" role="presentation" style:height=height>
                    <For each=move || shown.get() key=|one| (one.top, one.number, one.text.clone()) let:one>
                        <Row shared one/>
                    </For>
                </div>
                {move || none.get().then(|| view! {
                    <p class="quiet tray-empty">{move || say(if shared.tray.with(|tray| tray.photos) == 0 { "tray-none" } else { "tray-all-placed" })}</p>
                })}
            </div>
        </section>
    }
}

/// A row in sight.
#[derive(Debug, Clone, PartialEq)]
struct Shown {
    top: u32,
    /// How many stacks stand before it.
    number: usize,
    row: TrayRow,
    /// Everything that it shows: a row that shows the same stays in the page as it is.
    text: String,
}

impl Shown {
    fn of(rows: &Rows, at: usize) -> Option<Self> {
        let (top, number, row) = rows.row(at)?;
        Some(Self { top, number, row: row.clone(), text: format!("{row:?}") })
    }
}

fn option_id(number: usize) -> String {
    format!("tray-{number}")
}

#[component]
fn Row(shared: Shared, one: Shown) -> impl IntoView {
    let top = format!("{}px", one.top);
    match one.row {
        TrayRow::Entry { at, title, .. } => view! {
            <div class="tray-entry" role="presentation" style:top=top>
                <span class="time">{time_of(&at)}</span><span>{title}</span>
            </div>
        }
        .into_any(),
        TrayRow::Photos(stack) => {
            view! { <Photos shared stack=*stack number=one.number top/> }.into_any()
        }
    }
}

#[component]
fn Photos(shared: Shared, stack: Stack, number: usize, top: String) -> impl IntoView {
    let Stack { front, behind, suggestion } = stack.clone();
    let picture = app().picture(front.id.as_str());
    let (of, here) = (front.id.clone(), front.id.clone());
    let chosen = move || shared.chosen.with(|chosen| chosen.contains(&of));
    let is_chosen = chosen.clone();
    let at_hand = move || {
        shared.rows.with(|rows| shared.active.get().min(rows.stacks().saturating_sub(1))) == number
    };
    let count = behind.len() + 1;
    let all = shared.rows.with_untracked(|rows| rows.stacks());
    let place = match (&front.point, &suggestion) {
        (Some(_), _) => front.point_title.clone(),
        (None, Some(suggestion)) => {
            say_with(sure_key(suggestion.sure), &[("what", &suggestion.title)])
        }
        (None, None) => say("tray-no-hint"),
    };
    let dragged = stack;
    // For tests of the page, which cannot read a title's point.
    let names = std::iter::once(&front).chain(&behind).map(|photo| photo.file_name.as_str());
    let names = names.collect::<Vec<_>>().join(" ");
    let suggested = suggestion.as_ref().map(|it| it.point.to_string());
    view! {
        <div class="tray-photo" role="option" id=option_id(number) draggable="true" style:top=top
            data-name=front.file_name.clone() data-all=names data-point=front.point.as_ref().map(ToString::to_string) data-suggested=suggested
            class:at-hand=at_hand class:chosen=is_chosen
            aria-selected=move || chosen().to_string() aria-setsize=all aria-posinset=number + 1
            on:click=move |event| {
                if event.ctrl_key() || event.meta_key() {
                    toggle(shared, &here);
                } else if event.shift_key() {
                    extend(shared, number);
                }
                shared.active.set(number);
                focus("tray-list");
            }
            on:dragstart=move |event| {
                shared.active.set(number);
                if !shared.chosen.with_untracked(|chosen| chosen.contains(&dragged.front.id)) {
                    shared.chosen.set(ids(&dragged).into_iter().collect());
                }
                if let Some(carried) = event.data_transfer() {
                    drop(carried.set_data("text/plain", dragged.front.id.as_str()));
                }
            }>
            {move || match picture.get() {
                Some(address) => view! { <img class="tray-thumb" src=address alt="" draggable="false" decoding="async"/> }.into_any(),
                None => view! { <span class="tray-thumb no-picture"><Icon shape=Shape::Camera/></span> }.into_any(),
            }}
            <span class="tray-words">
                <span class="row-title"><span class="time">{front.taken.map(|at| time_of(&at))}</span>" "{front.file_name.clone()}</span>
                <span class="tray-place" class:placed=front.point.is_some()>{place}</span>
                <span class="row-facts">
                    {(count > 1).then(|| view! { <span class="fact">{say_with("tray-alike", &[("count", &count.to_string())])}</span> })}
                    {front.unsharp.then(|| view! { <span class="fact flag"><Icon shape=Shape::Beyond/>{say("tray-unsharp")}</span> })}
                    {front.exposure.map(|it| view! { <span class="fact flag"><Icon shape=Shape::Beyond/>{say(exposure_key(it))}</span> })}
                    {(front.marks > 0).then(|| view! { <span class="fact">{say_with("tray-marks", &[("count", &front.marks.to_string())])}</span> })}
                    {(!front.caption.is_empty()).then(|| view! { <span>{front.caption.clone()}</span> })}
                </span>
            </span>
        </div>
    }
}

/// The key of how sure a suggestion is.
pub(super) fn sure_key(sure: Sure) -> &'static str {
    match sure {
        Sure::Sure => "tray-sure",
        Sure::Likely => "tray-likely",
        Sure::Guess => "tray-guess",
    }
}

/// The key of how a photo is exposed that shows little.
pub(super) fn exposure_key(exposure: Exposure) -> &'static str {
    match exposure {
        Exposure::Dark => "tray-dark",
        Exposure::Bright => "tray-bright",
    }
}

/// The time of day.
pub(super) fn time_of(at: &inspection::Moment) -> String {
    let time = at.local.time();
    format!("{:02}:{:02}:{:02}", time.hour(), time.minute(), time.second())
}

/// Chooses a photo's stack too, or no more.
fn toggle(shared: Shared, front: &inspection::PhotoId) {
    let stack = shared
        .rows
        .with_untracked(|rows| rows.all_stacks().find(|stack| stack.front.id == *front).map(ids));
    shared.chosen.update(|chosen| {
        let had = chosen.contains(front);
        for id in stack.into_iter().flatten() {
            if had {
                chosen.remove(&id);
            } else {
                chosen.insert(id);
            }
        }
    });
    tell_chosen(shared);
}

/// Chooses everything from the photo at hand to this one.
fn extend(shared: Shared, to: usize) {
    let from = shared.active.get_untracked();
    let rows = shared.rows.get_untracked();
    shared.chosen.update(|chosen| {
        for number in from.min(to)..=from.max(to) {
            chosen.extend(rows.stack(number).into_iter().flat_map(ids));
        }
    });
    tell_chosen(shared);
}

fn tell_chosen(shared: Shared) {
    let count = shared.chosen.with_untracked(|chosen| chosen.len()).to_string();
    shared.happened.set(say_with("tray-chosen", &[("count", &count)]));
}

/// The keys of the list. They work where the list has the focus, and nowhere else.
fn keys(shared: Shared, event: &web_sys::KeyboardEvent) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let last = shared.rows.with_untracked(|rows| rows.stacks()).saturating_sub(1);
    let here = shared.active.get_untracked().min(last);
    let go = |to: usize| {
        let to = to.min(last);
        if event.shift_key() {
            extend(shared, to);
        }
        shared.active.set(to);
    };
    match event.key().as_str() {
        "ArrowDown" => go(here + 1),
        "ArrowUp" => go(here.saturating_sub(1)),
        "PageDown" => go(here + PAGE),
        "PageUp" => go(here.saturating_sub(PAGE)),
        "Home" => go(0),
        "End" => go(last),
        " " => {
            let front =
                shared.rows.with_untracked(|rows| rows.stack(here).map(|it| it.front.id.clone()));
            if let Some(front) = front {
                toggle(shared, &front);
                shared.active.set((here + 1).min(last));
            }
        }
        "Escape" => {
            shared.chosen.update(std::collections::BTreeSet::clear);
            tell_chosen(shared);
        }
        "Enter" => shared.take_suggestion(),
        _ if !app().settings().with_untracked(|settings| settings.letter_keys) => return,
        "a" => shared.take_sure(),
        "x" => shared.place(None),
        "p" => focus("tray-wanted"),
        "c" => focus("tray-caption"),
        "d" => {
            if let Some(stack) = untrack(|| shared.at_hand()) {
                super::super::go(Screen::Photo(stack.front.id));
            }
        }
        _ => return,
    }
    event.prevent_default();
    event.stop_propagation();
}
