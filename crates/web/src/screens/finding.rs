//! One finding, to be decided on, and the form in which a new one is written.

use field::view::{FindingStanding, NewFinding, Target};
use field::{Act, FindingWritten};
use inspection::{PointId, TimeToAct, Use};
use leptos::prelude::*;

use super::findings::{FindingCard, when_key};
use super::left::use_key;
use super::live::LivePart;
use super::remarks::{RemarkLines, put_typed, remarks_at};
use super::stock::StockSentences;
use super::{Screen, go, report_language, seen, units};
use crate::app::{app, say, say_with};
use crate::browser::wide;
use crate::line::{FindingTyped, PagesWanted};

/// One finding with the decision on it.
#[component]
pub(super) fn FindingScreen(key: String) -> impl IntoView {
    let one = key.clone();
    let row = seen(move |visit| visit.findings(units()).into_iter().find(|row| row.key == one));
    let reason = RwSignal::new(String::new());
    let standing = Memo::new(move |_| row.get().map(|row| row.standing));
    let point = Memo::new(move |_| row.get().and_then(|row| row.point));
    let remarks = remarks_at(Target::Finding(key.clone()));
    view! {
        <h1>{move || say("finding-title")}</h1>
        {move || match row.get() {
            Some(row) => view! { <ul class="cards"><FindingCard row/></ul> }.into_any(),
            None => view! { <p>{say("finding-gone")}</p> }.into_any(),
        }}
        <RemarkLines remarks/>
        {move || standing.get().filter(|standing| !matches!(standing, FindingStanding::Withdrawn(_))).map(|_| {
            let key = key.clone();
            view! {
                <form on:submit=move |event| {
                    event.prevent_default();
                    let act = Act::Withdraw { key: key.clone(), reason: reason.get_untracked() };
                    if app().act(act) {
                        reason.set(String::new());
                    }
                }>
                    <div class="field">
                        <label for="withdraw">{say("finding-withdraw-why")}</label>
                        <input id="withdraw" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || reason.get()
                            data-unsaved=move || (!reason.get().is_empty()).then_some("true")
                            on:input=move |event| reason.set(event_target_value(&event))/>
                    </div>
                    <p class="actions"><button type="submit">{say("finding-withdraw")}</button></p>
                </form>
            }
        })}
        {move || point.get().map(|point| view! {
            <p class="actions"><button on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button></p>
        })}
    }
}

/// A finding in a person's own words. It begins with what most of the defects of its point say.
#[component]
pub(super) fn NewFindingScreen(point: Option<PointId>) -> impl IntoView {
    let of = point.clone();
    let begun = seen(move |visit| visit.new_finding(of.as_ref()));
    let NewFinding { who: offered, stops, when, .. } = begun.get_untracked();
    let [title, statement] = [(); 2].map(|()| RwSignal::new(String::new()));
    let (who, stops, when) = (RwSignal::new(offered), RwSignal::new(stops), RwSignal::new(when));
    let at = point.clone();
    let write = move || {
        let photos = at
            .as_ref()
            .and_then(|point| {
                app().visit_untracked(|visit| visit.point(point, field::UnitSystem::Us))
            })
            .flatten()
            .map(|point| point.photos.into_iter().map(|photo| photo.id).collect())
            .unwrap_or_default();
        let done = app().act(Act::WriteFinding(FindingWritten {
            point: at.clone(),
            title: title.get_untracked(),
            statement: statement.get_untracked(),
            stops: stops.get_untracked(),
            when: when.get_untracked(),
            who: who.get_untracked(),
            photos,
        }));
        if done {
            go(at.clone().map_or(Screen::Findings, Screen::Point));
        }
    };
    let unsaved =
        move || (!title.get().is_empty() || !statement.get().is_empty()).then_some("true");
    let of_page = point.as_ref().map(ToString::to_string).unwrap_or_default();
    let wanted = Signal::derive(move || PagesWanted {
        part: "finding".to_owned(),
        language: report_language(),
        finding: Some(FindingTyped {
            key: String::new(),
            title: title.get(),
            statement: statement.get(),
            who: who.get(),
            stops: Some(stops.with(|stops| stops.iter().map(|one| one.word()).collect())),
            when: Some(when.get().words()),
            point: of_page.clone(),
        }),
        ..PagesWanted::default()
    });
    let remarks = Memo::new(move |_| {
        let mut all = Vec::new();
        title.with(|text| put_typed(&mut all, "text-heading", text));
        statement.with(|text| put_typed(&mut all, "text-statement", text));
        // What is offered is the plan's, and no promise of a person's own.
        if who.get() != begun.with(|begun| begun.who.clone()) {
            who.with(|text| put_typed(&mut all, "text-who", text));
        }
        all
    });
    view! {
        <h1>{move || say("findings-write")}</h1>
        <p class="quiet">{move || match begun.with(|begun| begun.point_title.clone()) {
            title if title.is_empty() => say("finding-at-none"),
            title => say_with("finding-at", &[("point", &title)]),
        }}</p>
        <div class="beside">
        <form on:submit=move |event| { event.prevent_default(); write(); } data-unsaved=unsaved>
            <div class="field">
                <label for="finding-heading">{move || say("finding-heading")}</label>
                <input id="finding-heading" type="text" autocomplete="off" spellcheck="true" lang=report_language required
                    prop:value=move || title.get() on:input=move |event| title.set(event_target_value(&event))/>
            </div>
            <div class="field">
                <label for="finding-statement">{move || say("finding-statement")}</label>
                <textarea id="finding-statement" rows="4" spellcheck="true" lang=report_language
                    prop:value=move || statement.get() on:input=move |event| statement.set(event_target_value(&event))></textarea>
            </div>
            <StockSentences field="finding-statement" statement key=None point=point enter=Callback::new(move |text| statement.set(text))/>
            <fieldset class="choice">
                <legend>{move || say("finding-stops-what")}</legend>
                <div class="choice-buttons">
                    {Use::ALL.into_iter().map(|one| {
                        let on = move || stops.with(|stops| stops.contains(&one));
                        view! {
                            <button type="button" aria-pressed=move || on().to_string() on:click=move |_| stops.update(|stops| {
                                if stops.contains(&one) { stops.retain(|other| *other != one) } else { stops.push(one) }
                            })>{move || say(use_key(one))}</button>
                        }
                    }).collect_view()}
                </div>
            </fieldset>
            <fieldset class="choice">
                <legend>{move || say("finding-when")}</legend>
                <div class="choice-buttons">
                    {TimeToAct::ALL.into_iter().map(|one| view! {
                        <button type="button" aria-pressed=move || (when.get() == one).to_string()
                            on:click=move |_| when.set(one)>{move || say(when_key(one))}</button>
                    }).collect_view()}
                </div>
            </fieldset>
            <div class="field">
                <label for="finding-who">{move || say("finding-who")}</label>
                <input id="finding-who" type="text" autocomplete="off" spellcheck="true" lang=report_language
                    prop:value=move || who.get() on:input=move |event| who.set(event_target_value(&event))/>
            </div>
            <RemarkLines remarks/>
            <div class="act-bar"><button type="submit" class="primary">{move || say("finding-enter")}</button></div>
        </form>
        {wide().then(|| view! { <LivePart wanted/> })}
        </div>
    }
}
