//! Heights of the floor from the left side and from behind, with the plane that fits them best.

use formulas::support::{Plane, plane};
use quantity::{Length, Quantity};

use plan::Phrases;

use crate::content::{Picture, Shown};

use super::axis::Axis;
use super::heights::{Heights, Labels, lengths, per_metre};
use super::lettering::{shortened, wrapped};
use super::words::{plain, told};
use super::{Drawn, INK, SOFT, Svg, number};

/// Left edge of the view from the side, right edge of that from behind, and what lies between.
const EDGES: (f64, f64) = (48.0, 480.0);
const BETWEEN: f64 = 34.0;
const TOP: f64 = 34.0;
const HIGHEST: f64 = 92.0;
const MOST_ROWS: usize = 24;
const RESULTS: [(&str, &str); 4] = [
    ("tilt", "steepest tilt of the plane"),
    ("pitch", "rise to the rear"),
    ("roll", "rise to the right"),
    ("residual", "farthest from the plane"),
];

/// One height at its place.
struct Spot<'a> {
    position: &'a str,
    along: &'a Shown,
    across: &'a Shown,
    height: &'a Shown,
    /// Along, across, up, in the units that they are written in.
    at: (f64, f64, f64),
}

impl<'a> Spot<'a> {
    fn at(picture: &'a Picture, height: &'a Shown) -> Option<Self> {
        let along = picture.at("along", &height.position)?;
        let across = picture.at("across", &height.position)?;
        let at = (along.number?, across.number?, height.number?);
        Some(Self { position: &height.position, along, across, height, at })
    }
}

/// The plane that fits best.
struct Fitted(Plane);

impl Fitted {
    fn to(spots: &[Spot<'_>]) -> Option<Self> {
        // The fit is linear, so that any units serve, as long as each direction keeps its own.
        let list = |of: fn(&Spot<'_>) -> f64| -> Vec<Length> {
            spots.iter().map(|spot| Length::from_base(of(spot))).collect()
        };
        plane(&list(|it| it.at.0), &list(|it| it.at.1), &list(|it| it.at.2)).ok().map(Self)
    }

    fn height(&self, (along, across): (f64, f64)) -> f64 {
        self.0.level_at(Length::from_base(along), Length::from_base(across)).base()
    }
}

/// Draws both views and a list of the places; none where fewer than three places are known, or all lie on a line.
pub(super) fn draw(picture: &Picture, say: &Phrases) -> Option<Drawn> {
    let mut spots: Vec<Spot<'_>> =
        picture.role("height").iter().filter_map(|height| Spot::at(picture, height)).collect();
    // Numbered from the front to the rear, from left to right.
    spots.sort_by(|one, other| {
        one.at.0.total_cmp(&other.at.0).then(one.at.1.total_cmp(&other.at.1))
    });
    let first = spots.first()?;
    let same = |spot: &Spot<'_>| {
        spot.along.unit == first.along.unit
            && spot.across.unit == first.along.unit
            && spot.height.unit == first.height.unit
    };
    if !spots.iter().all(same) {
        return None;
    }
    let fitted = Fitted::to(&spots)?;
    let along = Axis::covering(spots.iter().map(|spot| spot.at.0), 8.0)?;
    let across = Axis::covering(spots.iter().map(|spot| spot.at.1), 2.0)?;
    let (long, wide) = (along.to - along.from, across.to - across.from);
    let room = EDGES.1 - EDGES.0 - BETWEEN;
    let scale = room / (long + wide);
    let side = (EDGES.0, EDGES.0 + long * scale);
    let behind = (side.1 + BETWEEN, EDGES.1);

    // The plane is drawn as far as it was read.
    let (first_along, last_along) = ends(spots.iter().map(|spot| spot.at.0));
    let (first_across, last_across) = ends(spots.iter().map(|spot| spot.at.1));
    let corners = [first_along, last_along]
        .into_iter()
        .flat_map(|x| [(x, first_across), (x, last_across)])
        .map(|corner| fitted.height(corner));
    let all = spots.iter().map(|spot| spot.at.2).chain(corners);
    let per = per_metre(&first.along.unit, scale)?;
    let heights = Heights::fitting(all, &first.height.unit, Some(per), HIGHEST)?;

