//! Numbered pins: each at its place, or as near as its neighbours leave room, with a line to it.

use crate::content::{Finding, When};

use super::super::{HELD, INK, SOFT, Svg};

/// Radius of a pin.
const RADIUS: f64 = 8.5;
/// Pins stand at least this far apart, so that each can be hit by a finger.
const APART: f64 = 25.0;

/// A finding's number on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Pin {
    /// The finding's number.
    pub number: usize,
    /// The finding's title.
    pub title: String,
    /// Where the finding is, from the drawing's upper left corner.
    pub at: (f64, f64),
    /// Where its number stands.
    pub shown: (f64, f64),
    when: When,
}

impl Pin {
    /// What it stands for, in words.
    #[must_use]
    pub fn words(&self) -> String {
        format!("Finding {}: {}", self.number, self.title)
    }

    /// The line from its place to its number, under all numbers.
    pub(super) fn draw_leader(&self, svg: &mut Svg) {
        if distance(self.at, self.shown) >= 0.5 {
            svg.line(self.at, self.shown, &[("stroke", INK), ("stroke-width", "0.8")]);
            svg.circle(self.at.0, self.at.1, 1.8, &[("fill", INK)]);
        }
    }

    /// Its number.
    pub(super) fn draw(&self, svg: &mut Svg) {
        let (fill, stroke, width, colour) = match self.when {
            When::BeforeUse => (HELD, HELD, "1.4", "#ffffff"),
            When::Soon => ("#ffffff", INK, "1.8", INK),
            When::InTime => ("#ffffff", SOFT, "0.8", INK),
        };
        svg.circle(
            self.shown.0,
            self.shown.1,
            RADIUS,
            &[("fill", fill), ("stroke", stroke), ("stroke-width", width)],
        );
        let size = if self.number > 99 { "7.5" } else { "9.5" };
        svg.words(
            (self.shown.0, self.shown.1 + 3.4),
            &self.number.to_string(),
            &[
                ("font-size", size),
                ("font-weight", "600"),
                ("fill", colour),
                ("text-anchor", "middle"),
            ],
        );
    }

    /// The room around its number that belongs to it.
    pub(super) fn draw_target(&self, svg: &mut Svg) {
        let (x, y) = self.shown;
        svg.circle(x, y, APART / 2.0, &[("fill", "#ffffff"), ("fill-opacity", "0")]);
    }
}

/// Puts pins at their places inside a drawing of this size, none over another.
pub(super) fn place<'f>(
    findings: impl Iterator<Item = (usize, &'f Finding, (f64, f64))>,
    size: (f64, f64),
) -> Vec<Pin> {
    let mut pins: Vec<Pin> = Vec::new();
    let inside = |value: f64, most: f64| value.clamp(RADIUS + 1.0, most - RADIUS - 1.0);
    for (number, finding, at) in findings {
        let at = (inside(at.0, size.0), inside(at.1, size.1));
        let shown = free_spot(at, &pins, size);
        pins.push(Pin { number, title: finding.title.clone(), at, shown, when: finding.when });
    }
    pins
}

/// The place itself, or the nearest of a few rings of places around it that no earlier pin covers.
fn free_spot(at: (f64, f64), pins: &[Pin], (width, height): (f64, f64)) -> (f64, f64) {
    const DIAGONAL: f64 = std::f64::consts::FRAC_1_SQRT_2;
    const DIRECTIONS: [(f64, f64); 8] = [
        (0.0, -1.0),
        (1.0, 0.0),
        (0.0, 1.0),
        (-1.0, 0.0),
        (DIAGONAL, -DIAGONAL),
        (DIAGONAL, DIAGONAL),
        (-DIAGONAL, DIAGONAL),
        (-DIAGONAL, -DIAGONAL),
    ];
    let inside =
        |(x, y): (f64, f64)| x > RADIUS && x < width - RADIUS && y > RADIUS && y < height - RADIUS;
    let free = |spot| pins.iter().all(|pin| distance(pin.shown, spot) >= APART);
    if free(at) {
        return at;
    }
    for ring in 1..=6_u8 {
        let reach = f64::from(ring) * APART / 2.0;
        for (x, y) in DIRECTIONS {
            let spot = (at.0 + x * reach, at.1 + y * reach);
            if inside(spot) && free(spot) {
                return spot;
            }
        }
    }
    nearest_left((width, height), at, &free).unwrap_or(at)
}

/// The nearest place of a grid over the whole drawing that is still free; none where the drawing is full.
fn nearest_left(
    (width, height): (f64, f64),
    at: (f64, f64),
    free: &dyn Fn((f64, f64)) -> bool,
) -> Option<(f64, f64)> {
    const STEP: f64 = APART / 4.0;
    let mut nearest: Option<((f64, f64), f64)> = None;
    let mut y = RADIUS + 1.0;
    while y < height - RADIUS {
        let mut x = RADIUS + 1.0;
        while x < width - RADIUS {
            let far = distance(at, (x, y));
            if nearest.is_none_or(|(_, least)| far < least) && free((x, y)) {
                nearest = Some(((x, y), far));
            }
            x += STEP;
        }
        y += STEP;
    }
    nearest.map(|(spot, _)| spot)
}

fn distance(from: (f64, f64), to: (f64, f64)) -> f64 {
    let (x, y) = (from.0 - to.0, from.1 - to.1);
    (x * x + y * y).sqrt()
}
