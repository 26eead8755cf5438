//! Making a finding a part of another, and taking it out again.

use field::Act;
use leptos::prelude::*;

use super::Card;
use crate::app::{app, say, say_with};

/// Making it a part of another, and taking it out again.
#[component]
pub(super) fn Merging(key: String, card: Card) -> impl IntoView {
    let into = RwSignal::new(String::new());
    move || {
        card.get().map(|card| {
        let (merged, unmerged) = (key.clone(), key.clone());
        let parts: Vec<String> = card.parts.into_iter().map(|(_, title)| title).collect();
        view! {
            {(!parts.is_empty()).then(|| view! { <p>{say_with("finding-parts", &[("what", &parts.join(", "))])}</p> })}
            {card.may.unmerge.then(|| view! {
                <p class="actions"><button on:click=move |_| { app().act(Act::Unmerge { key: unmerged.clone() }); }>{say("finding-unmerge")}</button></p>
            })}
            {card.may.merge.then(|| view! {
                <details>
                    <summary>{say("finding-merge")}</summary>
                    <form class="field" on:submit=move |event| {
                        event.prevent_default();
                        let into = into.get_untracked();
                        if !into.is_empty() {
                            app().act(Act::Merge { key: merged.clone(), into });
                        }
                    }>
                        <label for="merge-into">{say("finding-merge-into")}</label>
                        <select id="merge-into" on:change=move |event| into.set(event_target_value(&event))>
                            <option value="">"–"</option>
                            {card.others.into_iter().map(|(key, title)| view! { <option value=key>{title}</option> }).collect_view()}
                        </select>
                        <p class="actions"><button type="submit">{say("finding-merge")}</button></p>
                    </form>
                </details>
            })}
        }
    })
    }
}
