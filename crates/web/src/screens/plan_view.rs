//! The unit from above with its stations. The list below it says and does the same, so the drawing is silent.

use field::view::Line;
use leptos::prelude::*;

use super::{Screen, go};

/// Width of the unit in the drawing.
const WIDTH: f64 = 84.0;
/// Room around it.
const MARGIN: f64 = 46.0;

/// The drawing, the unit's front on the left.
#[component]
pub(super) fn PlanDrawing(line: Line, here: Option<String>) -> impl IntoView {
    let plan = line.plan_view;
    let length = WIDTH * plan.length_in_widths.clamp(2.2, 4.5);
    let (left, top) = (MARGIN + 14.0, MARGIN);
    let number = |value: f64| format!("{value:.1}");
    let view_box = format!("0 0 {:.0} {:.0}", length + 2.0 * MARGIN + 14.0, WIDTH + 2.0 * MARGIN);
    let axle = left + length * 0.6;
    let spacing = 26.0;
    let first = axle - spacing * (f64::from(plan.axles) - 1.0) / 2.0;
    let wheels = (0..plan.axles).flat_map(move |which| {
        let x = first + spacing * f64::from(which) - 10.0;
        [top - 5.0, top + WIDTH - 3.0].map(|y| (x, y))
    });
    // The way round the outside, in the direction of the clock: the front is on the left, so the right side is above.
    let door = if plan.door_left { top + WIDTH } else { top };
    let (door_from, door_to) = (left + length * 0.52, left + length * 0.62);
    let placed: Vec<_> = spread(line, left, top, length);
    let stations = placed.into_iter().enumerate().map(|(at, (stop, x, y))| {
        let mut class = String::from("station");
        if stop.left == 0 {
            class.push_str(" through");
        }
        if stop.holds {
            class.push_str(" holds");
        }
        if here.as_ref() == Some(&stop.id) {
            class.push_str(" here");
        }
        let id = stop.id;
        view! {
            <g class=class on:click=move |_| go(Screen::Stop(id.clone()))>
                <circle cx=number(x) cy=number(y) r="11"></circle>
                <text x=number(x) y=number(y + 4.2)>{at + 1}</text>
            </g>
        }
    });
    view! {
        <svg class="plan" viewBox=view_box aria-hidden="true" focusable="false">
            {plan.has_tongue.then(|| view! {
                <path class="tongue" d=format!("M{0} {1}L{2} {3}L{0} {4}", number(left), number(top + WIDTH * 0.2), number(left - 40.0), number(top + WIDTH / 2.0), number(top + WIDTH * 0.8))></path>
            })}
            {wheels.map(|(x, y)| view! {
                <rect class="wheel" x=number(x) y=number(y) width="20" height="8" rx="2"></rect>
            }).collect_view()}
            <rect class="body" x=number(left) y=number(top) width=number(length) height=number(WIDTH) rx="9"></rect>
            <line class="door" x1=number(door_from) x2=number(door_to) y1=number(door) y2=number(door)></line>
            {stations.collect_view()}
        </svg>
    }
}

/// The stops with their places in the drawing, moved apart where they would cover each other.
fn spread(line: Line, left: f64, top: f64, length: f64) -> Vec<(field::view::StopRow, f64, f64)> {
    const APART: f64 = 25.0;
    let mut placed: Vec<(f64, f64)> = line
        .stops
        .iter()
        .map(|stop| {
            let x = left + length * stop.along;
            // Right of the direction of travel is above.
            let y = top + WIDTH * (1.0 - stop.across);
            (x, y.clamp(top - 30.0, top + WIDTH + 30.0))
        })
        .collect();
    // A few rounds of pushing apart along the unit; enough for two dozen stations.
    for _ in 0..60 {
        for one in 0..placed.len() {
            for other in 0..one {
                let (dx, dy) = (placed[one].0 - placed[other].0, placed[one].1 - placed[other].1);
                let distance = (dx * dx + dy * dy).sqrt();
                if distance < APART {
                    let push = (APART - distance) / 2.0;
                    let along = if dx < 0.0 { -push } else { push };
                    placed[one].0 += along;
                    placed[other].0 -= along;
                }
            }
        }
        for place in &mut placed {
            place.0 = place.0.clamp(14.0, left + length + 32.0);
        }
    }
    line.stops.into_iter().zip(placed).map(|(stop, (x, y))| (stop, x, y)).collect()
}
