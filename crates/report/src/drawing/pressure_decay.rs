//! The leak check of gas piping over time: what was read, and where the pressure may stand if nothing leaks.

use plan::{Phrases, PictureKind};
use quantity::{Kind, parse_value, units};

use crate::content::{Picture, Shown, Verdict};

use super::axis::Axis;
use super::lettering::width;
use super::words::{plain, signed, told};
use super::{Drawn, INK, SOFT, Svg, number};

const WIDTH: f64 = 500.0;
/// Left and right edge of the plot.
const ACROSS: (f64, f64) = (46.0, 322.0);
/// Lower and upper edge of the plot.
const UP: (f64, f64) = (196.0, 34.0);
/// The marks keep off the plot's sides, for their numbers.
const MARGIN: f64 = 16.0;
/// The words at the side.
const SIDE: (f64, f64) = (346.0, 148.0);
const BAND: &str = "#dbe3ec";
const GRID: &str = "#e7eaee";
const SIZE: f64 = 9.0;

/// One pair of readings, or what would be read without a leak.
struct Knot<'a> {
    time: f64,
    pressure: &'a Shown,
    level: f64,
    /// Expanded uncertainty.
    spread: f64,
    temperature: Option<&'a Shown>,
}

/// The readings over time, and what the pressure would do without a leak.
struct Course<'a> {
    read: Vec<Knot<'a>>,
    expected: Vec<Knot<'a>>,
    /// The unit of time.
    unit: &'a str,
    x: Axis,
    y: Axis,
}

impl<'a> Course<'a> {
    fn of(picture: &'a Picture) -> Option<Self> {
        let (start, end) = (picture.one("start")?, picture.one("end")?);
        let length = picture.one("time")?;
        let unit = length.unit.as_str();
        let last = length.number.filter(|time| time.is_finite() && *time > 0.0)?;
        let knot = |time: f64, pressure: &'a Shown, temperature: Option<&'a Shown>| {
            let level =
                pressure.number.filter(|it| it.is_finite() && pressure.unit == start.unit)?;
            let spread = pressure.uncertainty.filter(|it| it.is_finite()).map_or(0.0, |u| 2.0 * u);
            Some(Knot { time, pressure, level, spread, temperature })
        };
        let first = |temperature| knot(0.0, start, temperature);
        let between = |role: &str, temperatures: &str| {
            let knots = picture.role(role).iter().filter_map(|shown| {
                let time = after_start(&shown.position, unit)?;
                knot(time, shown, picture.at(temperatures, &shown.position))
            });
            knots.collect::<Vec<_>>()
        };
        let mut read = between("between", "between_temperature");
        read.push(first(picture.one("start_temperature"))?);
        read.push(knot(last, end, picture.one("end_temperature"))?);
        let mut expected = between("expected_between", "");
        expected.extend(picture.one("expected").and_then(|shown| knot(last, shown, None)));
        if !expected.is_empty() {
            expected.extend(first(None));
        }
        for knots in [&mut read, &mut expected] {
            knots.sort_by(|one, other| one.time.total_cmp(&other.time));
        }
        let x = Axis::covering(read.iter().map(|knot| knot.time), 5.0)?;
        let levels = read.iter().chain(&expected);
        let y = Axis::covering(
            levels.flat_map(|knot| [knot.level - knot.spread, knot.level + knot.spread]),
            5.0,
        )?;
        Some(Self { read, expected, unit, x, y })
    }

    fn place(&self, time: f64, level: f64) -> (f64, f64) {
        (self.across(time), self.y.place(level, UP))
    }

    fn across(&self, time: f64) -> f64 {
        self.x.place(time, (ACROSS.0 + MARGIN, ACROSS.1 - MARGIN))
    }
}

/// The time that a position such as `3 min` says, in this unit; none if it says none.
fn after_start(position: &str, unit: &str) -> Option<f64> {
    let unit = units::find_of(Kind::Time, unit)?;
    parse_value(position, Kind::Time).ok()?.to_unit(unit).filter(|time| *time > 0.0)
}

