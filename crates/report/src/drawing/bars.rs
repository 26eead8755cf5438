//! Values as bars on one scale, a row each, with what limits them and words beside.

use crate::content::{Bounds, Shown, Verdict};

use super::axis::Axis;
use super::lettering::{width, wrapped};
use super::words::{SIGN_ROOM, plain, signed};
use super::{CLEAR, HELD, INK, SOFT, Svg, number};

const SIZE: f64 = 9.0;
const LINE: f64 = 11.5;
/// Where names begin, where bars begin and end, where words begin.
const NAME: f64 = 8.0;
const BARS: (f64, f64) = (116.0, 280.0);
const WORDS: f64 = 296.0;
const END: f64 = 497.0;
const BAR: f64 = 7.0;
const TRACK: &str = "#e7eaee";

/// A row of the chart.
pub(super) struct Row<'a> {
    /// What it is.
    pub(super) name: String,
    /// Its length; none where there is no number, or nothing to set it against.
    pub(super) bar: Option<f64>,
    /// A mark on the scale, such as the value that was aimed for.
    pub(super) mark: Option<f64>,
    /// What limits it.
    pub(super) bounds: &'a [Bounds],
    /// The words beside it; the sign of their verdict stands before them.
    pub(super) words: String,
    /// That verdict.
    pub(super) verdict: Verdict,
    /// Quiet words below.
    pub(super) below: String,
}

impl<'a> Row<'a> {
    /// A value with its own limits, which are said below it.
    pub(super) fn of(name: &str, shown: &'a Shown) -> Self {
        let limits: Vec<&str> = shown.bounds.iter().map(|bounds| bounds.text.as_str()).collect();
        Self {
            name: name.to_owned(),
            bar: shown.number,
            mark: None,
            bounds: &shown.bounds,
            words: shown.text.clone(),
            verdict: shown.verdict,
            below: each_once(&limits).join("; "),
        }
    }

    fn numbers(&self) -> impl Iterator<Item = f64> {
        let bounds = self.bounds.iter().flat_map(|bounds| [bounds.from, bounds.to]).flatten();
        bounds.chain(self.bar).chain(self.mark)
    }
}

fn each_once<'t>(texts: &[&'t str]) -> Vec<&'t str> {
    let mut once: Vec<&str> = Vec::new();
    for text in texts {
        if !once.contains(text) {
            once.push(text);
        }
    }
    once
}

