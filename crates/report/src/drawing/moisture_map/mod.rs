//! The moisture map: readings at their places on a wall, floor or roof, and what may be drawn between them.

mod field;
mod labels;
mod panel;
mod scale;

use plan::Phrases;

use crate::content::{Picture, Shown};

use super::lettering::wrapped;
use super::words::{gravity, told};
use super::{Drawn, INK, SOFT, Svg, number};

use panel::Panel;
use scale::Scale;

const WIDTH: f64 = 500.0;
/// More panels than these would not fit on a page.
const MOST: usize = 8;
/// Behind what was not read.
const UNREAD: &str = "#eef0f2";

/// Draws the map; none where no reading says its place on a panel.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let readings = picture.role("reading");
    let panels = Panel::all(readings);
    let numbers = panels.iter().flat_map(|panel| &panel.dots).map(|dot| dot.value);
    let unit = panels.first().and_then(|panel| panel.dots.first())?.shown.unit.as_str();
    let scale = Scale::covering(numbers, unit)?;

    let mut svg = Svg::new(WIDTH, 0.0).in_words(say);
    let columns = if panels.len() > 2 { 2 } else { 1 };
    let (width, height) = if columns == 1 { (WIDTH, 190.0) } else { (WIDTH / 2.0 - 6.0, 132.0) };
    let mut y = 0.0;
    let mut unlettered = 0;
    for row in panels.get(..panels.len().min(MOST))?.chunks(columns) {
        let mut lowest = y;
        let mut x = 0.0;
        for panel in row {
            let (bottom, without) = panel.draw(&mut svg, (x, y), (width, height), &scale)?;
            lowest = bottom.max(lowest);
            unlettered += without;
            x += width + 12.0;
        }
        y = lowest + 8.0;
    }
    y = scale.legend(&mut svg, y + 2.0);
    for (text, ink) in notes(picture, &panels, unlettered) {
        for line in wrapped(&svg.say(&text), 9.0, WIDTH - 4.0) {
            svg.words((2.0, y), &line, &[("font-size", "9"), ("fill", ink)]);
            y += 11.5;
        }
        y += 2.5;
    }
    Some(Drawn { svg: svg.finish_at(WIDTH, y - 6.0), alt: alt(picture, &panels) })
}

/// Questions about where the moisture comes from, and what the map cannot say.
fn notes(
    picture: &Picture,
    panels: &[Panel<'_>],
    unlettered: usize,
) -> Vec<(String, &'static str)> {
    let mut notes: Vec<(String, &'static str)> =
        questions(picture, panels).into_iter().map(|question| (question, INK)).collect();
    let mut soft = |text: String| notes.push((text, SOFT));
    if let Some(rest) = picture.one("at_rest") {
        soft(format!(
            "In the air of the room at the time, wood comes to about {} in the long run.",
            rest.text
        ));
    }
    for panel in panels {
        if let Some(remark) = panel.remark() {
            soft(format!("{}: {remark}.", capital(&panel.name)));
        }
    }
    let dots = || panels.iter().flat_map(|panel| &panel.dots);
    if dots().any(|dot| dot.shown.unit == "%" && dot.value > scale::SATURATED) {
        soft("Above 30 % a pin meter says no more than that the wood is saturated.".to_owned());
    }
    if dots().any(|dot| dot.shown.unit != "%") {
        soft("A meter's own scale is no percent; it shows where this meter reads more, on this material.".to_owned());
    }
    if unlettered > 0 {
        soft(format!("Dots without a number ({unlettered}): the number stands in the table."));
    }
    let unplaced = unplaced(picture.role("reading")).count();
    if unplaced > 0 {
        soft(format!("Without a place on a panel, in the table only: {unplaced}."));
    }
    if panels.len() > MOST {
        let names: Vec<&str> = panels.iter().skip(MOST).map(|panel| panel.name.as_str()).collect();
        soft(format!("Not drawn, in the table only: {}.", names.join(", ")));
    }
    soft(
        "An illustration between the readings, no evidence of what lies there; grey was not read."
            .to_owned(),
    );
    notes
}

/// What to ask about the places that a limit speaks of. A question, never a conclusion.
fn questions(picture: &Picture, panels: &[Panel<'_>]) -> Vec<String> {
    let mut asked = Vec::new();
    let mut open: Vec<&str> = Vec::new();
    for dot in
        panels.iter().flat_map(|panel| &panel.dots).filter(|dot| gravity(dot.shown.verdict) > 2)
    {
        let position = dot.shown.position.as_str();
        match picture.at("near", position) {
            Some(near) => asked.push(format!(
                "{}, {}; near it: {}. Is that the source?",
                capital(position),
                dot.shown.text,
                near.text
            )),
            None => open.push(position),
        }
    }
    if !open.is_empty() {
        asked.push(format!(
            "{}: is there a seam, a window or a pipe near?",
            capital(&open.join("; "))
        ));
    }
    asked
}

fn unplaced(readings: &[Shown]) -> impl Iterator<Item = &Shown> {
    readings.iter().filter(|shown| formulas::moisture::OnPanel::read(&shown.position).is_err())
}

fn alt(picture: &Picture, panels: &[Panel<'_>]) -> String {
    let placed = panels.iter().flat_map(|panel| &panel.dots).map(|dot| dot.shown);
    let readings: Vec<String> = placed
        .chain(unplaced(picture.role("reading")))
        .map(|shown| format!("{}: {}", shown.position, told(shown)))
        .collect();
    let questions = questions(picture, panels).join(" ");
    format!("Moisture by place: {}. {questions}", readings.join("; ")).trim_end().to_owned()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A rectangle without a line around it.
fn block(svg: &mut Svg, (x, y): (f64, f64), (width, height): (f64, f64), fill: &str) {
    svg.element(
        "rect",
        &[
            ("x", &number(x)),
            ("y", &number(y)),
            ("width", &number(width)),
            ("height", &number(height)),
            ("fill", fill),
        ],
    );
}

#[cfg(test)]
mod tests;