/// Draws the check; none without a pressure at the start and at the end and the time between.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let course = Course::of(picture)?;
    let mut plot = Svg::new(WIDTH, 0.0).in_words(say);
    axes(&mut plot, &course);
    expectation(&mut plot, &course);
    let ruled = picture.one("seen").filter(|seen| seen.verdict != Verdict::NoLimit);
    if ruled.is_some() {
        rule(&mut plot, &course);
    }
    marks(&mut plot, &course);
    let side = side(&mut plot, picture, &course, ruled.is_some());
    let svg = plot.finish_at(WIDTH, side.max(UP.0 + 46.0));
    Some(Drawn { svg, alt: words(picture, &course) })
}

fn axes(svg: &mut Svg, course: &Course<'_>) {
    let quiet = [("font-size", "8.5"), ("fill", SOFT)];
    let thin = [("stroke", GRID), ("stroke-width", "0.8")];
    for tick in course.y.ticks() {
        let y = course.y.place(tick, UP);
        svg.line((ACROSS.0, y), (ACROSS.1, y), &thin);
        let mut end = quiet.to_vec();
        end.push(("text-anchor", "end"));
        svg.words((ACROSS.0 - 5.0, y + 3.0), &course.y.label(tick), &end);
    }
    for tick in course.x.ticks() {
        let x = course.across(tick);
        svg.line((x, UP.0), (x, UP.0 + 3.0), &[("stroke", SOFT), ("stroke-width", "0.8")]);
        let mut middle = quiet.to_vec();
        middle.push(("text-anchor", "middle"));
        svg.words((x, UP.0 + 12.5), &course.x.label(tick), &middle);
    }
    let unit = course.read.first().map_or("", |knot| knot.pressure.unit.as_str());
    svg.words((8.0, UP.1 - 20.0), &format!("Pressure, {unit}"), &quiet);
    let mut end = quiet.to_vec();
    end.push(("text-anchor", "end"));
    svg.words((ACROSS.1, UP.0 + 24.0), &format!("{} after the start", course.unit), &end);
    svg.line((ACROSS.0, UP.0), (ACROSS.1, UP.0), &[("stroke", SOFT), ("stroke-width", "0.8")]);
}

/// The band where the pressure may stand if nothing leaks, and the line in its middle.
fn expectation(svg: &mut Svg, course: &Course<'_>) {
    let knots = &course.expected;
    if knots.len() < 2 {
        return;
    }
    let upper = knots.iter().map(|knot| course.place(knot.time, knot.level + knot.spread));
    let lower = knots.iter().rev().map(|knot| course.place(knot.time, knot.level - knot.spread));
    svg.path(&format!("{}Z", through(upper.chain(lower))), &[("fill", BAND)]);
    let middle = knots.iter().map(|knot| course.place(knot.time, knot.level));
    svg.path(
        &through(middle),
        &[("fill", "none"), ("stroke", SOFT), ("stroke-width", "1"), ("stroke-dasharray", "4 3")],
    );
}

/// The level from which nothing may be seen to fall.
fn rule(svg: &mut Svg, course: &Course<'_>) {
    if let Some(start) = course.read.first() {
        let y = course.y.place(start.level, UP);
        svg.line((ACROSS.0, y), (ACROSS.1, y), &[("stroke", INK), ("stroke-width", "0.9")]);
    }
}

fn through(places: impl Iterator<Item = (f64, f64)>) -> String {
    let mut path = String::new();
    for (x, y) in places {
        path.push(if path.is_empty() { 'M' } else { 'L' });
        path.push_str(&format!("{} {}", number(x), number(y)));
    }
    path
}

