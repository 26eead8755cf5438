//! States of the site: the bar above a screen, and the screen where they are switched.

use field::Act;
use field::view::StateRow;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::{Screen, go, seen};
use crate::app::{app, say, say_with};

/// What holds now, in a line; a tap leads to the switches.
#[component]
pub(super) fn StateBar() -> impl IntoView {
    let on = seen(|visit| {
        visit
            .states()
            .into_iter()
            .filter(|row| row.holds == Some(true))
            .map(|row| row.title)
            .collect::<Vec<String>>()
    });
    view! {
        <button class="state-bar" on:click=move |_| go(Screen::States)>
            <Icon shape=Shape::Switch/>
            <span>{move || match on.get() {
                on if on.is_empty() => say("states-nothing"),
                on => on.join(" · "),
            }}</span>
        </button>
    }
}

/// The switches.
#[component]
pub(super) fn StatesScreen() -> impl IntoView {
    let states = seen(field::Visit::states);
    view! {
        <h1>{move || say("states-title")}</h1>
        <p class="quiet">{move || say("states-hint")}</p>
        <ul class="switches">
            <For each=move || states.get() key=|row| row.id.clone() let:row>
                <State id=row.id.clone() title=row.title states/>
            </For>
        </ul>
    }
}

#[component]
fn State(id: String, title: String, states: Memo<Vec<StateRow>>) -> impl IntoView {
    let one = id.clone();
    let row =
        Memo::new(move |_| states.with(|rows| rows.iter().find(|row| row.id == one).cloned()));
    let holds = Memo::new(move |_| row.get().is_some_and(|row| row.holds == Some(true)));
    view! {
        <li>
            <button class="switch" role="switch" aria-checked=move || holds.get().to_string() on:click=move |_| {
                let state = id.clone();
                let act = if holds.get_untracked() { Act::UnsetState { state } } else { Act::SetState { state } };
                app().act(act);
            }>
                <span class="knob" aria-hidden="true"></span>
                <span class="row-words">
                    <span>{title}</span>
                    <span class="row-facts">{move || row.get().map(|row| {
                        let now = match row.holds {
                            Some(true) => say("states-on"),
                            Some(false) => say("states-off"),
                            None => say("states-unknown"),
                        };
                        let needed = say_with("states-needed", &[("count", &row.needed_by.to_string())]);
                        let against = say_with("states-against", &[("count", &row.against.to_string())]);
                        view! {
                            <span>{now}</span>
                            {(row.needed_by > 0).then(|| view! { <span>{needed}</span> })}
                            {(row.against > 0).then(|| view! { <span>{against}</span> })}
                        }
                    })}</span>
                </span>
            </button>
        </li>
    }
}
