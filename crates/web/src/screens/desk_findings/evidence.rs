//! Readings and photos that show a finding, and those that might.

use field::view::{PhotoEvidence, ReadingEvidence};
use field::{Act, Evidence};
use leptos::prelude::*;

use super::super::marks::{Icon, Shape};
use super::Card;
use crate::app::{app, say, say_with};

/// Readings and photos that show it, and those that might.
#[component]
pub(super) fn Shown(key: String, card: Card) -> impl IntoView {
    move || {
        card.get().map(|card| {
        let further = card.further_readings.len() + card.further_photos.len();
        let no_evidence = card.no_evidence;
        let more = key.clone();
        view! {
            <h2>{say("finding-evidence")}</h2>
            {no_evidence.then(|| view! { <p class="flag"><Icon shape=Shape::Beyond/>{say("gap-no-evidence")}</p> })}
            <ul class="mark-list">
                {card.readings.into_iter().map(|one| view! { <Reading key=key.clone() one there=true/> }).collect_view()}
                {card.photos.into_iter().map(|one| view! { <Photo key=key.clone() one there=true/> }).collect_view()}
            </ul>
            {(further > 0).then(|| view! {
                <details>
                    <summary>{say_with("finding-further", &[("count", &further.to_string())])}</summary>
                    <ul class="mark-list">
                        {card.further_readings.into_iter().map(|one| view! { <Reading key=more.clone() one there=false/> }).collect_view()}
                        {card.further_photos.into_iter().map(|one| view! { <Photo key=more.clone() one there=false/> }).collect_view()}
                    </ul>
                </details>
            })}
        }
    })
    }
}

#[component]
fn Reading(key: String, one: ReadingEvidence, there: bool) -> impl IntoView {
    let words = format!("{}: {}", one.title, one.value);
    view! {
        <li>
            <span>{words.clone()}</span>
            {(!one.brought_up).then(|| view! { <Attaching key words evidence=Evidence::Reading(one.id) there/> })}
        </li>
    }
}

#[component]
fn Photo(key: String, one: PhotoEvidence, there: bool) -> impl IntoView {
    let picture = app().picture(one.id.as_str());
    let words = one.title.clone();
    view! {
        <li>
            {move || picture.get().map(|address| view! { <img class="evidence" src=address alt=""/> })}
            <span>{one.title.clone()}</span>
            <Attaching key words evidence=Evidence::Photo(one.id) there/>
        </li>
    }
}

#[component]
fn Attaching(key: String, words: String, evidence: Evidence, there: bool) -> impl IntoView {
    let name =
        say_with(if there { "mark-erase" } else { "finding-attach-what" }, &[("what", &words)]);
    view! {
        <button class="plain" aria-label=name on:click=move |_| {
            let (key, evidence) = (key.clone(), evidence.clone());
            app().act(if there { Act::Detach { key, evidence } } else { Act::Attach { key, evidence } });
        }>{say(if there { "mark-take-off" } else { "finding-attach" })}</button>
    }
}
