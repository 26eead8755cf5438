//! Shares with their intervals as a drawing: a dot and a bar a line on one axis, and of too few the words alone. The table below it
//! says the same to whoever does not see it.

use leptos::prelude::*;

use super::Desk;
use super::figures::{name, share};
use crate::app::{say, say_with};
use crate::browser::wide;
use crate::line::{Axis, FigureLine};

/// Height of a line, and of what stands above and below all of them.
const ROW: f64 = 44.0;
const ABOVE: f64 = 28.0;
const BELOW: f64 = 40.0;
/// From the edge to where the axis begins and ends.
const EDGE: f64 = 18.0;
/// Letters that fit into a line.
const LETTERS: usize = 78;
const LETTERS_OF_A_PHONE: usize = 44;

/// The drawing.
#[component]
pub(super) fn Plot(desk: Desk, heading: Memo<String>, of_one: Memo<bool>) -> impl IntoView {
    let (width, letters) = if wide() { (640.0, LETTERS) } else { (360.0, LETTERS_OF_A_PHONE) };
    let drawn = move || {
        let (lines, axis) = desk
            .figures
            .with(|it| it.as_ref().map(|it| (it.figures.clone(), it.axis)).unwrap_or_default());
        let count = u32::try_from(lines.len()).unwrap_or(0);
        let bottom = ABOVE + ROW * f64::from(count);
        let rows = (0_u32..).zip(lines).map(|(at, line)| {
            row(&line, of_one.get_untracked(), ABOVE + ROW * f64::from(at), width, axis, letters)
        });
        let rows = rows.collect_view();
        view! {
            <svg class="archive-plot" id="archive-plot" role="img" aria-labelledby="archive-plot-title archive-plot-what"
                viewBox=format!("0 0 {width} {}", bottom + BELOW)>
                <title id="archive-plot-title">{heading.get_untracked()}</title>
                <desc id="archive-plot-what">{say_with("archive-plot-what", &[("count", &count.to_string())])}</desc>
                {ticks(axis, width, bottom)}
                {rows}
                <text class="axis" x=width / 2.0 y=bottom + 34.0 text-anchor="middle">{say("archive-axis")}</text>
            </svg>
        }
    };
    view! { <div class="archive-drawing">{drawn}</div> }
}

/// Where a share lies.
fn across(share: f64, axis: Axis, width: f64) -> f64 {
    EDGE + (width - 2.0 * EDGE) * share / axis.end
}

/// The lines of the axis with what they stand for.
fn ticks(axis: Axis, width: f64, bottom: f64) -> impl IntoView {
    let steps = axis.steps.max(1);
    (0..=steps)
        .map(|step| {
            let share = axis.end * f64::from(step) / f64::from(steps);
            let x = across(share, axis, width);
            let percent = format!("{:.0} %", 100.0 * share);
            view! {
                <line class="tick" x1=x x2=x y1=ABOVE - 6.0 y2=bottom/>
                <text class="axis" x=x y=bottom + 16.0 text-anchor="middle">{percent.clone()}</text>
                <text class="axis" x=x y=ABOVE - 12.0 text-anchor="middle">{percent}</text>
            }
        })
        .collect_view()
}

/// One line: its name and counts, and below them the bar with its dot.
fn row(
    line: &FigureLine,
    of_one: bool,
    top: f64,
    width: f64,
    axis: Axis,
    letters: usize,
) -> impl IntoView + use<> {
    let y = top + 32.0;
    let words = shortened(&name(line, of_one), &share(line), letters);
    let bar = match (line.share, line.low, line.high) {
        (Some(share), Some(low), Some(high)) => Some((share, low, high)),
        _ => None,
    };
    view! {
        <text class="name" x=EDGE y=top + 18.0>{words}</text>
        {bar.map(|(share, low, high)| view! {
            <line class="interval" x1=across(low, axis, width) x2=across(high, axis, width) y1=y y2=y/>
            <circle class="share" cx=across(share, axis, width) cy=y r="5"/>
        })}
    }
}

/// Name and counts in a line; the counts stay whole.
fn shortened(name: &str, counts: &str, letters: usize) -> String {
    let room = letters.saturating_sub(counts.chars().count() + 2);
    let name = if name.chars().count() <= room {
        name.to_owned()
    } else {
        let mut short: String = name.chars().take(room.saturating_sub(1)).collect();
        short.push('…');
        short
    };
    format!("{name}: {counts}")
}
