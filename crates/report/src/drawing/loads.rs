//! Weights on a side view of the unit, and each against its rating.

use plan::Phrases;

use crate::content::{Picture, Shown, Unit, Verdict};

use super::bars::{Row, rect, rows};
use super::lettering::shortened;
use super::words::{plain, told};
use super::{Drawn, INK, SOFT, Sign, Svg, number, sign};

/// Where the road lies, and the floor of the body above it.
const ROAD: f64 = 96.0;
const FLOOR: f64 = 78.0;
const BODY: (f64, f64) = (106.0, 470.0);
const WHEEL: f64 = 14.0;
/// Between axles; their words must fit.
const AXLES_APART: f64 = 74.0;
const MIDDLE: f64 = 318.0;
/// The longest arrow.
const ARROW: f64 = 34.0;
/// Said of a load that is set against what stands on the tyre's sidewall.
const SIDEWALL: &str = " at full pressure";
const KNOWN_AXLES: [&str; 3] = ["front", "middle", "rear"];

/// An axle: what was weighed of it.
struct Axle<'a> {
    name: String,
    whole: Option<&'a Shown>,
    wheels: Vec<&'a Shown>,
}

impl Axle<'_> {
    /// What its arrow is long: the axle's own load, else that of both its wheels.
    fn load(&self) -> Option<f64> {
        match (self.whole, self.wheels.as_slice()) {
            (Some(whole), _) => whole.number,
            (None, [one, other]) => Some(one.number? + other.number?),
            _ => None,
        }
    }

    fn lines(&self) -> Vec<(&str, Verdict)> {
        match self.whole {
            Some(whole) => vec![(whole.text.as_str(), whole.verdict)],
            None => self.wheels.iter().map(|one| (one.text.as_str(), one.verdict)).collect(),
        }
    }
}

/// The axles from the front on: those that were weighed whole, then those of which wheels were weighed.
fn axles(picture: &Picture) -> Vec<Axle<'_>> {
    let known = |text: &str| KNOWN_AXLES.iter().position(|axle| text.contains(axle));
    let mut axles: Vec<(Option<usize>, Axle<'_>)> = picture
        .role("axle")
        .iter()
        .map(|shown| {
            let name = if shown.position.contains("axle") {
                shown.position.clone()
            } else {
                format!("{} axle", shown.position).trim().to_owned()
            };
            (known(&shown.position), Axle { name, whole: Some(shown), wheels: Vec::new() })
        })
        .collect();
    for wheel in picture.role("wheel") {
        let Some(place) = known(&wheel.position) else { continue };
        match axles.iter_mut().find(|(at, _)| *at == Some(place)) {
            Some((_, axle)) => axle.wheels.push(wheel),
            // Beside axles that were weighed under other names, wheels would be counted twice.
            None if picture.role("axle").is_empty() => {
                let name = format!("{} axle", KNOWN_AXLES[place]);
                axles.push((Some(place), Axle { name, whole: None, wheels: vec![wheel] }));
            }
            None => {}
        }
    }
    axles.sort_by_key(|(place, _)| place.unwrap_or(usize::MAX));
    axles.into_iter().map(|(_, axle)| axle).collect()
}

