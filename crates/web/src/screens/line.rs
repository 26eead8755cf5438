//! The line of stops around the unit, with what is done and left at each.

use field::view::StopRow;
use leptos::prelude::*;

use super::marks::{Icon, Shape};
use super::opening::hours;
use super::plan_view::PlanDrawing;
use super::states::StateBar;
use super::{Screen, go, seen, units};
use crate::app::{app, say, say_with};

/// The screen.
#[component]
pub(super) fn LineScreen() -> impl IntoView {
    let line = seen(|visit| Some(visit.line(units())));
    let next = Memo::new(move |_| {
        let point = line.get()?.next?;
        let title = app().visit(|visit| visit.point_row(&point))??.title;
        Some((point, title))
    });
    let stops = Memo::new(move |_| line.get().map(|line| line.stops).unwrap_or_default());
    view! {
        <h1>{move || say("line-title")}</h1>
        <StateBar/>
        <div class="line-grid">
            <div class="line-map">
                {move || line.get().map(|line| {
                    let counts = say_with("line-counts", &[
                        ("done", &line.done.to_string()),
                        ("left", &line.left.to_string()),
                        ("time", &hours(line.minutes_left)),
                    ]);
                    let here = next.get().and_then(|(point, _)| {
                        app().visit(|visit| visit.plan().point(point.as_str()).map(|point| point.stop.clone())).flatten()
                    });
                    view! { <PlanDrawing line here/><p class="figures">{counts}</p> }
                })}
            </div>
            <ol class="stops">
                <For each=move || stops.get() key=|stop| stop.id.clone() let:stop>
                    <Stop id=stop.id stops/>
                </For>
            </ol>
        </div>
        <div class="act-bar">
            <button on:click=move |_| go(Screen::Opening)>{move || say("line-job")}</button>
            <button on:click=move |_| go(Screen::Schedule)>{move || say("ahead-open")}</button>
            {move || match next.get() {
                Some((point, title)) => view! {
                    <button class="primary" on:click=move |_| go(Screen::Point(point.clone()))>
                        {say_with("line-next", &[("what", &title)])}
                    </button>
                }.into_any(),
                None => view! {
                    <button class="primary" on:click=move |_| go(Screen::Left)>{say("line-through")}</button>
                }.into_any(),
            }}
        </div>
    }
}

#[component]
fn Stop(id: String, stops: Memo<Vec<StopRow>>) -> impl IntoView {
    let one = id.clone();
    let row = Memo::new(move |_| {
        stops.with(|stops| {
            let at = stops.iter().position(|stop| stop.id == one)?;
            Some((at, stops[at].clone()))
        })
    });
    view! {
        <li>
            <button class="row stop" on:click=move |_| go(Screen::Stop(id.clone()))>
                {move || row.get().map(|(at, stop)| {
                    let total = stop.done + stop.left;
                    let said = say_with("line-stop", &[("done", &stop.done.to_string()), ("total", &total.to_string())]);
                    let findings = say_with("line-findings", &[("count", &stop.findings.to_string())]);
                    view! {
                        <span class="station-number" class:through=stop.left == 0 aria-hidden="true">{at + 1}</span>
                        <span class="row-words">
                            <span class="row-title">{stop.title}</span>
                            <Ticks done=stop.done total/>
                            <span class="row-facts">
                                <span>{said}</span>
                                {(stop.findings > 0).then(|| view! {
                                    <span class="fact"><Icon shape=if stop.holds { Shape::Bad } else { Shape::Finding }/>{findings}</span>
                                })}
                                {stop.waiting.then(|| view! {
                                    <span class="fact"><Icon shape=Shape::Clock/>{say("line-waiting")}</span>
                                })}
                            </span>
                        </span>
                    }
                })}
            </button>
        </li>
    }
}

/// A scale with a tick a point, those done filled: two paths, for a line of many points is scrolled by the thumb.
#[component]
fn Ticks(done: usize, total: usize) -> impl IntoView {
    let ticks = |which: std::ops::Range<usize>| {
        which.map(|at| format!("M{}.5 .5h3v12h-3z", at * 6)).collect::<String>()
    };
    let width = (total * 6).max(6);
    view! {
        <svg class="ticks" aria-hidden="true" focusable="false" width=width height="13" viewBox=format!("0 0 {width} 13")>
            <path class="full" d=ticks(0..done)></path>
            <path d=ticks(done..total)></path>
        </svg>
    }
}
