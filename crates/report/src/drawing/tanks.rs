//! Tanks with their true level, and beside it what the unit's gauge shows.

use plan::Phrases;

use crate::content::{Picture, Shown, Verdict};

use super::axis::Axis;
use super::bars::rect;
use super::lettering::{shortened, width, wrapped};
use super::words::{plain, signed, told};
use super::{Drawn, HELD, INK, SOFT, Svg, number};

const CELL: f64 = 160.0;
const COLUMNS: usize = 3;
const FIRST: f64 = 10.0;
/// A tank: width and height on the page.
const TANK: (f64, f64) = (62.0, 78.0);
/// Left edge of a tank in its cell, and room for the labels of its scale.
const SCALE: f64 = 24.0;
/// Room below a tank for its words.
const WORDS: f64 = CELL - 12.0;
const WATER: &str = "#b9cbdc";

struct Tank<'a> {
    position: &'a str,
    truth: &'a Shown,
    gauge: &'a Shown,
    contents: Option<&'a Shown>,
    capacity: Option<&'a Shown>,
    error: Option<&'a Shown>,
    verdict: Verdict,
}

impl<'a> Tank<'a> {
    fn at(picture: &'a Picture, position: &'a str) -> Option<Self> {
        let at = |role: &str| picture.at(role, position);
        let (truth, gauge) = (at("true")?, at("shown")?);
        if truth.unit != gauge.unit || truth.number.is_none() || gauge.number.is_none() {
            return None;
        }
        let error = at("error");
        let judged = [at("size"), error, Some(gauge)];
        let verdict = judged
            .into_iter()
            .flatten()
            .map(|shown| shown.verdict)
            .find(|verdict| *verdict != Verdict::NoLimit)
            .unwrap_or(Verdict::NoLimit);
        Some(Self {
            position,
            truth,
            gauge,
            contents: at("contents"),
            capacity: at("capacity"),
            error,
            verdict,
        })
    }

    fn name(&self) -> &str {
        if self.position.is_empty() { "tank" } else { self.position }
    }

    /// What is in it, of how much.
    fn holds(&self) -> String {
        match (self.contents, self.capacity) {
            (Some(contents), Some(capacity)) => format!("{} of {}", contents.text, capacity.text),
            (Some(contents), None) => contents.text.clone(),
            (None, Some(capacity)) => format!("of {}", capacity.text),
            (None, None) => String::new(),
        }
    }

    fn shows(&self) -> String {
        let error = self.error.map_or_else(String::new, |error| format!(", {} off", error.text));
        format!("gauge shows {}{error}", self.gauge.text)
    }

    fn told(&self) -> String {
        let holds = match self.holds() {
            empty if empty.is_empty() => empty,
            holds => format!(", {holds}"),
        };
        // The verdict belongs to the error, wherever it was given.
        let error = self.error.map_or_else(String::new, |error| {
            let judged = Shown { verdict: self.verdict, ..error.clone() };
            format!(", {} off", told(&judged))
        });
        format!(
            "{}: truly {}{holds}, gauge shows {}{error}",
            self.name(),
            self.truth.text,
            self.gauge.text
        )
    }

    fn lines(&self, svg: &Svg) -> f64 {
        let lines = wrapped(&svg.say(&self.holds()), 9.0, WORDS).len()
            + wrapped(&svg.say(&self.shows()), 9.0, WORDS - 12.0).len();
        11.5 * f64::from(u8::try_from(lines).unwrap_or(u8::MAX))
    }

    fn draw(&self, svg: &mut Svg, (left, top): (f64, f64), scale: &Axis) {
        let (Some(truth), Some(gauge)) = (self.truth.number, self.gauge.number) else { return };
        let heading = [("font-size", "9"), ("fill", INK), ("font-weight", "600")];
        svg.words((left, top + 9.0), &shortened(&svg.say(self.name()), 8.6, WORDS), &heading);
        let (x, upper) = (left + SCALE, top + 22.0);
        let places = (upper + TANK.1, upper);
        let at = |level: f64| scale.place(level, places);
        let (empty, full) = (at(0.0), at(100.0));
        let level = at(truth);
        rect(svg, [x, level.min(empty), TANK.0, (empty - level).abs()], &[("fill", WATER)]);
        svg.line((x, level), (x + TANK.0, level), &[("stroke", INK), ("stroke-width", "1.4")]);
        let outline = [("fill", "none"), ("stroke", INK), ("stroke-width", "1.4")];
        rect(svg, [x, full, TANK.0, empty - full], &outline);
        for tick in scale.ticks() {
            let y = at(tick);
            svg.line((x - 3.0, y), (x, y), &[("stroke", SOFT), ("stroke-width", "0.8")]);
            let quiet = [("font-size", "8"), ("fill", SOFT), ("text-anchor", "end")];
            svg.words((x - 4.5, y + 2.8), &scale.label(tick), &quiet);
        }
        // What the gauge shows is a pointer from the right, dashed through the tank.
        let shows = at(gauge);
        let pointer = x + TANK.0;
        svg.line(
            (x, shows),
            (pointer, shows),
            &[("stroke", HELD), ("stroke-width", "1.1"), ("stroke-dasharray", "4 3")],
        );
        let path = format!("M{} {}l8 -4v8Z", number(pointer), number(shows));
        svg.path(&path, &[("fill", HELD)]);
        // The two labels stand apart even where the levels are the same.
        let (mut low, mut high) = (level.max(shows), level.min(shows));
        if low - high < 11.0 {
            let middle = f64::midpoint(low, high);
            (low, high) = (middle + 5.5, middle - 5.5);
        }
        let (truth_y, gauge_y) = if level <= shows { (high, low) } else { (low, high) };
        let room = CELL - SCALE - TANK.0 - 14.0;
        for (text, y, ink) in [
            (format!("true {}", self.truth.text), truth_y, INK),
            (format!("gauge {}", self.gauge.text), gauge_y, HELD),
        ] {
            let text = shortened(&svg.say(&text), 9.0, room);
            debug_assert!(width(&text, 9.0) <= room + 0.1, "{text}");
            svg.words((pointer + 11.0, y + 3.0), &text, &[("font-size", "9"), ("fill", ink)]);
        }
        let mut baseline = upper + TANK.1 + 17.0;
        baseline = plain(svg, (left, baseline), &self.holds(), (9.0, WORDS), INK);
        signed(svg, (left, baseline), self.verdict, &self.shows(), (9.0, WORDS));
    }
}

