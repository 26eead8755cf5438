//! Piers from above, front to the left: each with its load against its rating, and its footing against the soil.

use plan::Phrases;

use crate::content::{Picture, Shown, Unit, Verdict};

use super::bars::rect;
use super::lettering::shortened;
use super::words::{gravity, plain, told};
use super::{Drawn, HELD, INK, SOFT, Sign, Svg, number, sign};

const EDGES: (f64, f64) = (54.0, 452.0);
const RIGHT_RAIL: f64 = 44.0;
const RAILS_APART: f64 = 66.0;
const PIER: f64 = 15.0;
const FILL: &str = "#8fa3b8";
const HALF: f64 = 242.0;

struct Pier<'a> {
    position: &'a str,
    load: &'a Shown,
    rated: Option<&'a Shown>,
    pressure: Option<&'a Shown>,
    soil: Option<&'a Shown>,
    /// The rail and its place on it, counted from the front.
    place: Option<(Rail, u16)>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Rail {
    Left,
    Right,
}

/// `left 2` is the second of the left rail from the front.
fn place(position: &str) -> Option<(Rail, u16)> {
    let (side, order) = position.split_once(' ')?;
    let rail = match side {
        "left" => Rail::Left,
        "right" => Rail::Right,
        _ => return None,
    };
    order.trim().parse().ok().filter(|order| (1..=60).contains(order)).map(|order| (rail, order))
}

impl<'a> Pier<'a> {
    fn of(picture: &'a Picture, load: &'a Shown) -> Self {
        let at = |role: &str| picture.at(role, &load.position);
        let soil = at("soil").or(picture.at("soil", ""));
        Self {
            position: &load.position,
            load,
            rated: at("rated").filter(|rated| rated.unit == load.unit),
            pressure: at("pressure"),
            soil: soil.filter(|soil| at("pressure").is_some_and(|it| it.unit == soil.unit)),
            place: place(&load.position),
        }
    }

    fn verdict(&self) -> Verdict {
        let pressure = self.pressure.map_or(Verdict::NoLimit, |shown| shown.verdict);
        [self.load.verdict, pressure].into_iter().max_by_key(|it| gravity(*it)).unwrap_or(pressure)
    }

    /// Load over rating.
    fn share(&self) -> Option<f64> {
        let rated = self.rated?.number.filter(|rated| *rated > 0.0)?;
        self.load.number.map(|load| (load / rated).max(0.0))
    }

    /// Load of rating, and pressure of what the soil bears.
    fn words(&self) -> [String; 2] {
        let of = |shown: &Shown, most: Option<&Shown>| match most {
            Some(most) => format!("{} of {}", shown.text, most.text),
            None => shown.text.clone(),
        };
        [
            of(self.load, self.rated),
            self.pressure.map_or_else(String::new, |pressure| of(pressure, self.soil)),
        ]
    }

    fn told(&self) -> String {
        let mut words = format!("{} carries {}", self.position, told(self.load));
        if let Some(rated) = self.rated {
            words.push_str(&format!(", rated {}", rated.text));
        }
        if let Some(pressure) = self.pressure {
            words.push_str(&format!(", presses on the soil with {}", told(pressure)));
        }
        if let Some(soil) = self.soil {
            words.push_str(&format!(", which bears {}", soil.text));
        }
        words
    }
}

/// Where each pier of a rail stands along it; in feet or whatever the spacings are in, if all are known.
struct Places {
    most: f64,
    scaled: bool,
}

