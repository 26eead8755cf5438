//! Where a finding stands, and the decision.

use field::Act;
use field::view::FindingStanding;
use leptos::prelude::*;

use super::super::tray::focus;
use super::super::{Screen, go, report_language};
use super::Card;
use crate::app::{app, say, say_with};

/// Where it stands, and the decision.
#[component]
pub(super) fn Decision(key: String, card: Card) -> impl IntoView {
    let reason = RwSignal::new(String::new());
    let standing =
        Memo::new(move |_| card.with(|card| card.as_ref().map(|card| card.row.standing.clone())));
    let may = Memo::new(move |_| {
        card.with(|card| card.as_ref().map(|card| card.may).unwrap_or_default())
    });
    let point =
        Memo::new(move |_| card.with(|card| card.as_ref().and_then(|card| card.row.point.clone())));
    let (confirmed, withdrawn) = (key.clone(), key);
    view! {
        <p class="finding-standing">{move || standing.get().map(|standing| match standing {
            FindingStanding::Drafted => say("finding-drafted"),
            FindingStanding::Confirmed => say("finding-confirmed"),
            FindingStanding::Withdrawn(why) => say_with("finding-withdrawn", &[("why", &why)]),
            FindingStanding::Merged(_) => say("finding-merged"),
            FindingStanding::Corrected => say("finding-corrected"),
        })}</p>
        <p class="actions">
            {move || may.get().confirm.then(|| {
                let key = confirmed.clone();
                view! { <button class="primary" id="confirm" on:click=move |_| { app().act(Act::Confirm { key: key.clone() }); }>{say("finding-confirm")}</button> }
            })}
            {move || point.get().map(|point| view! {
                <button on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button>
            })}
        </p>
        {move || may.get().withdraw.then(|| {
            let key = withdrawn.clone();
            view! {
                <form class="own-words" on:submit=move |event| {
                    event.prevent_default();
                    if app().act(Act::Withdraw { key: key.clone(), reason: reason.get_untracked() }) {
                        reason.set(String::new());
                        focus("finding-list");
                    }
                }>
                    <label for="withdraw">{say("finding-withdraw-why")}</label>
                    <input id="withdraw" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || reason.get()
                        data-unsaved=move || (!reason.get().is_empty()).then_some("true")
                        on:input=move |event| reason.set(event_target_value(&event))
                        on:keydown=move |event| if event.key() == "Escape" { focus("finding-list"); }/>
                    <button type="submit">{say("finding-withdraw")}</button>
                </form>
            }
        })}
    }
}