/// The readings with their uncertainty, their numbers where there is room, and the pipe's temperatures below.
fn marks(svg: &mut Svg, course: &Course<'_>) {
    let bar = [("stroke", INK), ("stroke-width", "1.1")];
    for knot in &course.read {
        let (x, y) = course.place(knot.time, knot.level);
        if knot.spread > 0.0 {
            let (_, top) = course.place(knot.time, knot.level + knot.spread);
            let (_, bottom) = course.place(knot.time, knot.level - knot.spread);
            svg.line((x, top), (x, bottom), &bar);
            for end in [top, bottom] {
                svg.line((x - 2.5, end), (x + 2.5, end), &bar);
            }
        }
        svg.circle(x, y, 3.2, &[("fill", INK), ("stroke", "#ffffff"), ("stroke-width", "0.8")]);
    }
    // The first and the last have their numbers in any case; those between where they do not touch others.
    let last = course.read.len().saturating_sub(1);
    let mut order: Vec<usize> = (0..course.read.len()).collect();
    order.sort_by_key(|at| *at != 0 && *at != last);
    let (mut above, mut below) = (Vec::new(), Vec::new());
    let mut degrees = "";
    for at in order {
        let knot = &course.read[at];
        let (x, y) = course.place(knot.time, knot.level + knot.spread);
        let text = bare(knot.pressure);
        if free(text, x, &mut above) {
            number_at(svg, (x, y - 5.0), text);
        }
        if let Some(temperature) = knot.temperature
            && free(bare(temperature), x, &mut below)
        {
            degrees = &temperature.unit;
            number_at(svg, (x, UP.0 + 38.0), bare(temperature));
        }
    }
    if !below.is_empty() {
        svg.words(
            (2.0, UP.0 + 38.0),
            &format!("Pipe, {degrees}"),
            &[("font-size", "8.5"), ("fill", SOFT)],
        );
    }
}

/// A value without its unit, which stands at the axis.
fn bare(shown: &Shown) -> &str {
    shown.text.strip_suffix(&shown.unit).unwrap_or(&shown.text).trim_end()
}

/// Whether a text centred here touches none of those before; then its room is taken.
fn free(text: &str, x: f64, taken: &mut Vec<(f64, f64)>) -> bool {
    let half = width(text, SIZE) / 2.0 + 3.0;
    let clear = taken.iter().all(|(from, to)| x + half <= *from || *to <= x - half);
    if clear {
        taken.push((x - half, x + half));
    }
    clear
}

/// A number centred at a place, on white, so that no line runs through it.
fn number_at(svg: &mut Svg, (x, y): (f64, f64), text: &str) {
    let wide = width(text, SIZE) + 3.0;
    svg.element(
        "rect",
        &[
            ("x", &number(x - wide / 2.0)),
            ("y", &number(y - SIZE + 0.8)),
            ("width", &number(wide)),
            ("height", &number(SIZE + 1.4)),
            ("fill", "#ffffff"),
        ],
    );
    svg.words((x, y), text, &[("font-size", "9"), ("fill", INK), ("text-anchor", "middle")]);
}

/// What is said beside the plot; gives the room it takes from the top.
fn side(svg: &mut Svg, picture: &Picture, course: &Course<'_>, ruled: bool) -> f64 {
    let (x, most) = SIDE;
    let mut y = 17.0;
    let sample = x + 9.0;
    svg.line((sample, y - 9.0), (sample, y + 3.0), &[("stroke", INK), ("stroke-width", "1.1")]);
    svg.circle(sample, y - 3.0, 3.2, &[("fill", INK)]);
    let after = (x + 24.0, most - 24.0);
    y = plain(svg, (after.0, y), "read, with its uncertainty (k = 2)", (8.5, after.1), SOFT) + 4.0;
    if course.expected.len() > 1 {
        svg.element(
            "rect",
            &[
                ("x", &number(x)),
                ("y", &number(y - 9.0)),
                ("width", "18"),
                ("height", "12"),
                ("fill", BAND),
            ],
        );
        svg.line(
            (x, y - 3.0),
            (x + 18.0, y - 3.0),
            &[("stroke", SOFT), ("stroke-width", "1"), ("stroke-dasharray", "4 3")],
        );
        let text = "by the pipe's temperature, if nothing leaks (k = 2)";
        y = plain(svg, (after.0, y), text, (8.5, after.1), SOFT) + 4.0;
    }
    if ruled {
        svg.line((x, y - 3.0), (x + 18.0, y - 3.0), &[("stroke", INK), ("stroke-width", "0.9")]);
        let text = "the codes' rule: no fall to be seen from here";
        y = plain(svg, (after.0, y), text, (8.5, after.1), SOFT) + 4.0;
    }
    y += 6.0;
    for (role, head) in [
        ("seen", "The gauge showed"),
        ("leak", "Gas lost, temperature taken out; it informs only"),
        ("least", "Smallest leak that this test could have seen"),
    ] {
        if let Some(shown) = picture.one(role) {
            y = plain(svg, (x, y), head, (8.5, most), SOFT);
            // The least is a property of the test; only what was lost has a spread that matters.
            let spread = if role == "leak" { shown.spread.as_str() } else { "" };
            let text = [shown.text.as_str(), spread].join(" ");
            y = signed(svg, (x, y), shown.verdict, text.trim(), (SIZE, most)) + 5.0;
        }
    }
    if let Some(sentence) = silent(picture) {
        y = plain(svg, (x, y), sentence, (8.5, most), INK);
    }
    y
}

