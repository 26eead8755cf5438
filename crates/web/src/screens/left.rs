//! What is left before leaving: the five uses, what keeps one open, then the other gaps.

use field::view::LeftRow;
use findings::{Gap, UseState};
use inspection::Use;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::missing::screen_of;
use super::{Screen, go, seen, units};
use crate::app::{say, say_with, texts};

/// The five uses as they stand now.
#[component]
pub(super) fn Uses() -> impl IntoView {
    let uses = seen(|visit| {
        let uses = visit.left(units()).uses;
        uses.into_iter().map(|(which, state, _)| (which, state)).collect::<Vec<_>>()
    });
    view! {
        <ul class="uses">
            {move || uses.get().into_iter().map(|(which, state)| view! {
                <li class="use"><Icon shape=sign(state)/><span>{say(use_key(which))}</span><strong>{say(state_key(state))}</strong></li>
            }).collect_view()}
        </ul>
        <p class="hint">{move || say("left-no-warranty")}</p>
    }
}

/// The way to the release, also where the bar below has no room for it.
#[component]
pub(super) fn ToRelease() -> impl IntoView {
    view! { <p class="actions"><button id="to-release" on:click=move |_| go(Screen::Release)>{move || say("left-release")}</button></p> }
}

/// The screen.
#[component]
pub(super) fn LeftScreen() -> impl IntoView {
    let left = seen(|visit| Some(visit.left(units())));
    view! {
        <h1>{move || say("left-title")}</h1>
        <Uses/>
        <ToRelease/>
        {move || left.get().map(|left| {
            let nothing = left.essential.is_empty() && left.other.is_empty();
            view! {
                {nothing.then(|| view! { <p role="status">{say("left-nothing")}</p> })}
                {(!left.essential.is_empty()).then(|| view! {
                    <h2>{say_with("left-essential", &[("count", &left.essential.len().to_string())])}</h2>
                    <ul class="points">{left.essential.into_iter().map(|row| view! { <Row row/> }).collect_view()}</ul>
                })}
                {(!left.other.is_empty()).then(|| view! {
                    <h2>{say_with("left-other", &[("count", &left.other.len().to_string())])}</h2>
                    <ul class="points">{left.other.into_iter().map(|row| view! { <Row row/> }).collect_view()}</ul>
                })}
            }
        })}
    }
}

#[component]
fn Row(row: LeftRow) -> impl IntoView {
    let words = texts().of(&row.what);
    let uses: Vec<String> = row.keeps_open.iter().map(|one| say(use_key(*one))).collect();
    let title = row.title.clone();
    let inside = view! {
        <span class="row-words">
            <span class="row-title">{title}</span>
            <span class="row-facts">
                <span>{words}</span>
                {(!uses.is_empty()).then(|| view! { <span class="fact essential">{say_with("left-keeps-open", &[("uses", &uses.join(", "))])}</span> })}
            </span>
        </span>
    };
    let again = row.gap == Gap::NotRechecked;
    // On a phone evidence is taken at the point.
    let at = match row.point {
        Some(point) => Screen::Point(point),
        None => screen_of(&row.target, again),
    };
    view! { <li><button class="row" on:click=move |_| go(at.clone())>{inside}</button></li> }
}

/// The key of a use's word.
pub(super) fn use_key(which: Use) -> &'static str {
    match which {
        Use::Tow => "use-tow",
        Use::Power => "use-power",
        Use::Gas => "use-gas",
        Use::Water => "use-water",
        Use::Stay => "use-stay",
    }
}

fn state_key(state: UseState) -> &'static str {
    match state {
        UseState::Clear => "use-clear",
        UseState::Held => "use-held",
        UseState::Open => "use-open",
        UseState::NotFitted => "point-not-fitted",
    }
}

fn sign(state: UseState) -> Shape {
    match state {
        UseState::Clear => Shape::Good,
        UseState::Held => Shape::Bad,
        UseState::Open => Shape::Open,
        UseState::NotFitted => Shape::NotFitted,
    }
}
