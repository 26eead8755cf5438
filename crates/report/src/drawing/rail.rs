//! Heights along one rail against the straight line between its ends.

use plan::Phrases;

use crate::content::{Picture, Shown};

use super::axis::Axis;
use super::heights::{Heights, Labels, lengths, per_metre};
use super::lettering::shortened;
use super::words::{plain, signed, told};
use super::{Drawn, HELD, INK, SOFT, Svg};

const EDGES: (f64, f64) = (48.0, 480.0);
const TOP: f64 = 30.0;
const HIGHEST: f64 = 84.0;
const RESULTS: [(&str, &str); 3] = [
    ("sag", "largest distance from the straight line"),
    ("ratio", "length over that distance"),
    ("step", "largest step between neighbours"),
];

struct Spot<'a> {
    height: &'a Shown,
    up: f64,
    at: Option<&'a Shown>,
    along: f64,
}

/// Draws the rail; none where fewer than two heights are numbers.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let heights = picture.role("height");
    let first = heights.first()?;
    let mut spots = Vec::new();
    for height in heights.iter().filter(|height| height.unit == first.unit) {
        let at = picture.at("at", &height.position);
        let order = f64::from(u16::try_from(spots.len()).ok()?) + 1.0;
        let along = at.and_then(|at| at.number).unwrap_or(order);
        spots.push(Spot { height, up: height.number?, at, along });
    }
    // Heights without a place stand in their order, and then all do.
    let scaled = spots.iter().all(|spot| spot.at.is_some_and(|at| at.number.is_some()));
    if !scaled {
        for (spot, order) in spots.iter_mut().zip(1_u16..) {
            (spot.at, spot.along) = (None, f64::from(order));
        }
    }
    spots.sort_by(|one, other| one.along.total_cmp(&other.along));
    let (start, end) = (spots.first()?, spots.last()?);
    if end.along <= start.along {
        return None;
    }
    let axis = if scaled {
        Axis::covering(spots.iter().map(|spot| spot.along), 6.0)?
    } else {
        Axis::covering([start.along, end.along], 1.0)?
    };
    // The labels of both ends need room.
    let ends = (EDGES.0 + 26.0, EDGES.1 - 12.0);
    let place = |along: f64| {
        if scaled {
            axis.place(along, ends)
        } else {
            ends.0 + (along - start.along) / (end.along - start.along) * (ends.1 - ends.0)
        }
    };
    let unit = start.at.map_or("", |at| at.unit.as_str());
    let per = if scaled {
        Some(per_metre(unit, (ends.1 - ends.0) / (axis.to - axis.from))?)
    } else {
        None
    };
    let scale = Heights::fitting(spots.iter().map(|spot| spot.up), &first.unit, per, HIGHEST)?;

    let mut svg = Svg::new(500.0, 0.0).in_words(say);
    svg.words((8.0, 12.0), &first.unit, &[("font-size", "8"), ("fill", SOFT)]);
    scale.grid(&mut svg, EDGES, TOP, true);
    let ground = TOP + scale.high;
    let chord = |along: f64| {
        start.up + (along - start.along) / (end.along - start.along) * (end.up - start.up)
    };
    let at = |along: f64, up: f64| (place(along), scale.place(up, TOP));
    svg.line(
        at(start.along, start.up),
        at(end.along, end.up),
        &[("stroke", SOFT), ("stroke-width", "1"), ("stroke-dasharray", "5 3")],
    );
    let farthest = spots
        .iter()
        .max_by(|one, other| {
            let off = |spot: &Spot<'_>| (spot.up - chord(spot.along)).abs();
            off(one).total_cmp(&off(other))
        })
        .filter(|spot| (spot.up - chord(spot.along)).abs() > 0.0);
    if let Some(spot) = farthest.filter(|_| picture.one("sag").is_some()) {
        let from = at(spot.along, chord(spot.along));
        svg.line(from, at(spot.along, spot.up), &[("stroke", HELD), ("stroke-width", "1.6")]);
    }
    for pair in spots.windows(2) {
        let (from, to) = (at(pair[0].along, pair[0].up), at(pair[1].along, pair[1].up));
        svg.line(from, to, &[("stroke", INK), ("stroke-width", "1.6")]);
    }
    let mut labels = Labels::within([EDGES.0 - 8.0, 8.0, 496.0, ground + 16.0]);
    for spot in &spots {
        let mark = at(spot.along, spot.up);
        svg.circle(mark.0, mark.1, 2.8, &[("fill", INK)]);
        labels.mark(mark);
    }
    for pair in spots.windows(2) {
        labels.line(at(pair[0].along, pair[0].up), at(pair[1].along, pair[1].up));
    }
    labels.line(at(start.along, start.up), at(end.along, end.up));
    let mut unwritten = 0;
    for spot in &spots {
        let text = shortened(&spot.height.text, 8.5, 60.0);
        let below = spot.up < chord(spot.along);
        if !labels.write(&mut svg, at(spot.along, spot.up), &text, (8.5, below)) {
            unwritten += 1;
        }
    }
    let mut y = ground + 20.0;
    if scaled {
        lengths(&mut svg, &axis, ends, y);
        svg.words((8.0, y + 11.5), unit, &[("font-size", "8"), ("fill", SOFT)]);
    } else {
        svg.line((EDGES.0, y), (EDGES.1, y), &[("stroke", SOFT), ("stroke-width", "0.8")]);
        let apart = (ends.1 - ends.0) / (end.along - start.along);
        let mut free = f64::NEG_INFINITY;
        for spot in &spots {
            let text = shortened(&spot.height.position, 8.0, (apart - 6.0).max(14.0));
            let x = place(spot.along);
            let half = super::lettering::width(&text, 8.0) / 2.0;
            if x - half > free && x + half < 499.0 {
                let quiet = [("font-size", "8"), ("fill", SOFT), ("text-anchor", "middle")];
                svg.words((x, y + 11.5), &text, &quiet);
                free = x + half + 3.0;
            }
        }
    }
    y += 27.0;
    let mut legend = format!("Dashed: straight between the ends; {}.", scale.words());
    if unwritten > 0 {
        legend.push_str(&format!(" {unwritten} of the heights stand in the table only."));
    }
    y = plain(&mut svg, (8.0, y), &legend, (8.0, 484.0), SOFT) + 2.0;
    let mut said = Vec::new();
    for (role, words) in RESULTS {
        let Some(shown) = picture.one(role) else { continue };
        y = signed(
            &mut svg,
            (8.0, y),
            shown.verdict,
            &format!("{words}: {}", shown.text),
            (9.0, 484.0),
        );
        said.push(format!("{words} {}", told(shown)));
    }
    let list: Vec<String> = spots
        .iter()
        .map(|spot| {
            let place = spot
                .at
                .map_or_else(|| spot.height.position.clone(), |at| format!("at {}", at.text));
            format!("{place} {}", told(spot.height))
        })
        .collect();
    said.insert(0, list.join(", "));
    let alt = format!("Heights along the rail, {}: {}.", scale.words(), said.join("; "));
    Some(Drawn { svg: svg.finish_at(500.0, y - 4.0), alt })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use crate::content::Verdict;

    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn picture(places: &[(f64, f64)], with_places: bool) -> Picture {
        let mut shown: BTreeMap<String, Vec<Shown>> = BTreeMap::new();
        for (at, (along, up)) in places.iter().enumerate() {
            let position = format!("rail {}", at + 1);
            let mut put = |role: &str, number, unit| {
                let one = value(&position, number, unit, Verdict::NoLimit);
                shown.entry(role.to_owned()).or_default().push(one);
            };
            put("height", *up, "in");
            if with_places {
                put("at", *along, "ft");
            }
        }
        shown.insert("sag".to_owned(), vec![value("", -0.45, "in", Verdict::NoLimit)]);
        shown.insert("ratio".to_owned(), vec![value("", 853.0, "", Verdict::WithinGuidance)]);
        Picture { shown, ..Picture::default() }
    }

    const RAIL: [(f64, f64); 5] =
        [(0.0, 0.0), (8.0, -0.3), (16.0, -0.55), (24.0, -0.45), (32.0, -0.2)];

    #[test]
    fn heights_places_and_what_follows_are_told() {
        let drawn = draw(&picture(&RAIL, true), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        for words in [
            "times as large as lengths",
            "at 16 ft -0.55 in",
            "largest distance from the straight line -0.45 in",
            "length over that distance 853 (within what informs)",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
    }

    /// Halfway between 0 and −0.2 the straight line is at −0.1; the farthest height, −0.55, is 0.45 below it.
    #[test]
    fn the_deviation_is_drawn_from_the_straight_line_to_the_farthest_height() {
        let drawn = draw(&picture(&RAIL, true), &Phrases::default()).unwrap();
        let axis = Axis::covering([0.0, 32.0], 6.0).unwrap();
        let ends = (EDGES.0 + 26.0, EDGES.1 - 12.0);
        let x = axis.place(16.0, ends);
        let per = per_metre("ft", (ends.1 - ends.0) / (axis.to - axis.from)).unwrap();
        let scale = Heights::fitting(RAIL.iter().map(|it| it.1), "in", Some(per), HIGHEST).unwrap();
        let n = super::super::number;
        let path = format!(
            "M{x} {}L{x} {}",
            n(scale.place(-0.1, TOP)),
            n(scale.place(-0.55, TOP)),
            x = n(x)
        );
        assert!(drawn.svg.contains(&path), "{path} in {}", drawn.svg);
    }

    #[test]
    fn heights_without_places_stand_in_their_order_and_say_so() {
        let mut one = picture(&RAIL, true);
        one.shown.get_mut("at").unwrap().pop();
        let drawn = draw(&one, &Phrases::default()).unwrap();
        assert!(drawn.alt.contains("places in their order, not to scale"), "{}", drawn.alt);
        assert!(drawn.alt.contains("rail 5 -0.2 in"), "{}", drawn.alt);
        assert_tidy(&drawn.svg);
    }

    #[test]
    fn equal_many_and_steep_heights_stay_tidy() {
        let equal = [(0.0, 2.0), (5.0, 2.0), (10.0, 2.0)];
        let many: Vec<(f64, f64)> =
            (0..60_u8).map(|at| (f64::from(at), f64::from(at % 5) * 0.1)).collect();
        let steep = [(0.0, 0.0), (1.0, 90.0), (2.0, -90.0)];
        for places in [&equal[..], &many[..], &steep[..]] {
            for with_places in [true, false] {
                assert_tidy(&draw(&picture(places, with_places), &Phrases::default()).unwrap().svg);
            }
        }
    }

    #[test]
    fn one_height_or_one_place_is_no_rail() {
        assert_eq!(draw(&picture(&RAIL[..1], true), &Phrases::default()), None);
        assert_eq!(draw(&picture(&[(3.0, 0.0), (3.0, 1.0)], true), &Phrases::default()), None);
        assert_eq!(draw(&Picture::default(), &Phrases::default()), None);
    }
}