/// Draws rows below a heading from this place down, on a scale that begins at nought; gives where they end. None where
/// no row has a number that can be drawn.
pub(super) fn rows(
    svg: &mut Svg,
    top: f64,
    heading: &str,
    rows: &[Row<'_>],
    more: &[f64],
) -> Option<f64> {
    let mut numbers: Vec<f64> =
        rows.iter().flat_map(Row::numbers).chain(more.iter().copied()).chain([0.0]).collect();
    if rows.is_empty() {
        return None;
    }
    if numbers.iter().all(|number| number.abs() < 1e-12) {
        // Nothing but noughts: any scale does, as long as it begins there.
        numbers.push(1.0);
    }
    let scale = Axis::covering(numbers, 5.0)?;
    svg.words(
        (NAME, top + 10.0),
        heading,
        &[("font-size", "9"), ("fill", SOFT), ("font-weight", "600")],
    );
    let from = top + 17.0;
    let mut places = Vec::new();
    let mut y = from;
    for row in rows {
        places.push(y);
        y += height(svg, row);
    }
    for tick in scale.ticks() {
        let x = scale.place(tick, BARS);
        svg.line((x, from), (x, y), &[("stroke", TRACK), ("stroke-width", "0.8")]);
    }
    for (row, place) in rows.iter().zip(places) {
        draw(svg, row, &scale, place);
    }
    svg.line((BARS.0, y), (BARS.1, y), &[("stroke", SOFT), ("stroke-width", "0.8")]);
    ticks(svg, &scale, y);
    Some(y + 16.0)
}

/// The labels of the scale, as many as have room.
fn ticks(svg: &mut Svg, scale: &Axis, y: f64) {
    let mut free = f64::NEG_INFINITY;
    for tick in scale.ticks() {
        let x = scale.place(tick, BARS);
        svg.line((x, y), (x, y + 3.0), &[("stroke", SOFT), ("stroke-width", "0.8")]);
        let label = scale.label(tick);
        let half = width(&label, 8.0) / 2.0;
        if x - half > free {
            let quiet = [("font-size", "8"), ("fill", SOFT), ("text-anchor", "middle")];
            svg.words((x, y + 11.5), &label, &quiet);
            free = x + half + 4.0;
        }
    }
}

fn room(verdict: Verdict) -> f64 {
    if verdict == Verdict::NoLimit { 0.0 } else { SIGN_ROOM }
}

fn height(svg: &Svg, row: &Row<'_>) -> f64 {
    let names = wrapped(&svg.say(&row.name), SIZE, BARS.0 - 8.0 - NAME).len();
    let words = wrapped(&svg.say(&row.words), SIZE, END - WORDS - room(row.verdict)).len()
        + wrapped(&svg.say(&row.below), 8.0, END - WORDS).len();
    let lines = names.max(words).max(1);
    f64::from(u16::try_from(lines).unwrap_or(u16::MAX)) * LINE + 5.0
}

fn draw(svg: &mut Svg, row: &Row<'_>, scale: &Axis, y: f64) {
    let baseline = y + 9.5;
    let (top, middle) = (y + 2.5, y + 2.5 + BAR / 2.0);
    plain(svg, (NAME, baseline), &row.name, (SIZE, BARS.0 - 8.0 - NAME), INK);
    let below = signed(svg, (WORDS, baseline), row.verdict, &row.words, (SIZE, END - WORDS));
    plain(svg, (WORDS, below), &row.below, (8.0, END - WORDS), SOFT);
    for bounds in row.bounds {
        if let (Some(from), Some(to)) = (bounds.from, bounds.to) {
            let (x, end) = (scale.place(from, BARS), scale.place(to, BARS));
            rect(svg, [x, top - 2.0, end - x, BAR + 4.0], &[("fill", "#dfeee6")]);
        }
    }
    if let Some(value) = row.bar {
        let (zero, end) = (scale.place(0.0, BARS), scale.place(value, BARS));
        let bad = row.verdict == Verdict::DoesNotConform;
        let fill = if bad { HELD } else { SOFT };
        rect(svg, [zero.min(end), top, (end - zero).abs(), BAR], &[("fill", fill)]);
    }
    for bounds in row.bounds {
        // A limit is a stroke with a foot towards the side that it allows.
        for (value, foot) in [(bounds.from, 4.0), (bounds.to, -4.0)] {
            let Some(value) = value else { continue };
            let x = scale.place(value, BARS);
            let path = format!(
                "M{x} {}V{}H{}",
                number(top - 3.0),
                number(top + BAR + 3.0),
                number(x + foot),
                x = number(x)
            );
            svg.path(&path, &[("fill", "none"), ("stroke", CLEAR), ("stroke-width", "1.4")]);
        }
    }
    if let Some(mark) = row.mark {
        let x = scale.place(mark, BARS);
        let path = format!(
            "M{} {}L{} {}L{} {}L{} {}Z",
            number(x),
            number(middle - 4.5),
            number(x + 4.0),
            number(middle),
            number(x),
            number(middle + 4.5),
            number(x - 4.0),
            number(middle)
        );
        svg.path(&path, &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.2")]);
    }
}

/// A rectangle: left, top, width, height.
pub(super) fn rect(svg: &mut Svg, [x, y, wide, high]: [f64; 4], attributes: &[(&str, &str)]) {
    let (x, y, wide, high) = (number(x), number(y), number(wide), number(high));
    let mut all = vec![
        ("x", x.as_str()),
        ("y", y.as_str()),
        ("width", wide.as_str()),
        ("height", high.as_str()),
    ];
    all.extend_from_slice(attributes);
    svg.element("rect", &all);
}

#[cfg(test)]
mod tests {
    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn drawn(list: &[Shown]) -> Option<String> {
        let mut svg = Svg::new(500.0, 0.0);
        let all: Vec<Row<'_>> = list.iter().map(|shown| Row::of(&shown.position, shown)).collect();
        let end = rows(&mut svg, 0.0, "Pressure, psi", &all, &[])?;
        Some(svg.finish_at(500.0, end))
    }

    #[test]
    fn a_bar_ends_where_its_value_stands_on_the_scale() {
        let svg = drawn(&[
            value("tap", 50.0, "psi", Verdict::NoLimit),
            value("a", 100.0, "psi", Verdict::NoLimit),
        ]);
        let svg = svg.unwrap();
        // The scale runs from 0 to 100 over 164.
        assert!(svg.contains("x=\"116\" y=\"19.5\" width=\"82\" height=\"7\""), "{svg}");
        assert!(svg.contains("width=\"164\" height=\"7\""), "{svg}");
        assert_tidy(&svg);
    }

    #[test]
    fn limits_stand_on_the_scale_with_their_words_once() {
        let bounds = |from, to, text: &str| Bounds { from, to, text: text.to_owned() };
        let mut shown = value("tap", 50.0, "psi", Verdict::WithinGuidance);
        shown.bounds = vec![
            bounds(None, Some(80.0), "at most 80 psi"),
            bounds(None, Some(80.0), "at most 80 psi"),
            bounds(Some(40.0), Some(60.0), "40 psi to 60 psi"),
        ];
        let svg = drawn(&[shown]).unwrap();
        // 0 to 80 over 164: a limit of 80 at the end, the band from the middle to three quarters.
        assert!(svg.contains("M280 16.5V29.5H276"), "{svg}");
        assert!(svg.contains("x=\"198\" y=\"17.5\" width=\"41\""), "{svg}");
        assert!(svg.contains(">at most 80 psi; 40 psi to 60 psi<"), "{svg}");
        assert_tidy(&svg);
    }

    #[test]
    fn negative_huge_equal_and_many_values_stay_tidy() {
        let long = "kitchen tap under the window at the left front corner of the unit";
        let mut many = Vec::new();
        for (at, number) in [-12.0, 0.0, 1.0e9, 1.0e9, 3.0].into_iter().cycle().take(40).enumerate()
        {
            let name = if at % 2 == 0 { long } else { "tap" };
            many.push(value(name, number, "psi", Verdict::DoesNotConform));
        }
        assert_tidy(&drawn(&many).unwrap());
        let nought = drawn(&[value("", 0.0, "", Verdict::Undecided)]).unwrap();
        assert_tidy(&nought);
        assert!(nought.contains(">0.2<"), "{nought}");
    }

    #[test]
    fn what_is_no_number_is_not_drawn() {
        assert_eq!(drawn(&[value("tap", f64::NAN, "psi", Verdict::NoLimit)]), None);
    }
}
