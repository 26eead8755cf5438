//! The point at hand: caution first, what to do, pads, what was found, photos, the answer at the bottom.

use field::Act;
use field::view::{DefectRow, PointView, Target};
use inspection::PointId;
use leptos::prelude::*;

use super::again::AtPoint;
use super::answer::AnswerBar;
use super::findings::FindingCard;
use super::marks::{Icon, Shape};
use super::memos::Memos;
use super::photo::Photos;
use super::reading::ReadingPad;
use super::remarks::{RemarkLines, remarks_at, while_typed};
use super::states::StateBar;
use super::verdict::ValuedView;
use super::waits::{AlertsOffer, WaitWords, running};
use super::{Screen, go, report_language, seen, units};
use crate::app::{app, say, say_with};

/// The point, or that the unit has none such.
pub(super) type Seen = Memo<Option<PointView>>;

/// A part of the point, asked again only when it has changed.
fn part<T: Clone + Default + PartialEq + Send + Sync + 'static>(
    point: Seen,
    look: fn(&PointView) -> T,
) -> Memo<T> {
    Memo::new(move |_| point.with(|point| point.as_ref().map(look)).unwrap_or_default())
}

/// The screen.
#[component]
pub(super) fn PointScreen(id: PointId) -> impl IntoView {
    let of = id.clone();
    let point: Seen = seen(move |visit| visit.point(&of, units()));
    let there = Memo::new(move |_| point.with(Option::is_some));
    move || {
        if there.get() {
            view! { <There id=id.clone() point/> }.into_any()
        } else {
            view! { <h1>{say("point-none")}</h1><p>{say("point-none-why")}</p> }.into_any()
        }
    }
}

#[component]
fn There(id: PointId, point: Seen) -> impl IntoView {
    let title = part(point, |point| point.title.clone());
    let stop = part(point, |point| point.stop.clone());
    let caution = part(point, |point| point.caution.clone());
    let readings = part(point, |point| {
        point.readings.iter().map(|reading| reading.name.clone()).collect::<Vec<_>>()
    });
    let computed = part(point, |point| point.computed.clone());
    let problems = part(point, |point| point.problems.clone());
    let for_readings = id.clone();
    view! {
        <p class="crumb">
            <button class="plain" on:click=move |_| go(Screen::Stop(stop.get_untracked().0))>
                <span aria-hidden="true">"‹ "</span>{move || stop.get().1}
            </button>
        </p>
        <h1>{move || title.get()}</h1>
        {move || Some(caution.get()).filter(|it| !it.is_empty()).map(|caution| view! {
            <section class="caution" aria-labelledby="caution">
                <h2 id="caution"><Icon shape=Shape::Caution/>{say("point-caution")}</h2>
                <p>{caution}</p>
            </section>
        })}
        <Before point/>
        <ToDo point/>
        <WaitPart id=id.clone() point/>
        {move || (!readings.get().is_empty()).then(|| view! { <h2>{say("point-readings")}</h2> })}
        <For each=move || readings.get() key=|name| name.clone() let:name>
            <ReadingPad of=for_readings.clone() name point/>
        </For>
        {move || problems.get().into_iter().map(|problem| view! { <p class="trouble">{problem}</p> }).collect_view()}
        {move || Some(computed.get()).filter(|it| !it.is_empty()).map(|computed| view! {
            <h2>{say("point-computed")}</h2>
            {computed.into_iter().map(|value| view! { <ValuedView value/> }).collect_view()}
        })}
        <Defects id=id.clone() point/>
        <AtPoint id=id.clone()/>
        <Found id=id.clone() point/>
        <Photos id=id.clone() point/>
        <Note id=id.clone() point/>
        <Memos id=id.clone() point/>
        <AnswerBar id point/>
    }
}

/// What should be so before the acts, and is not: site states, points that come first.
#[component]
fn Before(point: Seen) -> impl IntoView {
    let needs = part(point, |point| point.needs.clone());
    let after = part(point, |point| point.after.clone());
    view! {
        {move || Some(needs.get()).filter(|it| !it.is_empty()).map(|needs| view! {
            <section class="warning" aria-labelledby="needs">
                <h2 id="needs"><Icon shape=Shape::Switch/>{say("point-needs")}</h2>
                <ul>{needs.into_iter().map(|need| {
                    let words = if need.known { say("point-need-not-so") } else { say("point-need-unknown") };
                    let state = need.id.clone();
                    view! {
                        <li>
                            <p><strong>{need.title.clone()}</strong>" · "{words}</p>
                            <button on:click=move |_| { app().act(Act::SetState { state: state.clone() }); }>
                                {say_with("point-need-set", &[("state", &need.title)])}
                            </button>
                        </li>
                    }
                }).collect_view()}</ul>
            </section>
        })}
        {move || Some(after.get()).filter(|it| !it.is_empty()).map(|after| view! {
            <section class="warning" aria-labelledby="after">
                <h2 id="after"><Icon shape=Shape::Beyond/>{say("point-after")}</h2>
                <ul>{after.into_iter().map(|(id, title)| view! {
                    <li><button on:click=move |_| go(Screen::Point(id.clone()))>{title}</button></li>
                }).collect_view()}</ul>
            </section>
        })}
        <StateBar/>
    }
}