/// Draws the weights; none where nothing was weighed.
pub(super) fn draw(picture: &Picture, unit: &Unit, say: &Phrases) -> Option<Drawn> {
    let axles = axles(picture);
    let tongue = picture.one("tongue");
    let weighed = !axles.is_empty() || tongue.is_some() || picture.one("gross").is_some();
    if !weighed {
        return None;
    }
    let mut svg = Svg::new(500.0, 0.0).in_words(say);
    let drawbar = unit.outline.as_ref().is_none_or(|outline| outline.drawbar);
    let mut y = side_view(&mut svg, &axles, tongue, drawbar);
    let (against, mut words) = ratings(picture);
    if !against.is_empty() {
        y = rows(&mut svg, y, "Against its rating, %", &against, &[100.0])?;
    }
    if words.iter().any(|told| told.contains(SIDEWALL)) {
        let note = "Wheels are set against the load on their tyres' sidewalls, which they carry at full pressure.";
        y = plain(&mut svg, (8.0, y + 8.0), note, (8.0, 484.0), SOFT) - 8.0;
    }
    let mut shares = Vec::new();
    for (role, name) in [("share", "share on the tow vehicle"), ("imbalance", "sides differ by")] {
        if let Some(shown) = picture.one(role) {
            let row = Row::of(name, shown);
            let limits = if row.below.is_empty() {
                String::new()
            } else {
                format!(", limits {}", row.below)
            };
            words.push(format!("{name} {}{limits}", told(shown)));
            shares.push(row);
        }
    }
    if !shares.is_empty() {
        y = rows(&mut svg, y + 6.0, "Shares of the weight, %", &shares, &[])?;
    }
    let mut arrows: Vec<String> = Vec::new();
    if let Some(tongue) = tongue {
        arrows.push(format!("on the tow vehicle {}", told(tongue)));
    }
    for axle in &axles {
        let loads: Vec<String> = match axle.whole {
            Some(whole) => vec![told(whole)],
            None => {
                axle.wheels.iter().map(|one| format!("{} {}", one.position, told(one))).collect()
            }
        };
        arrows.push(format!("{} {}", axle.name, loads.join(" and ")));
    }
    arrows.extend(words);
    let alt = format!("Weights on the unit from the left side: {}.", arrows.join("; "));
    Some(Drawn { svg: svg.finish_at(500.0, y + 4.0), alt })
}

