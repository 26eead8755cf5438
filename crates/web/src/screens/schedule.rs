//! What now? The schedule of the day: what comes next and why, the waits' clocks, who is there.

use field::Act;
use field::view::{Ahead, Doing, NextStep, NextStop};
use inspection::PointId;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::opening::hours;
use super::states::StateBar;
use super::waits::{Ticking, running, under_way};
use super::{Screen, go};
use crate::app::{app, say, say_with, texts};

/// The screen.
#[component]
pub(super) fn ScheduleScreen() -> impl IntoView {
    let app = app();
    let planned = app.planned();
    let ahead = Memo::new(move |_| planned.with(|planned| planned.ahead.clone()));
    let people = Memo::new(move |_| planned.with(|planned| planned.people));
    let five_minutes = Memo::new(move |_| app.clock().get().div_euclid(300));
    let alarms = Memo::new(move |_| app.alarms());
    // Planned anew after each act, when a wait is over, and as time goes by; seldom, since a list that is drawn anew
    // loses the keyboard's place in it.
    Effect::new(move |_| {
        five_minutes.track();
        alarms.track();
        app.visit(|_| ());
        app.plan_ahead();
    });
    view! {
        <h1>{move || say("ahead-title")}</h1>
        <StateBar/>
        <div role="group" class="people" aria-label=move || say("ahead-people")>
            {[(1, "ahead-one"), (2, "ahead-two")].map(|(number, key)| view! {
                <button aria-pressed=move || (people.get() == number).to_string() on:click=move |_| app.set_people(number)>
                    {move || say(key)}
                </button>
            })}
        </div>
        <p role="status" class="figures" id="planned">{move || match ahead.get() {
            None => say("ahead-looking"),
            Some(ahead) => summary(&ahead),
        }}</p>
        {move || ahead.get().map(|ahead| view! { <Rest ahead two=people.get() == 2/> })}
    }
}

/// When all is done, and what is to be said of the plan as a whole.
fn summary(ahead: &Ahead) -> String {
    let mut words = match ahead.ends.as_str() {
        "" if ahead.now.is_empty() => say("ahead-nothing"),
        "" => String::new(),
        clock => say_with("ahead-ends", &[("clock", clock), ("time", &hours(ahead.minutes))]),
    };
    if ahead.reordered {
        words = format!("{words}. {}", say("ahead-reordered"));
    }
    words
}

#[component]
fn Rest(ahead: Ahead, two: bool) -> impl IntoView {
    let Ahead { now, stops, blocked, trouble, .. } = ahead;
    let count = blocked.len().to_string();
    view! {
        {trouble.map(|trouble| view! { <p class="trouble">{texts().of(&trouble)}</p> })}
        {now.into_iter().map(|step| view! { <NowCard step two/> }).collect_view()}
        <Waits/>
        {(!stops.is_empty()).then(|| view! { <h2>{say("ahead-after")}</h2> })}
        <ol class="ahead">
            {stops.into_iter().map(|stop| view! { <StopAhead stop two/> }).collect_view()}
        </ol>
        {(!blocked.is_empty()).then(|| view! {
            <h2>{say_with("ahead-blocked", &[("count", &count)])}</h2>
            <ul class="points">
                {blocked.into_iter().map(|(point, title, why)| view! {
                    <li><button class="row" on:click=move |_| go(Screen::Point(point.clone()))>
                        <Icon shape=Shape::Caution/>
                        <span class="row-words">
                            <span class="row-title">{title}</span>
                            <span class="row-facts"><span>{texts().of(&why)}</span></span>
                        </span>
                    </button></li>
                }).collect_view()}
            </ul>
        })}
        <p class="hint">{say("ahead-safety")}</p>
    }
}

/// What one does now, why, and the way there.
#[component]
fn NowCard(step: NextStep, two: bool) -> impl IntoView {
    let heading = if two {
        say_with("ahead-now-of", &[("number", &(step.person + 1).to_string())])
    } else {
        say("ahead-now")
    };
    let title = title(&step);
    let idle = step.idle_minutes;
    let why: Vec<String> = step.why.iter().map(|why| texts().of(why)).collect();
    view! {
        <section class="card now">
            <p class="now-head">{heading}</p>
            {step.caution.map(|caution| view! {
                <div class="caution"><p><Icon shape=Shape::Caution/>{texts().of(&caution)}</p></div>
            })}
            <h2>{title}</h2>
            <p class="row-facts">
                <span>{step.stop.1}</span>
                <span>{hours(step.minutes)}</span>
                {(idle > 0).then(|| view! { <span>{say_with("ahead-idle", &[("count", &idle.to_string())])}</span> })}
            </p>
            <ul class="why">{why.into_iter().map(|why| view! { <li>{why}</li> }).collect_view()}</ul>
            {match step.doing {
                Doing::Point(point) | Doing::Return(point) => view! { <ToPoint point/> }.into_any(),
                Doing::Change { state, set } => view! {
                    <button class="primary" on:click=move |_| {
                        let state = state.clone();
                        app().act(if set { Act::SetState { state } } else { Act::UnsetState { state } });
                    }>{say("ahead-done")}</button>
                }.into_any(),
            }}
        </section>
    }
}

#[component]
fn ToPoint(point: PointId) -> impl IntoView {
    view! {
        <button class="primary" on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button>
    }
}

/// A step in a few words.
fn title(step: &NextStep) -> String {
    let with = [("what", step.title.as_str())];
    match &step.doing {
        Doing::Point(_) => step.title.clone(),
        Doing::Return(_) => say_with("ahead-return", &with),
        Doing::Change { set: true, .. } => say_with("ahead-set", &with),
        Doing::Change { set: false, .. } => say_with("ahead-unset", &with),
    }
}

/// The clocks of the waits that run.
#[component]
fn Waits() -> impl IntoView {
    let running = running();
    let waits = under_way(running);
    let any = Memo::new(move |_| !waits.with(Vec::is_empty));
    view! {
        {move || any.get().then(|| view! { <h2>{say("ahead-waits")}</h2> })}
        <ul class="cards">
            <For each=move || waits.get() key=|(id, ..)| id.clone() let:wait>
                {
                    let (id, point, title) = wait;
                    view! {
                        <li class="card">
                            <h3>{title}</h3>
                            <Ticking id running/>
                            <button on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button>
                        </li>
                    }
                }
            </For>
        </ul>
    }
}

#[component]
fn StopAhead(stop: NextStop, two: bool) -> impl IntoView {
    let NextStop { stop, person, starts, steps } = stop;
    let person = say_with("ahead-person", &[("number", &(person + 1).to_string())]);
    view! {
        <li>
            <h3><span class="when">{starts}</span>" "{stop.1}{two.then(|| format!(" · {person}"))}</h3>
            <ul class="points">
                {steps.into_iter().map(|step| view! { <StepAhead step/> }).collect_view()}
            </ul>
        </li>
    }
}

#[component]
fn StepAhead(step: NextStep) -> impl IntoView {
    let why = step.why.first().map(|why| texts().of(why));
    let words = view! {
        <span class="row-words">
            <span class="row-title">{title(&step)}</span>
            <span class="row-facts">
                <span>{hours(step.minutes)}</span>
                {why.map(|why| view! { <span>{why}</span> })}
            </span>
        </span>
    };
    match step.doing {
        Doing::Point(point) | Doing::Return(point) => view! {
            <li><button class="row" on:click=move |_| go(Screen::Point(point.clone()))>{words}</button></li>
        }
        .into_any(),
        Doing::Change { .. } => view! { <li class="row"><Icon shape=Shape::Switch/>{words}</li> }.into_any(),
    }
}