/// Why no rate is claimed.
fn silent(picture: &Picture) -> Option<&'static str> {
    let known = |role| picture.one(role).is_some();
    if !known("start_temperature") || !known("end_temperature") {
        Some("Without both temperatures of the pipe nothing can be said of a rate.")
    } else if !known("leak") {
        Some("Without the inside volume of the piping no rate follows.")
    } else {
        None
    }
}

fn words(picture: &Picture, course: &Course<'_>) -> String {
    let mut sentences: Vec<String> = course
        .read
        .iter()
        .map(|knot| {
            let pipe =
                knot.temperature.map_or_else(String::new, |it| format!(", pipe {}", told(it)));
            let when = quantity::write_number(knot.time);
            format!("after {when} {}: {}{pipe}", course.unit, told(knot.pressure))
        })
        .collect();
    for (role, head) in [
        ("expected", "at the end, had nothing leaked"),
        ("seen", "the gauge showed"),
        ("leak", "gas lost, temperature taken out"),
        ("least", "smallest leak that this test could have seen"),
    ] {
        if let Some(shown) = picture.one(role) {
            sentences.push(format!("{head}: {}", told(shown)));
        }
    }
    // Whatever names no time is still said.
    for shown in picture.role("between") {
        if after_start(&shown.position, course.unit).is_none() {
            sentences.push(format!("{}: {}", shown.position, told(shown)));
        }
    }
    sentences.extend(silent(picture).map(|it| it.trim_end_matches('.').to_owned()));
    format!("{}: {}.", head_of(picture), sentences.join("; "))
}