    let mut svg = Svg::new(500.0, 0.0).in_words(say);
    heading(&mut svg, first, side, behind);
    let ground = TOP + heights.high;
    heights.grid(&mut svg, side, TOP, true);
    heights.grid(&mut svg, behind, TOP, false);
    let in_side = (along.place(first_along, side), along.place(last_along, side));
    let side_edges = [first_across, last_across].map(|y| ((first_along, y), (last_along, y)));
    let side_lines = draw_plane(&mut svg, &heights, &fitted, in_side, side_edges);
    let in_behind = (across.place(first_across, behind), across.place(last_across, behind));
    let behind_edges = [first_along, last_along].map(|x| ((x, first_across), (x, last_across)));
    let behind_lines = draw_plane(&mut svg, &heights, &fitted, in_behind, behind_edges);

    let middle = f64::midpoint(first_across, last_across);
    for (ends, axis, lines, of) in [
        (side, &along, side_lines, (|spot: &Spot<'_>| spot.at.0) as fn(&Spot<'_>) -> f64),
        (behind, &across, behind_lines, |spot: &Spot<'_>| spot.at.1),
    ] {
        lengths(&mut svg, axis, ends, ground + 6.0);
        let mut labels = Labels::within([ends.0 - 12.0, 18.0, ends.1 + 14.0, ground + 5.0]);
        for (from, to) in lines {
            labels.line(from, to);
        }
        let places: Vec<(f64, f64)> = spots
            .iter()
            .map(|spot| (axis.place(of(spot), ends), heights.place(spot.at.2, TOP)))
            .collect();
        for (spot, place) in spots.iter().zip(&places) {
            let fit = heights.place(fitted.height((spot.at.0, spot.at.1)), TOP);
            svg.line(*place, (place.0, fit), &[("stroke", INK), ("stroke-width", "1")]);
            let left = spot.at.1 < middle;
            let fill = if left { INK } else { "#ffffff" };
            svg.circle(
                place.0,
                place.1,
                2.8,
                &[("fill", fill), ("stroke", INK), ("stroke-width", "1.2")],
            );
            labels.mark(*place);
        }
        for (at, place) in places.iter().enumerate() {
            labels.write(&mut svg, *place, &(at + 1).to_string(), (8.0, false));
        }
    }
    let mut y = ground + 34.0;
    let legend = format!(
        "Full marks: left half, open marks: right half. Grid lines are level; {}. Full line: the plane at the left or front edge, dashed: at the right or rear edge.",
        heights.words()
    );
    y = plain(&mut svg, (8.0, y), &legend, (8.0, 484.0), SOFT) + 6.0;
    y = table(&mut svg, &spots, &fitted, y);
    let results: Vec<String> = RESULTS
        .iter()
        // Any three places lie on a plane: that they do says nothing.
        .filter(|(role, _)| *role != "residual" || spots.len() > 3)
        .filter_map(|(role, words)| Some(format!("{words} {}", told(picture.one(role)?))))
        .collect();
    let said = results.join("; ");
    y = plain(&mut svg, (8.0, y + 4.0), &capital(&said), (9.0, 484.0), INK);
    let list: Vec<String> = spots
        .iter()
        .enumerate()
        .map(|(at, spot)| {
            format!(
                "{}{} at {} along and {} across: {}, {} off the plane",
                at + 1,
                named(spot.position, at),
                spot.along.text,
                spot.across.text,
                told(spot.height),
                off(spot, &fitted)
            )
        })
        .collect();
    let results = if said.is_empty() { String::new() } else { format!(" {}.", capital(&said)) };
    let alt = format!(
        "Heights of the floor from the left side and from behind, {}. {}.{results}",
        heights.words(),
        list.join("; ")
    );
    Some(Drawn { svg: svg.finish_at(500.0, y - 4.0), alt })
}

/// The least and the greatest.
fn ends(numbers: impl Iterator<Item = f64>) -> (f64, f64) {
    numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| (low.min(it), high.max(it)))
}

