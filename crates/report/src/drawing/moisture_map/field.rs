//! The coloured field between the readings: for each band the ground on which the surface is not below its edge.

use formulas::moisture::MoistureSurface;
use quantity::{Length, Quantity, Unit};

use super::super::Svg;
use super::panel::Frame;
use super::scale::Scale;

/// How far apart the surface is asked, up and along.
const LINE: f64 = 3.0;
const STEP: f64 = 4.0;
const TENTHS: &str = "scale(.1)";

/// Draws the field in its frame: the driest band over the whole hull, the wetter ones upon it.
pub(super) fn draw(
    svg: &mut Svg,
    surface: &MoistureSurface,
    unit: &Unit,
    frame: &Frame,
    scale: &Scale,
) {
    let hull = hull(surface, unit, frame);
    svg.path(&closed(hull.iter().copied()), &[("transform", TENTHS), ("fill", &scale.colour(0))]);
    let lines = lines(surface, unit, frame, &hull);
    for band in 1..scale.bands() {
        let path = ground(&lines, &hull, scale.edges[band]);
        if !path.is_empty() {
            svg.path(&path, &[("transform", TENTHS), ("fill", &scale.colour(band))]);
        }
    }
}

fn hull(surface: &MoistureSurface, unit: &Unit, frame: &Frame) -> Vec<(f64, f64)> {
    let corners = surface.corners().into_iter();
    corners
        .map(|(along, up)| frame.place(unit.from_base(along.base()), unit.from_base(up.base())))
        .collect()
}

/// An outline as a path in tenths, each corner told from the one before: finer nobody sees, and it keeps the drawing
/// small.
fn closed(places: impl Iterator<Item = (f64, f64)>) -> String {
    let tenths = |length: f64| (length * 10.0).round() + 0.0;
    let mut path = String::new();
    let mut last = (0.0, 0.0);
    for (x, y) in thinned(places) {
        let (x, y) = (tenths(x), tenths(y));
        if path.is_empty() {
            path.push_str(&format!("M{x} {y}"));
        } else if (x, y) != last {
            path.push_str(&format!("l{} {}", x - last.0, y - last.1));
        }
        last = (x, y);
    }
    path.push('z');
    path
}

/// An outline without the corners that lie within a hair of the straight line between those that stay.
fn thinned(places: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    const HAIR: f64 = 0.12;
    let mut kept: Vec<(f64, f64)> = Vec::new();
    let mut skipped: Vec<(f64, f64)> = Vec::new();
    for place in places {
        if let Some(from) = kept.last() {
            let near = |at: &(f64, f64)| off_line(*at, *from, place) < HAIR;
            if !skipped.iter().all(near)
                && let Some(last) = skipped.pop()
            {
                kept.push(last);
                skipped.clear();
            }
            skipped.push(place);
        } else {
            kept.push(place);
        }
    }
    kept.extend(skipped.pop());
    kept
}

/// How far a place lies from the stretch between two others.
fn off_line((x, y): (f64, f64), (x1, y1): (f64, f64), (x2, y2): (f64, f64)) -> f64 {
    let (across, down) = (x2 - x1, y2 - y1);
    let length = across * across + down * down;
    if length == 0.0 {
        return f64::INFINITY;
    }
    let part = (((x - x1) * across + (y - y1) * down) / length).clamp(0.0, 1.0);
    let (dx, dy) = (x - x1 - part * across, y - y1 - part * down);
    (dx * dx + dy * dy).sqrt()
}

/// What the surface is at places along a line across the hull.
#[derive(Clone, Debug)]
pub(super) struct Line {
    y: f64,
    pub samples: Vec<(f64, f64)>,
}

/// A stretch of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stretch {
    from: f64,
    to: f64,
}

impl Stretch {
    fn touches(self, other: Self) -> bool {
        self.from <= other.to && other.from <= self.to
    }

    /// Its middle, where ground tapers off.
    fn tip(self) -> Self {
        let middle = self.from.midpoint(self.to);
        Self { from: middle, to: middle }
    }
}

impl Line {
    /// The stretches on which the surface is at least this.
    fn not_below(&self, edge: f64) -> Vec<Stretch> {
        let mut stretches: Vec<Stretch> = Vec::new();
        if let [(x, value)] = self.samples.as_slice()
            && *value >= edge
        {
            stretches.push(Stretch { from: *x, to: *x });
        }
        for pair in self.samples.windows(2) {
            let [(x1, v1), (x2, v2)] = [pair[0], pair[1]];
            let cross = || x1 + (edge - v1) / (v2 - v1) * (x2 - x1);
            let (from, to) = match (v1 >= edge, v2 >= edge) {
                (true, true) => (x1, x2),
                (true, false) => (x1, cross()),
                (false, true) => (cross(), x2),
                (false, false) => continue,
            };
            match stretches.last_mut() {
                Some(last) if from - last.to < 1e-6 => last.to = to,
                _ => stretches.push(Stretch { from, to }),
            }
        }
        stretches
    }
}

/// Ground that one stretch after the other covers, from the top down.
struct Piece {
    left: Vec<(f64, f64)>,
    right: Vec<(f64, f64)>,
    last: Stretch,
}