fn head_of(picture: &Picture) -> &str {
    if picture.title.is_empty() { PictureKind::PressureDecay.word() } else { &picture.title }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::checks::{assert_tidy, said, value, within};
    use super::*;

    fn picture(roles: &[(&str, Vec<Shown>)]) -> Picture {
        let shown = roles.iter().map(|(role, shown)| ((*role).to_owned(), shown.clone()));
        Picture {
            kind: "pressure_decay".to_owned(),
            shown: BTreeMap::from_iter(shown),
            ..Picture::default()
        }
    }

    fn inches(position: &str, number: f64) -> Shown {
        within(value(position, number, "inH2O", Verdict::NoLimit), 0.05)
    }

    fn degrees(position: &str, number: f64) -> Shown {
        value(position, number, "°F", Verdict::NoLimit)
    }

    /// From 9 inH₂O at 70 °F to 8.4 at 69 °F in 10 min, read once in between.
    fn check() -> Vec<(&'static str, Vec<Shown>)> {
        vec![
            ("start", vec![inches("", 9.0)]),
            ("end", vec![inches("", 8.4)]),
            ("time", vec![value("", 10.0, "min", Verdict::NoLimit)]),
            ("start_temperature", vec![degrees("", 70.0)]),
            ("end_temperature", vec![degrees("", 69.0)]),
            ("between", vec![inches("4 min", 8.8), inches("half way", 8.7)]),
            ("expected", vec![within(value("", 8.2, "inH2O", Verdict::NoLimit), 0.1)]),
            ("seen", vec![said("", "drop", Verdict::DoesNotConform)]),
        ]
    }

    #[test]
    fn each_reading_stands_at_its_time_and_pressure() {
        let drawn = draw(&picture(&check()), &Phrases::default()).unwrap();
        // The axes run from 0 to 10 min between 62 and 306 across, and from 8 to 9.5 inH₂O between 196 and 34 up.
        for (time, pressure) in [(0.0, 9.0), (4.0, 8.8), (10.0, 8.4)] {
            let x = 62.0 + (306.0 - 62.0) * time / 10.0;
            let y = 196.0 + (34.0 - 196.0) * (pressure - 8.0) / 1.5;
            let mark = format!("<circle cx=\"{}\" cy=\"{}\" r=\"3.2\"", number(x), number(y));
            assert!(drawn.svg.contains(&mark), "{mark} in {}", drawn.svg);
        }
        assert_eq!(
            drawn.svg.matches("r=\"3.2\"").count(),
            4,
            "three readings and the sample beside"
        );
        assert!(drawn.alt.contains("half way: 8.7 inH2O"), "{}", drawn.alt);
        assert_tidy(&drawn.svg);
    }

    #[test]
    fn the_band_runs_from_the_start_to_what_the_temperature_explains() {
        let drawn = draw(&picture(&check()), &Phrases::default()).unwrap();
        let up = |level: f64| number(196.0 + (34.0 - 196.0) * (level - 8.0) / 1.5);
        let band = format!("M62 {}L306 {}L306 {}L62 {}Z", up(9.1), up(8.4), up(8.0), up(8.9));
        assert!(drawn.svg.contains(&band), "{band} in {}", drawn.svg);
    }

    #[test]
    fn without_the_pipes_temperatures_no_band_and_no_rate_are_claimed() {
        let mut bare = check();
        bare.retain(|(role, _)| !role.contains("temperature") && *role != "expected");
        let drawn = draw(&picture(&bare), &Phrases::default()).unwrap();
        assert!(!drawn.svg.contains(BAND), "{}", drawn.svg);
        assert!(drawn.svg.contains("Without both temperatures"), "{}", drawn.svg);
        assert!(drawn.alt.contains("nothing can be said of a rate"), "{}", drawn.alt);
        assert_tidy(&drawn.svg);
    }

    #[test]
    fn the_codes_rule_is_drawn_where_a_limit_rests_on_it() {
        let sentence = "the codes&apos; rule";
        assert!(draw(&picture(&check()), &Phrases::default()).unwrap().svg.contains(sentence));
        let mut unruled = check();
        unruled.retain(|(role, _)| *role != "seen");
        assert!(!draw(&picture(&unruled), &Phrases::default()).unwrap().svg.contains(sentence));
    }

    #[test]
    fn many_equal_and_extreme_readings_stay_tidy() {
        let mut many = check();
        let times = (1..=40).map(|minute| inches(&format!("{} s", minute * 14), 9.0)).collect();
        many.retain(|(role, _)| *role != "between");
        many.push(("between", times));
        assert_tidy(&draw(&picture(&many), &Phrases::default()).unwrap().svg);
        for level in [0.0, -3.5, 123_456.0] {
            let mut other = check();
            for (role, shown) in &mut other {
                if matches!(*role, "start" | "end" | "between" | "expected") {
                    *shown = vec![inches("", level)];
                }
            }
            assert_tidy(&draw(&picture(&other), &Phrases::default()).unwrap().svg);
        }
    }

    #[test]
    fn without_a_time_there_is_no_plot() {
        for time in [0.0, -1.0, f64::NAN] {
            let mut wrong = check();
            wrong.push(("time", vec![value("", time, "min", Verdict::NoLimit)]));
            assert_eq!(draw(&picture(&wrong), &Phrases::default()), None);
        }
        assert_eq!(draw(&Picture::default(), &Phrases::default()), None);
    }
}