/// The name of a place, where it is more than its number.
fn named(position: &str, at: usize) -> String {
    if position.is_empty() || position == (at + 1).to_string() {
        String::new()
    } else {
        format!(" {position}")
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// How far a height lies off the plane, with its sign, as finely as it was read.
fn off(spot: &Spot<'_>, fitted: &Fitted) -> String {
    let off = spot.at.2 - fitted.height((spot.at.0, spot.at.1));
    let figures = spot.height.text.split(' ').next().unwrap_or("");
    let decimals = figures.split_once('.').map_or(0, |(_, after)| after.len()).max(2);
    let text = format!("{off:+.decimals$}");
    let none = text.chars().all(|it| matches!(it, '+' | '-' | '0' | '.'));
    let text = if none { text.trim_start_matches(['+', '-']).to_owned() } else { text };
    format!("{text} {}", spot.height.unit)
}

fn heading(svg: &mut Svg, first: &Spot<'_>, side: (f64, f64), behind: (f64, f64)) {
    let strong = [("font-size", "9"), ("fill", SOFT), ("font-weight", "600")];
    let unit = &first.along.unit;
    svg.words((8.0, 12.0), &format!("From the left side, front to the left; {unit}"), &strong);
    let at_end =
        [("font-size", "9"), ("fill", SOFT), ("font-weight", "600"), ("text-anchor", "end")];
    if behind.0 - side.0 > 230.0 {
        svg.words((494.0, 12.0), &format!("From behind; {unit}"), &at_end);
    } else {
        svg.words((494.0, 12.0), "From behind", &at_end);
    }
    svg.words((8.0, 26.0), &first.height.unit, &[("font-size", "8"), ("fill", SOFT)]);
}

/// A line on the page.
type Line = ((f64, f64), (f64, f64));

/// The plane's two edges in a view; gives their lines.
fn draw_plane(
    svg: &mut Svg,
    heights: &Heights,
    fitted: &Fitted,
    (left, right): (f64, f64),
    edges: [Line; 2],
) -> [Line; 2] {
    let ends = edges.map(|(from, to)| {
        let at = |place| heights.place(fitted.height(place), TOP);
        (at(from), at(to))
    });
    let path = format!(
        "M{l} {}L{r} {}L{r} {}L{l} {}Z",
        number(ends[0].0),
        number(ends[0].1),
        number(ends[1].1),
        number(ends[1].0),
        l = number(left),
        r = number(right)
    );
    svg.path(&path, &[("fill", "#e3eaf2")]);
    for (ends, dashes) in ends.into_iter().zip(["none", "5 3"]) {
        svg.line(
            (left, ends.0),
            (right, ends.1),
            &[("stroke", SOFT), ("stroke-width", "1.2"), ("stroke-dasharray", dashes)],
        );
    }
    ends.map(|(from, to)| ((left, from), (right, to)))
}

const COLUMNS: [(f64, &str, f64); 5] = [
    (8.0, "Place", 150.0),
    (168.0, "Along", 70.0),
    (246.0, "Across", 70.0),
    (324.0, "Height", 70.0),
    (402.0, "Off the plane", 92.0),
];

fn table(svg: &mut Svg, spots: &[Spot<'_>], fitted: &Fitted, top: f64) -> f64 {
    let mut y = top + 4.0;
    for (x, head, _) in COLUMNS {
        svg.words((x, y), head, &[("font-size", "8.5"), ("fill", SOFT), ("font-weight", "600")]);
    }
    y += 4.0;
    svg.line((8.0, y), (492.0, y), &[("stroke", SOFT), ("stroke-width", "0.7")]);
    y += 10.0;
    for (at, spot) in spots.iter().enumerate().take(MOST_ROWS) {
        let cells = [
            format!("{}{}", at + 1, named(spot.position, at)),
            spot.along.text.clone(),
            spot.across.text.clone(),
            spot.height.text.clone(),
            off(spot, fitted),
        ];
        for ((x, _, most), text) in COLUMNS.iter().zip(cells) {
            svg.words((*x, y), &shortened(&text, 9.0, *most), &[("font-size", "9"), ("fill", INK)]);
        }
        y += 11.5;
    }
    if spots.len() > MOST_ROWS {
        let further = format!("and {} further places", spots.len() - MOST_ROWS);
        for line in wrapped(&further, 8.5, 480.0) {
            svg.words((8.0, y), &line, &[("font-size", "8.5"), ("fill", SOFT)]);
            y += 11.5;
        }
    }
    y
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use crate::content::Verdict;

    use super::super::checks::{assert_tidy, value};
    use super::*;

    fn picture(spots: &[(&str, f64, f64, f64)], units: (&str, &str)) -> Picture {
        let mut shown: BTreeMap<String, Vec<Shown>> = BTreeMap::new();
        for (position, along, across, height) in spots {
            for (role, number, unit) in [
                ("along", along, units.0),
                ("across", across, units.0),
                ("height", height, units.1),
            ] {
                let one = value(position, *number, unit, Verdict::NoLimit);
                shown.entry(role.to_owned()).or_default().push(one);
            }
        }
        shown.insert("tilt".to_owned(), vec![value("", 0.18, "deg", Verdict::NoLimit)]);
        Picture { shown, ..Picture::default() }
    }

    const CORNERS: [(&str, f64, f64, f64); 4] = [
        ("1", 0.0, 0.0, 0.0),
        ("2", 0.0, 8.0, 0.25),
        ("3", 32.0, 0.0, -0.5),
        ("right rear", 32.0, 8.0, -0.25),
    ];

    /// The corners lie in one plane: 0.5 in down over 32 ft, 0.25 in up over 8 ft.
    #[test]
    fn the_plane_through_four_corners_passes_through_them() {
        let drawn = draw(&picture(&CORNERS, ("ft", "in")), &Phrases::default()).unwrap();
        assert_tidy(&drawn.svg);
        for words in [
            "heights drawn 100 times as large as lengths",
            "1 at 0 ft along and 0 ft across: 0 in, 0.00 in off the plane",
            "4 right rear at 32 ft along and 8 ft across: -0.25 in, 0.00 in off the plane",
            "Steepest tilt of the plane 0.18 deg",
        ] {
            assert!(drawn.alt.contains(words), "{words} in {}", drawn.alt);
        }
    }

    /// 35 by 10 ft share 398, 8.84 a foot: the rear stands 283.02 behind the front. Heights from −0.6 to 0.4 in are
    /// 0.0254 m, at 29.02 a metre and 100 times 73.70 high: −0.5 in stands 0.9 of that below the top.
    #[test]
    fn a_mark_stands_where_the_scales_say() {
        let drawn = draw(&picture(&CORNERS, ("ft", "in")), &Phrases::default()).unwrap();
        let mark = format!("<circle cx=\"331.02\" cy=\"{}\"", number(TOP + 0.9 * 73.7037));
        assert!(drawn.svg.contains(&mark), "{mark} in {}", drawn.svg);
    }

    #[test]
    fn a_place_off_the_plane_says_how_far_and_which_way() {
        let mut spots = CORNERS.to_vec();
        spots[3].3 = 0.15;
        let drawn = draw(&picture(&spots, ("ft", "in")), &Phrases::default()).unwrap();
        // Lifting one of four corners by 0.4 leaves each a quarter of it off, in turn.
        assert!(drawn.alt.contains("0.15 in, +0.10 in off the plane"), "{}", drawn.alt);
        assert!(drawn.alt.contains("-0.5 in, -0.10 in off the plane"), "{}", drawn.alt);
    }

    #[test]
    fn metres_and_millimetres_equal_heights_and_many_places_stay_tidy() {
        let many: Vec<(String, f64, f64, f64)> = (0..40_u8)
            .map(|at| {
                let n = f64::from(at);
                (
                    format!("under the bed of the bunk room, {at}"),
                    (n * 0.31) % 9.0,
                    n % 3.0,
                    n % 7.0,
                )
            })
            .collect();
        let many: Vec<(&str, f64, f64, f64)> =
            many.iter().map(|(name, x, y, z)| (name.as_str(), *x, *y, *z)).collect();
        let flat: Vec<(&str, f64, f64, f64)> =
            CORNERS.iter().map(|(name, x, y, _)| (*name, *x, *y, 2.0)).collect();
        let square = [("a", 0.0, 0.0, 1.0), ("b", 0.1, 3.0, 2.0), ("c", 0.0, 3.0, 9.0)];
        for spots in [&many[..], &flat[..], &square[..]] {
            assert_tidy(&draw(&picture(spots, ("m", "mm")), &Phrases::default()).unwrap().svg);
        }
    }

    #[test]
    fn too_few_places_a_line_and_mixed_units_are_not_drawn() {
        assert_eq!(draw(&picture(&CORNERS[..2], ("ft", "in")), &Phrases::default()), None);
        let line = [("1", 0.0, 0.0, 0.0), ("2", 4.0, 0.0, 0.1), ("3", 8.0, 0.0, 0.2)];
        assert_eq!(draw(&picture(&line, ("ft", "in")), &Phrases::default()), None);
        let mut mixed = picture(&CORNERS, ("ft", "in"));
        mixed.shown.get_mut("height").unwrap()[1].unit = "mm".to_owned();
        assert_eq!(draw(&mixed, &Phrases::default()), None);
    }
}
