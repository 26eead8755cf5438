//! The job's opening page: the unit, the cautions of the day, what to bring, what is fitted.

use field::Act;
use field::view::{Calibration, EquipmentRow, KitItem};
use inspection::DwellingKind;
use leptos::prelude::*;

use super::again::ToAgain;
use super::instruments::InstrumentsToSeeTo;
use super::marks::{Icon, Shape};
use super::{Screen, go, seen, today, units};
use crate::app::{app, say, say_with};

/// The page.
#[component]
pub(super) fn OpeningScreen() -> impl IntoView {
    let opening = seen(|visit| Some(visit.opening(today(), units())));
    let next = seen(|visit| visit.line(units()).next);
    let begun = Memo::new(move |_| opening.get().is_some_and(|opening| opening.done > 0));
    let act = move || match (next.get(), begun.get()) {
        (None, _) => say("left-title"),
        (Some(_), false) => say("opening-begin"),
        (Some(_), true) => say("opening-go-on"),
    };
    let equipment =
        Memo::new(move |_| opening.get().map(|opening| opening.equipment).unwrap_or_default());
    view! {
        {move || opening.get().map(|opening| {
            let counts = say_with("opening-counts", &[
                ("points", &opening.points.to_string()),
                ("done", &opening.done.to_string()),
                ("hours", &hours(opening.minutes)),
            ]);
            let facts: Vec<(&str, String)> = [
                ("opening-kind", say(kind(opening.kind))),
                ("opening-year", opening.model_year.map(|year| year.to_string()).unwrap_or_default()),
                ("opening-built", opening.built.map(|day| day.to_string()).unwrap_or_default()),
                ("opening-identification", opening.identification.clone()),
                ("opening-size", [opening.size.0.clone(), opening.size.1.clone()].into_iter()
                    .filter(|one| !one.is_empty()).collect::<Vec<_>>().join(" × ")),
                ("opening-site", opening.site.clone()),
                ("opening-client", opening.client.clone()),
                ("opening-contact", opening.contact.clone()),
                ("opening-scope", opening.scope.clone()),
                ("opening-limits", opening.limits.clone()),
            ].into_iter().filter(|(_, fact)| !fact.is_empty()).collect();
            view! {
                <h1>{opening.unit.clone()}</h1>
                <p class="quiet">{format!("{} · {}", opening.number, opening.plan)}</p>
                <p class="figures">{counts}</p>
                <section class="caution" aria-labelledby="cautions">
                    <h2 id="cautions"><Icon shape=Shape::Caution/>{say("opening-cautions")}</h2>
                    <ul>{opening.cautions.iter().map(|caution| view! { <li>{caution.clone()}</li> }).collect_view()}</ul>
                </section>
                <h2>{say("opening-unit")}</h2>
                <dl class="facts-list">
                    {facts.into_iter().map(|(key, fact)| view! {
                        <div><dt>{say(key)}</dt><dd>{fact}</dd></div>
                    }).collect_view()}
                </dl>
                <p class="actions"><button id="to-engagement" on:click=move |_| go(Screen::Engagement)>
                    <Icon shape=Shape::Letter/>" "{say("engagement-title")}
                </button></p>
                <h2>{say("opening-kit")}</h2>
                <ul class="kit">{opening.kit.into_iter().map(|item| view! { <Kit item/> }).collect_view()}</ul>
            }
        })}
        <InstrumentsToSeeTo/>
        <ToAgain/>
        <h2>{move || say("opening-equipment")}</h2>
        <p class="quiet">{move || say("opening-equipment-hint")}</p>
        <ul class="switches">
            <For each=move || equipment.get() key=|row| row.id.clone() let:row>
                <Fitted id=row.id.clone() title=row.title equipment/>
            </For>
        </ul>
        <div class="act-bar">
            <button on:click=move |_| go(Screen::States)><Icon shape=Shape::Switch/>{move || say("opening-site-states")}</button>
            <button class="primary" on:click=move |_| match next.get_untracked() {
                Some(point) => go(Screen::Point(point)),
                None => go(Screen::Left),
            }>{act}</button>
        </div>
    }
}

#[component]
fn Kit(item: KitItem) -> impl IntoView {
    let count = say_with("kit-points", &[("count", &item.points.to_string())]);
    let overdue = item.out_of_calibration();
    view! {
        <li>
            <p><strong>{say(item.key)}</strong>" "<span class="quiet">{count}</span></p>
            <p class="hint">{item.for_points.join(" · ")}</p>
            {overdue.then(|| view! { <p class="bad"><Icon shape=Shape::Beyond/>{say("kit-overdue")}</p> })}
            {item.instruments.into_iter().map(|row| {
                let state = match row.calibration {
                    Calibration::Until(day) => say_with("kit-until", &[("day", &day.to_string())]),
                    Calibration::RanOut(day) => say_with("kit-ran-out", &[("day", &day.to_string())]),
                    Calibration::Unknown => say("kit-no-calibration"),
                };
                view! { <p class="hint">{format!("{}: {state}", row.name)}</p> }
            }).collect_view()}
        </li>
    }
}

#[component]
fn Fitted(id: String, title: String, equipment: Memo<Vec<EquipmentRow>>) -> impl IntoView {
    let one = id.clone();
    let fitted = Memo::new(move |_| {
        equipment.with(|rows| rows.iter().any(|row| row.id == one && row.fitted))
    });
    view! {
        <li>
            <button class="switch" role="switch" aria-checked=move || fitted.get().to_string() on:click=move |_| {
                let equipment = id.clone();
                let act = if fitted.get_untracked() { Act::Unfit { equipment } } else { Act::Fit { equipment } };
                app().act(act);
            }>
                <span class="knob" aria-hidden="true"></span><span>{title}</span>
            </button>
        </li>
    }
}

/// The key of a kind of unit.
fn kind(kind: DwellingKind) -> &'static str {
    match kind {
        DwellingKind::TravelTrailer => "kind-travel-trailer",
        DwellingKind::FifthWheel => "kind-fifth-wheel",
        DwellingKind::ParkTrailer => "kind-park-trailer",
        DwellingKind::ManufacturedHome => "kind-manufactured-home",
    }
}

/// Minutes as hours and minutes.
pub(super) fn hours(minutes: u32) -> String {
    if minutes < 60 {
        format!("{minutes} min")
    } else {
        format!("{} h {} min", minutes / 60, minutes % 60)
    }
}