/// The unit with an arrow for each load; gives where it ends.
fn side_view(svg: &mut Svg, axles: &[Axle<'_>], tongue: Option<&Shown>, drawbar: bool) -> f64 {
    let line = [("fill", "none"), ("stroke", INK), ("stroke-width", "1.5")];
    let (left, right) = BODY;
    let body = if drawbar {
        format!("M{left} {FLOOR}V14Q{left} 8 {} 8H{right}V{FLOOR}Z", left + 6.0)
    } else {
        // The front of a fifth wheel rides over the tow vehicle.
        format!("M{left} {FLOOR}V50H36V14Q36 8 42 8H{right}V{FLOOR}Z")
    };
    svg.path(&body, &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.5")]);
    let hitch = if drawbar {
        svg.path(&format!("M{left} {}H44", FLOOR - 2.0), &line);
        svg.circle(
            40.0,
            FLOOR - 2.0,
            4.0,
            &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.5")],
        );
        (40.0, FLOOR + 5.0)
    } else {
        svg.path("M60 50V58", &[("fill", "none"), ("stroke", INK), ("stroke-width", "5")]);
        (60.0, 62.0)
    };
    svg.line((8.0, ROAD), (492.0, ROAD), &[("stroke", SOFT), ("stroke-width", "0.8")]);
    let count = f64::from(u8::try_from(axles.len()).unwrap_or(u8::MAX));
    let apart = AXLES_APART.min(300.0 / count.max(1.0));
    let place = |at: usize| {
        MIDDLE + (f64::from(u8::try_from(at).unwrap_or(u8::MAX)) - (count - 1.0) / 2.0) * apart
    };
    for (at, _) in axles.iter().enumerate() {
        svg.circle(
            place(at),
            ROAD - WHEEL,
            WHEEL,
            &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.5")],
        );
        svg.circle(place(at), ROAD - WHEEL, 4.0, &[("fill", SOFT)]);
    }
    let loads = axles.iter().map(Axle::load).chain([tongue.and_then(|shown| shown.number)]);
    let most = loads.flatten().filter(|load| load.is_finite()).fold(0.0, f64::max);
    let mut end: f64 = ROAD + 16.0;
    let mut arrow = |svg: &mut Svg,
                     x: f64,
                     from: f64,
                     load: Option<f64>,
                     name: &str,
                     lines: &[(&str, Verdict)],
                     wide: f64| {
        let long =
            load.filter(|load| *load > 0.0 && most > 0.0).map_or(0.0, |load| ARROW * load / most);
        if long > 0.0 {
            down(svg, x, from, long);
        }
        let mut baseline = from + ARROW + 17.0;
        let room = wide - 4.0;
        let centred = |svg: &mut Svg, baseline: f64, text: &str, ink: &str| {
            let text = shortened(text, 9.0, room);
            svg.words(
                (x, baseline),
                &text,
                &[("font-size", "9"), ("fill", ink), ("text-anchor", "middle")],
            );
            super::lettering::width(&text, 9.0)
        };
        centred(svg, baseline, name, SOFT);
        for (text, verdict) in lines {
            baseline += 11.5;
            let wide = centred(svg, baseline, text, INK);
            if *verdict != Verdict::NoLimit && wide + 24.0 < room + 16.0 {
                svg.inset((x - wide / 2.0 - 10.5, baseline - 7.2), 8.0, &sign(Sign::of(*verdict)));
            }
        }
        end = end.max(baseline + 8.0);
    };
    if let Some(tongue) = tongue {
        let name = if drawbar { "tongue" } else { "pin" };
        let lines = [(tongue.text.as_str(), tongue.verdict)];
        arrow(svg, hitch.0, ROAD + 3.0, tongue.number, name, &lines, 80.0);
        let dotted = [("stroke", SOFT), ("stroke-width", "0.8"), ("stroke-dasharray", "2 2")];
        svg.line(hitch, (hitch.0, ROAD), &dotted);
    }
    for (at, axle) in axles.iter().enumerate() {
        arrow(svg, place(at), ROAD + 3.0, axle.load(), &axle.name, &axle.lines(), apart);
    }
    let quiet = [("font-size", "8"), ("fill", SOFT)];
    svg.words((114.0, 24.0), "front to the left; arrows as long as the loads", &quiet);
    end
}

/// An arrow downwards.
fn down(svg: &mut Svg, x: f64, from: f64, long: f64) {
    let head = long.min(6.0);
    rect(svg, [x - 2.0, from, 4.0, long - head], &[("fill", SOFT)]);
    let path = format!(
        "M{} {}H{}L{} {}Z",
        number(x - 4.5),
        number(from + long - head),
        number(x + 4.5),
        number(x),
        number(from + long)
    );
    svg.path(&path, &[("fill", SOFT)]);
}

/// A row for each weight that has a rating, and the same in words.
fn ratings(picture: &Picture) -> (Vec<Row<'static>>, Vec<String>) {
    let mut rows = Vec::new();
    let mut words = Vec::new();
    let mut put = |name: String, load: &Shown, rating: Option<&Shown>, of: &str| {
        let Some(rating) = rating.filter(|rating| rating.unit == load.unit) else { return };
        let (Some(weight), Some(most)) = (load.number, rating.number.filter(|most| *most > 0.0))
        else {
            return;
        };
        let left = margin(load, rating, most - weight);
        let text = format!("{} of {}", load.text, rating.text);
        let verdict = match Sign::of(load.verdict) {
            Sign::NoLimit => String::new(),
            sign => format!(" ({})", sign.words()),
        };
        words.push(format!("{name} {text}{of}{verdict}, {left}"));
        rows.push(Row {
            name,
            bar: Some(100.0 * weight / most),
            mark: None,
            bounds: &[],
            words: format!("{text}, {left}"),
            verdict: load.verdict,
            below: String::new(),
        });
    };
    if let Some(gross) = picture.one("gross") {
        put("whole unit".to_owned(), gross, picture.one("gross_rating"), "");
    }
    for axle in picture.role("axle") {
        let rating = picture.at("axle_rating", &axle.position).or(picture.at("axle_rating", ""));
        let name = if axle.position.contains("axle") {
            axle.position.clone()
        } else {
            format!("{} axle", axle.position).trim().to_owned()
        };
        put(name, axle, rating, "");
    }
    for wheel in picture.role("wheel") {
        let capacity = picture.at("capacity", &wheel.position);
        let (rating, of) = match capacity {
            Some(capacity) => (Some(capacity), ""),
            None => (picture.at("sidewall", &wheel.position), SIDEWALL),
        };
        put(format!("{} wheel", wheel.position), wheel, rating, of);
    }
    (rows, words)
}

/// What is left over, as finely as the coarser of the two is written.
fn margin(load: &Shown, rating: &Shown, left: f64) -> String {
    let decimals = |shown: &Shown| {
        let figures = shown.text.split(' ').next().unwrap_or("");
        figures.split_once('.').map_or(0, |(_, after)| after.len())
    };
    let decimals = decimals(load).min(decimals(rating));
    let word = if left < 0.0 { "over" } else { "left" };
    format!("{:.decimals$} {} {word}", left.abs(), load.unit)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn picture(values: &[(&str, &str, f64, Verdict)]) -> Picture {
        let mut shown: BTreeMap<String, Vec<Shown>> = BTreeMap::new();
        for (role, position, number, verdict) in values {
            let unit = if matches!(*role, "share" | "imbalance") { "%" } else { "lb" };
            shown
                .entry((*role).to_owned())
                .or_default()
                .push(value(position, *number, unit, *verdict));
        }
        Picture { shown, ..Picture::default() }
    }

    const TRAILER: [(&str, &str, f64, Verdict); 8] = [
        ("gross", "", 6180.0, Verdict::Conforms),
        ("gross_rating", "", 7600.0, Verdict::NoLimit),
        ("tongue", "", 620.0, Verdict::NoLimit),
        ("share", "", 10.0, Verdict::Undecided),
        ("axle", "front", 2480.0, Verdict::Conforms),
        ("axle", "rear axle", 4700.0, Verdict::DoesNotConform),
        ("axle_rating", "", 4400.0, Verdict::NoLimit),
        ("wheel", "left front", 1360.0, Verdict::NoLimit),
    ];

    #[test]
    fn every_weight_is_told_with_its_rating_and_what_is_left() {
        let drawn = draw(&picture(&TRAILER), &Unit::default(), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        for words in [
            "on the tow vehicle 620 lb",
            "whole unit 6180 lb of 7600 lb (conforms), 1420 lb left",
            "front axle 2480 lb of 4400 lb (conforms), 1920 lb left",
            "rear axle 4700 lb of 4400 lb (does not conform), 300 lb over",
            "share on the tow vehicle 10 % (undecided)",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
    }

    /// The largest load has the longest arrow, of 34; 620 of 4700 is 4.49.
    #[test]
    fn arrows_are_as_long_as_the_loads() {
        let drawn = draw(&picture(&TRAILER), &Unit::default(), &Phrases::default()).unwrap();
        assert!(drawn.svg.contains("L40 103.49Z"), "{}", drawn.svg);
        assert!(drawn.svg.contains("L355 133Z"), "{}", drawn.svg);
    }

    #[test]
    fn an_axle_of_which_only_wheels_were_weighed_is_their_sum() {
        let wheels = [
            ("wheel", "left front", 1300.0, Verdict::NoLimit),
            ("wheel", "right front", 1500.0, Verdict::Conforms),
            ("capacity", "left front", 1820.0, Verdict::NoLimit),
            ("sidewall", "right front", 2540.0, Verdict::NoLimit),
        ];
        let drawn = draw(&picture(&wheels), &Unit::default(), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        assert!(drawn.svg.contains("L318 133Z"), "{}", drawn.svg);
        for words in [
            "front axle left front 1300 lb and right front 1500 lb (conforms)",
            "left front wheel 1300 lb of 1820 lb, 520 lb left",
            "right front wheel 1500 lb of 2540 lb at full pressure (conforms), 1040 lb left",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
    }

    #[test]
    fn labels_without_weights_make_no_picture() {
        let labels = [("gross_rating", "", 7600.0, Verdict::NoLimit)];
        assert_eq!(draw(&picture(&labels), &Unit::default(), &Phrases::default()), None);
    }

    #[test]
    fn odd_names_huge_nought_and_negative_loads_stay_tidy() {
        let long = "the third axle that the last owner added behind the others";
        let odd = [
            ("gross", "", 1.0e9, Verdict::DoesNotConform),
            ("gross_rating", "", 7600.0, Verdict::NoLimit),
            ("tongue", "", -40.0, Verdict::DoesNotConform),
            ("axle", "front", 0.0, Verdict::NoLimit),
            ("axle", "middle", 5.0, Verdict::NoLimit),
            ("axle", "rear", 1.0e9, Verdict::DoesNotConform),
            ("axle", long, 2000.0, Verdict::Conforms),
            ("axle_rating", "", 4400.0, Verdict::NoLimit),
        ];
        assert_tidy(&draw(&picture(&odd), &Unit::default(), &Phrases::default()).unwrap().svg);
    }
}