#[component]
fn ToDo(point: Seen) -> impl IntoView {
    let acts = part(point, |point| {
        vec![
            ("point-look", point.look.clone()),
            ("point-operate", point.operate.clone()),
            ("point-measure", point.measure.clone()),
        ]
    });
    move || {
        acts.get()
            .into_iter()
            .filter(|(_, lines)| !lines.is_empty())
            .map(|(key, lines)| {
                view! {
                    <section class="to-do">
                        <h2>{say(key)}</h2>
                        <ul>{lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
                    </section>
                }
            })
            .collect_view()
    }
}

#[component]
fn WaitPart(id: PointId, point: Seen) -> impl IntoView {
    let planned = part(point, |point| point.wait.clone());
    let running = running();
    let of = id.clone();
    let mine =
        Memo::new(move |_| running.with(|all| all.iter().find(|wait| wait.point == of).cloned()));
    let runs = Memo::new(move |_| mine.with(Option::is_some));
    move || {
        planned.get().map(|planned| {
            let id = id.clone();
            let minutes = planned.minutes.to_string();
            view! {
                <section class="wait" aria-labelledby="wait">
                    <h2 id="wait"><Icon shape=Shape::Clock/>{say_with("point-wait", &[("minutes", &minutes)])}</h2>
                    {move || if runs.get() {
                        view! {
                            {move || mine.get().map(|wait| view! { <WaitWords wait/> })}
                            <AlertsOffer/>
                            <button on:click=move |_| {
                                if let Some(wait) = mine.get_untracked() {
                                    app().act(Act::EndWait { wait: wait.id });
                                }
                            }>{say("waits-end")}</button>
                        }.into_any()
                    } else {
                        let id = id.clone();
                        let untouched = planned.untouched.join(", ");
                        view! {
                            <p>{planned.what.clone()}</p>
                            {(!untouched.is_empty()).then(|| view! {
                                <p class="hint">{say_with("waits-untouched", &[("what", &untouched)])}</p>
                            })}
                            <button on:click=move |_| { app().act(Act::StartWait { point: id.clone() }); }>{say("waits-start")}</button>
                        }.into_any()
                    }}
                </section>
            }
        })
    }
}

/// What can be wrong here: one tap each.
#[component]
fn Defects(id: PointId, point: Seen) -> impl IntoView {
    let defects = part(point, |point| point.defects.clone());
    let any = Memo::new(move |_| !defects.with(Vec::is_empty));
    view! {
        {move || any.get().then(|| view! { <h2>{say("point-defects")}</h2> })}
        <ul class="switches">
            <For each=move || defects.get() key=|row| row.id.clone() let:row>
                <Defect of=id.clone() id=row.id.clone() title=row.title defects/>
            </For>
        </ul>
    }
}

#[component]
fn Defect(of: PointId, id: String, title: String, defects: Memo<Vec<DefectRow>>) -> impl IntoView {
    let one = id.clone();
    let row =
        Memo::new(move |_| defects.with(|rows| rows.iter().find(|row| row.id == one).cloned()));
    let seen = Memo::new(move |_| row.get().is_some_and(|row| row.seen));
    view! {
        <li>
            <button class="switch" role="switch" aria-checked=move || seen.get().to_string() on:click=move |_| {
                let (point, defect, position) = (of.clone(), id.clone(), String::new());
                app().act(if seen.get_untracked() {
                    Act::Unsee { point, defect, position }
                } else {
                    Act::See { point, defect, position }
                });
            }>
                <span class="knob" aria-hidden="true"></span>
                <span class="row-words">
                    <span>{title}</span>
                    {move || row.get().filter(|row| !row.places.is_empty()).map(|row| view! {
                        <span class="row-facts"><span>{row.places.join(", ")}</span></span>
                    })}
                </span>
            </button>
        </li>
    }
}

/// Findings that stand here.
#[component]
fn Found(id: PointId, point: Seen) -> impl IntoView {
    let findings = part(point, |point| point.findings.clone());
    view! {
        <h2>{move || say("point-findings")}</h2>
        {move || match findings.get() {
            rows if rows.is_empty() => view! { <p class="quiet">{say("point-no-findings")}</p> }.into_any(),
            rows => view! { <ul class="cards">{rows.into_iter().map(|row| view! { <FindingCard row/> }).collect_view()}</ul> }.into_any(),
        }}
        <p class="actions">
            <button on:click=move |_| go(Screen::NewFinding(Some(id.clone())))><Icon shape=Shape::Finding/>{move || say("findings-write")}</button>
        </p>
    }
}

/// The note, entered when it is left, with remarks on what was written at this point.
#[component]
fn Note(id: PointId, point: Seen) -> impl IntoView {
    let noted = part(point, |point| point.note.clone());
    let text = RwSignal::new(noted.get_untracked());
    // What was noted elsewhere, or taken back, comes in unless something else is being typed.
    Effect::new(move |before: Option<String>| {
        let now = noted.get();
        if before.is_none_or(|before| text.with_untracked(|text| *text == before)) {
            text.set(now.clone());
        }
        now
    });
    let unsaved = move || (text.get() != noted.get()).then_some("true");
    let recorded = remarks_at(Target::Point(id.clone()));
    let remarks = while_typed(recorded, "text-note", move || {
        Some(text.get()).filter(|text| *text != noted.get())
    });
    view! {
        <div class="field">
            <label for="note">{move || say("point-note")}</label>
            <textarea id="note" rows="3" spellcheck="true" lang=report_language data-unsaved=unsaved prop:value=move || text.get()
                on:input=move |event| text.set(event_target_value(&event))
                on:change=move |_| { app().act(Act::Note { point: id.clone(), text: text.get_untracked() }); }></textarea>
            <RemarkLines remarks/>
        </div>
    }
}