/// Draws the tanks; none where of no tank both levels are known.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let tanks: Vec<Tank<'_>> = picture
        .positions(&["true"])
        .into_iter()
        .filter_map(|position| Tank::at(picture, position))
        .collect();
    if tanks.is_empty() {
        return None;
    }
    let unit = picture.one("true").map_or("", |shown| shown.unit.as_str());
    // Levels are shares of the tank in per cent: a container drawn full is a hundred of them.
    if unit != "%" {
        return None;
    }
    let levels = tanks.iter().flat_map(|tank| [tank.truth.number, tank.gauge.number]).flatten();
    let scale = Axis::covering(levels.chain([0.0, 100.0]), 4.0)?;
    let mut svg = Svg::new(500.0, 0.0).in_words(say);
    let mut y = 0.0;
    for row in tanks.chunks(COLUMNS) {
        let mut x = FIRST;
        for tank in row {
            tank.draw(&mut svg, (x, y), &scale);
            x += CELL;
        }
        let words = row.iter().map(|tank| tank.lines(&svg)).fold(0.0, f64::max);
        y += 22.0 + TANK.1 + 14.0 + words + 8.0;
    }
    let legend = "Scale in per cent of the tank. Full line: true level. Dashed, with the pointer: what the gauge shows.";
    svg.words((FIRST, y + 6.0), legend, &[("font-size", "8"), ("fill", SOFT)]);
    let told: Vec<String> = tanks.iter().map(Tank::told).collect();
    let alt = format!("Tanks, true level against the gauge: {}.", told.join("; "));
    Some(Drawn { svg: svg.finish_at(500.0, y + 11.0), alt })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn picture(tanks: &[(&str, f64, f64)]) -> Picture {
        let mut shown: BTreeMap<String, Vec<Shown>> = BTreeMap::new();
        let mut put = |role: &str, one: Shown| shown.entry(role.to_owned()).or_default().push(one);
        for (name, truth, gauge) in tanks {
            put("true", value(name, *truth, "%", Verdict::NoLimit));
            put("shown", value(name, *gauge, "%", Verdict::NoLimit));
            put("error", value(name, gauge - truth, "%", Verdict::NoLimit));
            put("size", value(name, (gauge - truth).abs(), "%", Verdict::BeyondGuidance));
            put("contents", value(name, 11.0, "gal", Verdict::NoLimit));
            put("capacity", value(name, 37.4, "gal", Verdict::NoLimit));
        }
        Picture { shown, ..Picture::default() }
    }

    /// A tank 78 high from 100 down at 22: 25 % stands at 80.5, two thirds at 48.74.
    #[test]
    fn levels_stand_where_arithmetic_says() {
        let drawn = draw(&picture(&[("grey", 25.0, 67.0)]), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        assert!(drawn.svg.contains("M34 80.5L96 80.5"), "{}", drawn.svg);
        assert!(drawn.svg.contains("M34 47.74L96 47.74"), "{}", drawn.svg);
        let words = "grey: truly 25 %, 11 gal of 37.4 gal, gauge shows 67 %, 42 % (beyond what informs) off";
        assert!(drawn.alt.contains(words), "{}", drawn.alt);
    }

    #[test]
    fn equal_extreme_and_many_levels_with_long_names_stay_tidy() {
        let long = "second grey-water tank under the rear bathroom and its shower";
        for tanks in [
            vec![("fresh", 0.0, 0.0)],
            vec![("fresh", 100.0, 100.0), ("grey", 50.0, 50.0)],
            vec![
                ("fresh", 140.0, -20.0),
                (long, 3.0, 4.0),
                ("black", 99.0, 1.0),
                (long, 0.0, 100.0),
            ],
        ] {
            let drawn = draw(&picture(&tanks), &Phrases::default()).unwrap();
            assert_tidy(&drawn.svg);
        }
    }

    #[test]
    fn a_tank_without_both_levels_is_not_drawn() {
        let mut one = picture(&[("grey", 25.0, 67.0), ("fresh", 10.0, 33.0)]);
        one.shown.get_mut("shown").unwrap().remove(0);
        let drawn = draw(&one, &Phrases::default()).unwrap();
        assert!(!drawn.alt.contains("grey") && drawn.alt.contains("fresh"), "{}", drawn.alt);
        one.shown.remove("shown");
        assert_eq!(draw(&one, &Phrases::default()), None);
    }
}
