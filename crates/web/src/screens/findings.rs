//! All findings, and one of them in a card.

use field::Act;
use field::view::{FindingRow, FindingStanding};
use inspection::TimeToAct;
use leptos::prelude::*;

use super::again::ToAgain;
use super::left::use_key;
use super::marks::{Icon, Shape};
use super::{Screen, go, seen, units};
use crate::app::{app, say, say_with};

/// The screen.
#[component]
pub(super) fn FindingsScreen() -> impl IntoView {
    let findings = seen(|visit| visit.findings(units()));
    view! {
        <h1>{move || say("findings-title")}</h1>
        <ToAgain/>
        {move || findings.get().is_empty().then(|| view! { <p class="quiet">{say("findings-none")}</p> })}
        <ul class="cards">
            {move || findings.get().into_iter().map(|row| view! { <FindingCard row/> }).collect_view()}
        </ul>
        <div class="act-bar">
            <button class="primary" on:click=move |_| go(Screen::NewFinding(None))>{move || say("findings-write")}</button>
        </div>
    }
}

/// One finding: what to do at once first, then what it is, where it stands, and the decision.
#[component]
pub(super) fn FindingCard(row: FindingRow) -> impl IntoView {
    let uses: Vec<String> = row.stops.iter().map(|one| say(use_key(*one))).collect();
    let place = [row.point_title.clone(), row.position.clone()]
        .into_iter()
        .filter(|one| !one.is_empty())
        .collect::<Vec<_>>()
        .join(", ");
    let number = row.number.map(|number| format!("{number} · "));
    let (shape, standing) = match &row.standing {
        FindingStanding::Drafted => (Shape::Begun, say("finding-drafted")),
        FindingStanding::Confirmed => (Shape::Done, say("finding-confirmed")),
        FindingStanding::Withdrawn(reason) => {
            (Shape::NotExamined, say_with("finding-withdrawn", &[("why", reason)]))
        }
        FindingStanding::Corrected => (Shape::Done, say("recheck-corrected")),
        FindingStanding::Merged(_) => (Shape::NotExamined, say("finding-merged")),
    };
    let undecided = row.standing != FindingStanding::Confirmed;
    let (confirm, open) = (row.key.clone(), row.key.clone());
    view! {
        <li class="card finding" class:holds=!row.stops.is_empty()>
            {(!row.stop_work.is_empty()).then(|| view! {
                <p class="caution"><Icon shape=Shape::Caution/><strong>{row.stop_work.clone()}</strong></p>
            })}
            <h2>{number}{row.title}</h2>
            <p>{row.statement}</p>
            <p class="row-facts">
                {(!uses.is_empty()).then(|| view! { <span class="fact"><Icon shape=Shape::Bad/>{say_with("finding-stops", &[("uses", &uses.join(", "))])}</span> })}
                <span>{say(when_key(row.when))}</span>
                <span>{row.who}</span>
            </p>
            <p class="row-facts"><span class="fact"><Icon shape/>{standing}</span><span>{place}</span></p>
            <p class="actions">
                {undecided.then(|| view! {
                    <button on:click=move |_| { app().act(Act::Confirm { key: confirm.clone() }); }>{say("finding-confirm")}</button>
                })}
                <button on:click=move |_| go(Screen::Finding(open.clone()))>{say("finding-open")}</button>
            </p>
        </li>
    }
}

/// The key of how soon to act.
pub(super) fn when_key(when: TimeToAct) -> &'static str {
    match when {
        TimeToAct::BeforeUse => "when-before-use",
        TimeToAct::Soon => "when-soon",
        TimeToAct::InTime => "when-in-time",
    }
}