impl Piece {
    fn at(stretch: Stretch, y: f64) -> Self {
        Self { left: vec![(stretch.from, y)], right: vec![(stretch.to, y)], last: stretch }
    }

    fn grow(&mut self, stretch: Stretch, y: f64) {
        self.left.push((stretch.from, y));
        self.right.push((stretch.to, y));
        self.last = stretch;
    }

    fn path(&self) -> String {
        closed(self.left.iter().copied().chain(self.right.iter().rev().copied()))
    }
}

/// The ground not below an edge, as paths: stretches that follow each other alone are joined; where ground begins, ends,
/// parts or meets, the pieces end half way between the two lines.
fn ground(lines: &[Line], hull: &[(f64, f64)], edge: f64) -> String {
    let mut path = String::new();
    let mut open: Vec<Piece> = Vec::new();
    let mut above = None;
    for line in lines {
        let stretches = line.not_below(edge);
        let half = above.map_or(line.y, |above: f64| above.midpoint(line.y));
        // Between the lines too nothing may leave the hull.
        let held = |stretch: Stretch| {
            across(hull, half).map_or(stretch, |(left, right)| Stretch {
                from: stretch.from.max(left).min(right),
                to: stretch.to.min(right).max(left),
            })
        };
        let heirs: Vec<Option<usize>> =
            open.iter().map(|piece| heir(piece, &open, &stretches)).collect();
        let mut next = Vec::new();
        for (at, stretch) in stretches.iter().enumerate() {
            if !heirs.contains(&Some(at)) {
                let grounded = open.iter().any(|piece| piece.last.touches(*stretch));
                let first = if grounded { *stretch } else { stretch.tip() };
                let mut piece = Piece::at(held(first), half);
                piece.grow(*stretch, line.y);
                next.push(piece);
            }
        }
        for (mut piece, heir) in std::mem::take(&mut open).into_iter().zip(heirs) {
            if let Some(at) = heir {
                piece.grow(stretches[at], line.y);
                next.push(piece);
            } else {
                let grounded = stretches.iter().any(|stretch| piece.last.touches(*stretch));
                piece.grow(held(if grounded { piece.last } else { piece.last.tip() }), half);
                path.push_str(&piece.path());
            }
        }
        open = next;
        above = Some(line.y);
    }
    for piece in open {
        path.push_str(&piece.path());
    }
    path
}

/// The stretch that goes on a piece: each touches the other alone.
fn heir(piece: &Piece, open: &[Piece], stretches: &[Stretch]) -> Option<usize> {
    let mut touched = (0..stretches.len()).filter(|at| piece.last.touches(stretches[*at]));
    let (first, second) = (touched.next()?, touched.next());
    let alone = open.iter().filter(|other| other.last.touches(stretches[first])).count() == 1;
    (alone && second.is_none()).then_some(first)
}

/// The lines across the hull from its top to its bottom; every corner is on one.
pub(super) fn lines(
    surface: &MoistureSurface,
    unit: &Unit,
    frame: &Frame,
    hull: &[(f64, f64)],
) -> Vec<Line> {
    let mut heights: Vec<f64> = hull.iter().map(|(_, y)| *y).collect();
    let top = heights.iter().copied().fold(f64::INFINITY, f64::min);
    let bottom = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut y = top + LINE;
    while y < bottom {
        heights.push(y);
        y += LINE;
    }
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|one, other| (*one - *other).abs() < 0.05);
    heights
        .into_iter()
        .filter_map(|y| {
            let (left, right) = across(hull, y)?;
            let length = |it: f64| Length::from_base(unit.to_base(it));
            let samples = places(left, right)
                .into_iter()
                .filter_map(|x| {
                    let (along, up) = frame.read(x, y);
                    Some((x, surface.shown_at(length(along), length(up))?))
                })
                .collect();
            Some(Line { y, samples })
        })
        .collect()
}

/// Places from left to right, both ends among them.
fn places(left: f64, right: f64) -> Vec<f64> {
    if right - left < 0.1 {
        return vec![left.midpoint(right)];
    }
    let mut places = Vec::new();
    let mut x = left;
    while x < right - 0.05 {
        places.push(x);
        x += STEP;
    }
    places.push(right);
    places
}

/// Where a horizontal line enters and leaves a convex outline.
fn across(hull: &[(f64, f64)], y: f64) -> Option<(f64, f64)> {
    let next = hull.iter().cycle().skip(1);
    let mut crossings = Vec::new();
    for ((x1, y1), (x2, y2)) in hull.iter().zip(next) {
        if (y1 - y2).abs() < 1e-9 {
            if (y1 - y).abs() < 1e-9 {
                crossings.extend([*x1, *x2]);
            }
        } else if (y1.min(*y2)..=y1.max(*y2)).contains(&y) {
            crossings.push(x1 + (y - y1) / (y2 - y1) * (x2 - x1));
        }
    }
    let left = crossings.iter().copied().fold(f64::INFINITY, f64::min);
    let right = crossings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (left <= right).then_some((left, right))
}
