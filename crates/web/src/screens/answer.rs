//! The answer to a point, at the bottom under the thumb.

use field::view::{PointState, REASONS, Remark, Target, reason_read};
use field::{Act, Answer};
use inspection::PointId;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::point::Seen;
use super::remarks::RemarkLines;
use super::{Screen, go, report_language, seen};
use crate::app::{app, say, say_with, texts};

/// The bar: three answers, or the one given and the way on.
#[component]
pub(super) fn AnswerBar(id: PointId, point: Seen) -> impl IntoView {
    let state = Memo::new(move |_| point.with(|point| point.as_ref().map(|point| point.state)));
    let reason = Memo::new(move |_| {
        point.with(|point| point.as_ref().map(|point| point.reason.clone())).unwrap_or_default()
    });
    let asking = RwSignal::new(false);
    let answered = Memo::new(move |_| {
        state.get().is_some_and(|state| !matches!(state, PointState::Open | PointState::Begun))
    });
    let of = id.clone();
    let next = seen(move |visit| {
        let next = visit.next_after(&of)?;
        Some((next.clone(), visit.point_row(&next)?.title))
    });
    let answer = {
        let id = id.clone();
        move |answer| {
            asking.set(false);
            app().act(Act::Answer { point: id.clone(), answer })
        }
    };
    move || {
        if asking.get() {
            return view! { <Reasons answer=answer.clone() asking/> }.into_any();
        }
        if answered.get() {
            let id = id.clone();
            return view! {
                <div class="act-bar answered">
                    <p class="answer" role="status">
                        {move || state.get().map(|state| view! { <Icon shape=Shape::of_state(state)/><strong>{say(state.key())}</strong> })}
                        {move || Some(reason.get()).filter(|it| !it.is_empty()).map(|reason| view! { <span>{reason_read(&texts(), &reason)}</span> })}
                    </p>
                    <button on:click=move |_| { app().act(Act::TakeBackAnswer { point: id.clone() }); }>{say("answer-take-back")}</button>
                    {move || match next.get() {
                        Some((next, title)) => view! {
                            <button class="primary" on:click=move |_| go(Screen::Point(next.clone()))>{say_with("line-next", &[("what", &title)])}</button>
                        }.into_any(),
                        None => view! {
                            <button class="primary" on:click=move |_| go(Screen::Left)>{say("line-through")}</button>
                        }.into_any(),
                    }}
                </div>
            }
            .into_any();
        }
        let (examined, not_fitted) = (answer.clone(), answer.clone());
        view! {
            <div class="act-bar answers" role="group" aria-label=say("answer-label")>
                <button on:click=move |_| asking.set(true)>{say("answer-not-examined")}</button>
                <button on:click=move |_| { not_fitted(Answer::NotFitted); }>{say("answer-not-fitted")}</button>
                <button class="primary" on:click=move |_| { examined(Answer::Examined); }>{say("answer-examined")}</button>
            </div>
        }
        .into_any()
    }
}

/// Why it cannot be examined: one tap, or a person's own words.
#[component]
fn Reasons(
    answer: impl Fn(Answer) -> bool + Clone + 'static,
    asking: RwSignal<bool>,
) -> impl IntoView {
    let own = RwSignal::new(String::new());
    let first = NodeRef::<leptos::html::Button>::new();
    Effect::new(move |_| {
        if let Some(first) = first.get() {
            drop(first.focus());
        }
    });
    let enter = answer.clone();
    let remarks =
        Memo::new(move |_| Remark::on_typed(&own.get(), "text-not-examined", &Target::Job));
    view! {
        <div class="act-bar reasons" role="group" aria-label=say("answer-why")>
            <p class="answer"><strong>{say("answer-why")}</strong></p>
            {REASONS.into_iter().enumerate().map(|(at, reason)| {
                let answer = answer.clone();
                let act = move |_| {
                    answer(Answer::NotExamined { reason: reason.words.to_owned() });
                };
                if at == 0 {
                    view! { <button node_ref=first on:click=act>{say(reason.key)}</button> }.into_any()
                } else {
                    view! { <button on:click=act>{say(reason.key)}</button> }.into_any()
                }
            }).collect_view()}
            <form class="own-words" on:submit=move |event| {
                event.prevent_default();
                enter(Answer::NotExamined { reason: own.get_untracked() });
            }>
                <label for="own-reason">{say("answer-own-words")}</label>
                <input id="own-reason" type="text" autocomplete="off" spellcheck="true" lang=report_language prop:value=move || own.get()
                    data-unsaved=move || (!own.get().is_empty()).then_some("true")
                    on:input=move |event| own.set(event_target_value(&event))/>
                <button type="submit">{say("reading-enter")}</button>
                <RemarkLines remarks/>
            </form>
            <button class="plain" on:click=move |_| asking.set(false)>{say("answer-cancel")}</button>
        </div>
    }
}
