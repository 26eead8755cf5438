//! Waits under way, each with its clock.

use field::Act;
use field::view::{RunningWait, WaitState};
use inspection::{PointId, WaitId};
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::{Screen, go};
use crate::app::{Alerts, app, say, say_with};

/// The waits under way, asked again every second.
pub(super) fn running() -> Memo<Vec<RunningWait>> {
    let app = app();
    Memo::new(move |_| {
        app.clock().track();
        app.visit(|visit| visit.waits(app.now())).unwrap_or_default()
    })
}

/// The waits under way without their clocks: a list by it is drawn anew when one begins or ends, not each second, so that
/// a button in it keeps the keyboard's focus.
pub(super) fn under_way(running: Memo<Vec<RunningWait>>) -> Memo<Vec<(WaitId, PointId, String)>> {
    let name = |wait: &RunningWait| (wait.id.clone(), wait.point.clone(), wait.title.clone());
    Memo::new(move |_| running.with(|all| all.iter().map(name).collect()))
}

/// The clock and the words of one of them.
#[component]
pub(super) fn Ticking(id: WaitId, running: Memo<Vec<RunningWait>>) -> impl IntoView {
    let wait = Memo::new(move |_| running.with(|all| all.iter().find(|one| one.id == id).cloned()));
    move || wait.get().map(|wait| view! { <WaitWords wait/> })
}

/// Seconds as a clock shows them.
pub(super) fn clock(seconds: i64) -> String {
    let (hours, minutes, seconds) = (seconds / 3_600, seconds / 60 % 60, seconds % 60);
    if hours > 0 {
        format!("{hours}:{minutes:02}:{seconds:02}")
    } else {
        format!("{minutes}:{seconds:02}")
    }
}

/// How a wait stands, in words and figures.
#[component]
pub(super) fn WaitWords(wait: RunningWait) -> impl IntoView {
    let (shape, words) = match wait.state {
        WaitState::Running => {
            (Shape::Clock, say_with("waits-left", &[("time", &clock(wait.seconds_left))]))
        }
        WaitState::Over => (Shape::Good, say("waits-over")),
        WaitState::TooLong => (Shape::Beyond, say("waits-too-long")),
    };
    view! {
        <p class="clock" role="timer"><Icon shape/>{words}</p>
        {wait.minutes_of_use.map(|minutes| view! {
            <p class="of-use">{say_with("waits-of-use", &[("count", &minutes.to_string())])}</p>
        })}
        <p>{wait.words}</p>
        {(!wait.untouched.is_empty()).then(|| view! {
            <p class="hint">{say_with("waits-untouched", &[("what", &wait.untouched.join(", "))])}</p>
        })}
    }
}

/// What the browser lets the app do when a wait is over: asked for with a tap, and said plainly where it refuses.
#[component]
pub(super) fn AlertsOffer() -> impl IntoView {
    let app = app();
    let alerts = app.alerts();
    move || {
        match alerts.get() {
        Alerts::NotAsked => view! {
            <div class="alerts">
                <p class="hint">{say("alerts-offer")}</p>
                <button id="alerts" on:click=move |_| app.ask_for_alerts()>{say("alerts-allow")}</button>
            </div>
        }
        .into_any(),
        Alerts::Allowed => view! { <p class="hint alerts">{say("alerts-granted")}</p> }.into_any(),
        Alerts::Refused => view! { <p class="hint alerts">{say("alerts-denied")}</p> }.into_any(),
        Alerts::Unsupported => {
            view! { <p class="hint alerts">{say("alerts-unsupported")}</p> }.into_any()
        }
    }
    }
}

/// The tray.
#[component]
pub(super) fn WaitsScreen() -> impl IntoView {
    let running = running();
    let waits = under_way(running);
    let any = Memo::new(move |_| !waits.with(Vec::is_empty));
    view! {
        <h1>{move || say("waits-title")}</h1>
        {move || (!any.get()).then(|| view! { <p class="quiet">{say("waits-none")}</p> })}
        <ul class="cards">
            <For each=move || waits.get() key=|(id, ..)| id.clone() let:wait>
                {
                    let (id, point, title) = wait;
                    let ended = id.clone();
                    view! {
                        <li class="card">
                            <h2>{title}</h2>
                            <Ticking id running/>
                            <p class="actions">
                                <button on:click=move |_| go(Screen::Point(point.clone()))>{say("waits-go")}</button>
                                <button on:click=move |_| { app().act(Act::EndWait { wait: ended.clone() }); }>{say("waits-end")}</button>
                            </p>
                        </li>
                    }
                }
            </For>
        </ul>
        {move || any.get().then(|| view! { <AlertsOffer/> })}
    }
}