impl Places {
    fn of(picture: &Picture, piers: &[Pier<'_>]) -> Self {
        let mut places = Self { most: 1.0, scaled: true };
        let reach = |places: &Self| {
            let list = piers.iter().filter_map(|pier| pier.place);
            list.map(|place| places.at(picture, place)).collect::<Option<Vec<f64>>>()
        };
        let found = reach(&places).unwrap_or_else(|| {
            places.scaled = false;
            reach(&places).unwrap_or_default()
        });
        places.most = found.into_iter().fold(0.0, f64::max);
        places
    }

    fn at(&self, picture: &Picture, (rail, order): (Rail, u16)) -> Option<f64> {
        if !self.scaled {
            return Some(f64::from(order - 1));
        }
        let side = if rail == Rail::Left { "left" } else { "right" };
        let mut sum = 0.0;
        for before in 1..order {
            let spacing = picture.at("spacing", &format!("{side} {before}"))?.number?;
            if !(spacing.is_finite() && spacing > 0.0) {
                return None;
            }
            sum += spacing;
        }
        Some(sum)
    }
}

/// Draws the plan and the list; none where no pier stands at a known place.
pub(super) fn draw(picture: &Picture, unit: &Unit, say: &Phrases) -> Option<Drawn> {
    let piers: Vec<Pier<'_>> =
        picture.role("load").iter().map(|load| Pier::of(picture, load)).collect();
    if !piers.iter().any(|pier| pier.place.is_some()) {
        return None;
    }
    let places = Places::of(picture, &piers);
    let mut svg = Svg::new(500.0, 0.0).in_words(say);
    frame(&mut svg, unit);
    let mut crowded = 0;
    let mut taken: Vec<(Rail, f64)> = Vec::new();
    for pier in &piers {
        let Some(place) = pier.place else { continue };
        let Some(along) = places.at(picture, place) else { continue };
        let reach = if places.most > 0.0 { along / places.most } else { 0.0 };
        let x = EDGES.0 + reach * (EDGES.1 - EDGES.0);
        let near = taken.iter().any(|(rail, at)| *rail == place.0 && (at - x).abs() < PIER + 1.0);
        if near {
            crowded += 1;
            continue;
        }
        taken.push((place.0, x));
        pier_mark(&mut svg, pier, place, x);
    }
    let mut y = RIGHT_RAIL + RAILS_APART + 48.0;
    let scale = if places.scaled && places.most > 0.0 {
        "Distances along the rails to scale"
    } else {
        "Piers in their order, distances not to scale"
    };
    let mut legend =
        format!("{scale}. A mark is filled by the share of its rating that it carries.");
    if crowded > 0 {
        legend.push_str(&format!(" {crowded} piers have no room here and stand in the list."));
    }
    y = plain(&mut svg, (8.0, y), &legend, (8.0, 484.0), SOFT);
    y = list(&mut svg, &piers, y + 6.0);
    let told: Vec<String> = piers.iter().map(Pier::told).collect();
    let alt = format!("Piers from above, counted from the front: {}.", told.join("; "));
    Some(Drawn { svg: svg.finish_at(500.0, y), alt })
}

/// The outline of the home with its two rails.
fn frame(svg: &mut Svg, unit: &Unit) {
    let (left, right) = (EDGES.0 - 24.0, EDGES.1 + 24.0);
    let (top, bottom) = (RIGHT_RAIL - 24.0, RIGHT_RAIL + RAILS_APART + 24.0);
    let line = [("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.4")];
    rect(svg, [left, top, right - left, bottom - top], &line);
    if unit.outline.as_ref().is_some_and(|outline| outline.drawbar) {
        let middle = f64::midpoint(top, bottom);
        let path = format!(
            "M{l} {}L8 {}L{l} {}",
            number(middle - 18.0),
            number(middle),
            number(middle + 18.0),
            l = number(left)
        );
        svg.path(&path, &[("fill", "none"), ("stroke", INK), ("stroke-width", "1.4")]);
    }
    for y in [RIGHT_RAIL, RIGHT_RAIL + RAILS_APART] {
        svg.line((left, y), (right, y), &[("stroke", SOFT), ("stroke-width", "2")]);
    }
    let quiet = [("font-size", "8"), ("fill", SOFT)];
    svg.words((left + 2.0, top - 5.0), "right rail", &quiet);
    svg.words((left + 2.0, bottom + 11.0), "left rail; front to the left", &quiet);
}

fn pier_mark(svg: &mut Svg, pier: &Pier<'_>, (rail, order): (Rail, u16), x: f64) {
    let y = if rail == Rail::Left { RIGHT_RAIL + RAILS_APART } else { RIGHT_RAIL };
    let (left, top) = (x - PIER / 2.0, y - PIER / 2.0);
    rect(svg, [left, top, PIER, PIER], &[("fill", "#ffffff")]);
    if let Some(share) = pier.share() {
        let fill = if share > 1.0 { HELD } else { FILL };
        let high = PIER * share.min(1.0);
        rect(svg, [left, top + PIER - high, PIER, high], &[("fill", fill)]);
    }
    let line = [("fill", "none"), ("stroke", INK), ("stroke-width", "1.2")];
    rect(svg, [left, top, PIER, PIER], &line);
    // The number and the sign stand towards the middle of the home.
    let (words, at) = if rail == Rail::Left {
        (top - 3.5, top - 21.0)
    } else {
        (top + PIER + 9.5, top + PIER + 12.5)
    };
    let middle = [("font-size", "8.5"), ("fill", INK), ("text-anchor", "middle")];
    svg.words((x, words), &order.to_string(), &middle);
    if pier.verdict() != Verdict::NoLimit {
        svg.inset((x - 4.0, at), 8.0, &sign(Sign::of(pier.verdict())));
    }
}

/// The piers in two columns, the left rail's and the others.
fn list(svg: &mut Svg, piers: &[Pier<'_>], top: f64) -> f64 {
    let is_left = |pier: &&Pier<'_>| matches!(pier.place, Some((Rail::Left, _)));
    let mut columns = [
        piers.iter().filter(is_left).collect::<Vec<_>>(),
        piers.iter().filter(|pier| !is_left(pier)).collect::<Vec<_>>(),
    ];
    for column in &mut columns {
        column.sort_by_key(|pier| pier.place.map_or(u16::MAX, |(_, order)| order));
    }
    let mut end = top;
    for (column, x) in columns.into_iter().zip([8.0, 8.0 + HALF + 6.0]) {
        let mut y = top;
        for pier in column {
            y = row(svg, pier, (x, y));
        }
        end = end.max(y);
    }
    end
}

fn row(svg: &mut Svg, pier: &Pier<'_>, (x, mut y): (f64, f64)) -> f64 {
    let ink = [("font-size", "9"), ("fill", INK)];
    let strong = [("font-size", "9"), ("fill", INK), ("font-weight", "600")];
    svg.words((x, y), &shortened(pier.position, 8.6, 50.0), &strong);
    let [load, pressure] = pier.words();
    let verdicts =
        [pier.load.verdict, pier.pressure.map_or(Verdict::NoLimit, |shown| shown.verdict)];
    for (text, verdict) in [load, pressure].into_iter().zip(verdicts) {
        if text.is_empty() {
            continue;
        }
        if verdict != Verdict::NoLimit {
            svg.inset((x + 54.0, y - 7.2), 8.0, &sign(Sign::of(verdict)));
        }
        svg.words((x + 65.5, y), &shortened(&text, 9.0, HALF - 68.0), &ink);
        y += 11.5;
    }
    y + 3.0
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn picture(piers: &[(&str, f64)]) -> Picture {
        let mut shown: BTreeMap<String, Vec<Shown>> = BTreeMap::new();
        for (position, load) in piers {
            let verdict = if *load > 8000.0 { Verdict::DoesNotConform } else { Verdict::Conforms };
            let mut put = |role: &str, number, unit, verdict| {
                let one = value(position, number, unit, verdict);
                shown.entry(role.to_owned()).or_default().push(one);
            };
            put("load", *load, "lbf", verdict);
            put("rated", 8000.0, "lbf", Verdict::NoLimit);
            put("spacing", 8.0, "ft", Verdict::NoLimit);
            put("pressure", load / 4.0, "psf", Verdict::Undecided);
        }
        shown.insert("soil".to_owned(), vec![value("", 1500.0, "psf", Verdict::NoLimit)]);
        Picture { shown, ..Picture::default() }
    }

    #[test]
    fn every_pier_is_told_with_what_bears_it() {
        let drawn = draw(
            &picture(&[("left 1", 6000.0), ("right 1", 9000.0)]),
            &Unit::default(),
            &Phrases::default(),
        );
        let drawn = drawn.unwrap();
        assert_tidy(&drawn.svg);
        for words in [
            "left 1 carries 6000 lbf (conforms), rated 8000 lbf, presses on the soil with 1500 psf \
             (undecided), which bears 1500 psf",
            "right 1 carries 9000 lbf (does not conform), rated 8000 lbf",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
    }

    /// Three piers over 398: the middle one at 253; three quarters of 15 are 11.25.
    #[test]
    fn piers_stand_at_their_distances_and_are_filled_by_their_share() {
        let three = [("left 1", 6000.0), ("left 2", 6000.0), ("left 3", 6000.0)];
        let drawn = draw(&picture(&three), &Unit::default(), &Phrases::default()).unwrap();
        let fill =
            format!("x=\"245.5\" y=\"106.25\" width=\"15\" height=\"11.25\" fill=\"{FILL}\"");
        assert!(drawn.svg.contains(&fill), "{}", drawn.svg);
        assert!(drawn.svg.contains("Distances along the rails to scale"));

        let mut unequal = picture(&three);
        unequal.shown.get_mut("spacing").unwrap()[1] =
            value("left 2", 24.0, "ft", Verdict::NoLimit);
        let drawn = draw(&unequal, &Unit::default(), &Phrases::default()).unwrap();
        // 8 of 32 along.
        assert!(drawn.svg.contains("x=\"146\" y=\"106.25\""), "{}", drawn.svg);
    }

    #[test]
    fn without_all_distances_piers_stand_in_order_and_it_is_said() {
        let mut one = picture(&[("left 1", 100.0), ("left 2", 100.0), ("left 3", 100.0)]);
        one.shown.get_mut("spacing").unwrap().remove(0);
        let drawn = draw(&one, &Unit::default(), &Phrases::default()).unwrap();
        assert!(drawn.svg.contains("distances not to scale"), "{}", drawn.svg);
    }

    #[test]
    fn many_odd_and_single_piers_stay_tidy_and_all_are_told() {
        let mut many: Vec<(String, f64)> = Vec::new();
        for order in 1..=40 {
            many.push((format!("left {order}"), 5500.0));
            many.push((format!("right {order}"), 9.0e8));
        }
        many.push(("beside the patio door on the left, front".to_owned(), 0.0));
        many.push(("left 900".to_owned(), -4.0));
        let many: Vec<(&str, f64)> =
            many.iter().map(|(name, load)| (name.as_str(), *load)).collect();
        for piers in [&many[..], &many[..1], &many[60..]] {
            let drawn = draw(&picture(piers), &Unit::default(), &Phrases::default()).unwrap();
            assert_tidy(&drawn.svg);
            for (name, _) in piers {
                assert!(drawn.alt.contains(&format!("{name} carries")), "{name}");
            }
        }
    }

    #[test]
    fn piers_at_no_known_place_make_no_plan() {
        assert_eq!(
            draw(
                &picture(&[("corner", 100.0), ("left", 1.0)]),
                &Unit::default(),
                &Phrases::default()
            ),
            None
        );
        assert_eq!(draw(&Picture::default(), &Unit::default(), &Phrases::default()), None);
    }
}
