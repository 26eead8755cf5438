//! Which jobs count, and what of them: lists to choose from and two days.

use leptos::prelude::*;

use super::{Desk, Filter};
use crate::app::{app, say, say_with};

/// What jobs are told apart by: the word of addresses, and its text.
pub(super) const PER: [(&str, &str); 3] =
    [("kind", "archive-kind"), ("age", "archive-age"), ("region", "archive-region")];

/// Bands of ages, as the server names them.
const AGES: [&str; 7] = ["0-4", "5-9", "10-14", "15-19", "20-29", "30+", "unknown"];

/// Kinds of units, as the server names them.
const KINDS: [&str; 4] = ["travel_trailer", "fifth_wheel", "park_trailer", "manufactured_home"];

/// A kind in words.
pub(super) fn kind_words(kind: &str) -> String {
    match kind {
        "travel_trailer" => say("kind-travel-trailer"),
        "fifth_wheel" => say("kind-fifth-wheel"),
        "park_trailer" => say("kind-park-trailer"),
        "manufactured_home" => say("kind-manufactured-home"),
        other => other.to_owned(),
    }
}

/// A band of ages in words.
pub(super) fn age_words(age: &str) -> String {
    match age {
        "unknown" => say("archive-age-unknown"),
        known => say_with("archive-age-years", &[("years", known)]),
    }
}

/// A region in words.
pub(super) fn region_words(region: &str) -> String {
    match region {
        "unknown" => say("archive-region-unknown"),
        known => known.to_owned(),
    }
}

/// A point's title in the chosen language.
pub(super) fn point_words(point: &str, title: &str) -> String {
    let spoken = app().spoken();
    let own = spoken.as_ref().and_then(|texts| texts.title_of_point(point));
    own.unwrap_or(title).to_owned()
}

/// The filter.
#[component]
pub(super) fn Filters(desk: Desk) -> impl IntoView {
    let of = move |look: fn(&Filter) -> &String| {
        Signal::derive(move || desk.filter.with(|filter| look(filter).clone()))
    };
    let set = move |put: fn(&mut Filter, String)| {
        Callback::new(move |value: String| desk.filter.update(|filter| put(filter, value)))
    };
    let listed = |words: &'static [&'static str], say: fn(&str) -> String| {
        Signal::derive(move || {
            words.iter().map(|word| ((*word).to_owned(), say(word))).collect::<Vec<_>>()
        })
    };
    let regions = Signal::derive(move || {
        let all = desk.choices.with(|choices| choices.regions.clone());
        all.into_iter().map(|word| (word.clone(), region_words(&word))).collect::<Vec<_>>()
    });
    let purposes = Signal::derive(move || {
        let all = desk.choices.with(|choices| choices.purposes.clone());
        all.into_iter().map(|word| (word.clone(), word)).collect::<Vec<_>>()
    });
    view! {
        <form class="archive-filter" aria-label=move || say("archive-filter") on:submit=|event: web_sys::SubmitEvent| event.prevent_default()>
            <Chosen id="archive-kind" label="archive-kind" any="archive-any" choices=listed(&KINDS, kind_words)
                chosen=of(|it| &it.kind) choose=set(|it, value| it.kind = value)/>
            <Chosen id="archive-age" label="archive-age" any="archive-any" choices=listed(&AGES, age_words)
                chosen=of(|it| &it.age) choose=set(|it, value| it.age = value)/>
            <Chosen id="archive-region" label="archive-region" any="archive-any" choices=regions
                chosen=of(|it| &it.region) choose=set(|it, value| it.region = value)/>
            <Chosen id="archive-purpose" label="archive-purpose" any="archive-any" choices=purposes
                chosen=of(|it| &it.purpose) choose=set(|it, value| it.purpose = value)/>
            <Day id="archive-from" label="archive-from" value=of(|it| &it.from) choose=set(|it, value| it.from = value)/>
            <Day id="archive-to" label="archive-to" value=of(|it| &it.to) choose=set(|it, value| it.to = value)/>
            <button type="button" id="archive-all" on:click=move |_| desk.filter.set(Filter::default())>
                {move || say("archive-everybody")}
            </button>
        </form>
    }
}

/// One of a list, or none of it.
#[component]
pub(super) fn Chosen(
    id: &'static str,
    label: &'static str,
    /// What stands for none.
    any: &'static str,
    /// Word and text of each.
    choices: Signal<Vec<(String, String)>>,
    chosen: Signal<String>,
    choose: Callback<String>,
) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{move || say(label)}</label>
            <select id=id on:change=move |event| choose.run(event_target_value(&event))>
                <option value="" prop:selected=move || chosen.with(String::is_empty)>{move || say(any)}</option>
                {move || choices.get().into_iter().map(|(word, text)| {
                    let value = word.clone();
                    view! { <option value=value prop:selected=move || chosen.with(|it| *it == word)>{text}</option> }
                }).collect_view()}
            </select>
        </div>
    }
}

/// A day, or none.
#[component]
fn Day(
    id: &'static str,
    label: &'static str,
    value: Signal<String>,
    choose: Callback<String>,
) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{move || say(label)}</label>
            <input id=id type="date" prop:value=move || value.get() on:change=move |event| choose.run(event_target_value(&event))/>
        </div>
    }
}
