//! Which uses a finding stops, and how soon to act.

use field::view::FindingRow;
use field::{Act, FindingChange};
use inspection::{TimeToAct, Use};
use leptos::prelude::*;

use super::super::findings::when_key;
use super::super::left::use_key;
use crate::app::{app, say};

/// Which uses it stops, and how soon to act.
#[component]
pub(super) fn Bearing(key: String, row: Memo<Option<FindingRow>>) -> impl IntoView {
    let stops = Memo::new(move |_| {
        row.with(|row| row.as_ref().map(|row| row.stops.clone()).unwrap_or_default())
    });
    let when = Memo::new(move |_| row.with(|row| row.as_ref().map(|row| row.when)));
    let change = move |change: FindingChange| {
        app().act(Act::EditFinding { key: key.clone(), change });
    };
    let (change_uses, change_when) = (change.clone(), change);
    view! {
        <fieldset class="choice">
            <legend>{move || say("finding-stops-what")}</legend>
            <div class="choice-buttons">
                {Use::ALL.into_iter().map(|one| {
                    let change = change_uses.clone();
                    view! {
                        <button type="button" aria-pressed=move || stops.with(|stops| stops.contains(&one)).to_string() on:click=move |_| {
                            let mut after = stops.get_untracked();
                            if after.contains(&one) { after.retain(|other| *other != one) } else { after.push(one) }
                            change(FindingChange::Stops(after));
                        }>{move || say(use_key(one))}</button>
                    }
                }).collect_view()}
            </div>
        </fieldset>
        <fieldset class="choice">
            <legend>{move || say("finding-when")}</legend>
            <div class="choice-buttons">
                {TimeToAct::ALL.into_iter().map(|one| {
                    let change = change_when.clone();
                    view! {
                        <button type="button" aria-pressed=move || (when.get() == Some(one)).to_string()
                            on:click=move |_| change(FindingChange::When(one))>{move || say(when_key(one))}</button>
                    }
                }).collect_view()}
            </div>
        </fieldset>
    }
}
