//! The unit from above with numbered pins: front to the left, its left side below.

use crate::content::{Content, Outline, Place, Side, When};

use super::{HELD, INK, SOFT, Svg, number};

const WIDTH: f64 = 500.0;
const MARGIN_X: f64 = 22.0;
const MARGIN_Y: f64 = 32.0;
const DRAWBAR: f64 = 52.0;
const PIN: f64 = 8.5;

/// The plan view of one report.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanView {
    /// The drawing.
    pub svg: String,
    /// What it shows, in words.
    pub alt: String,
    /// Numbers of the findings that have no place on it.
    pub unplaced: Vec<usize>,
}

/// Draws the outline and a pin for each finding that has a place.
#[must_use]
pub fn plan_view(content: &Content, outline: &Outline) -> PlanView {
    let frame = Frame::new(outline);
    let mut svg = Svg::new(WIDTH, frame.bottom + MARGIN_Y);
    frame.draw(&mut svg, outline);

    let mut unplaced = Vec::new();
    let mut pins: Vec<Pin> = Vec::new();
    let mut words = Vec::new();
    for (index, finding) in content.findings.iter().enumerate() {
        let finding_number = index + 1;
        let Some(place) = finding.place else {
            unplaced.push(finding_number);
            continue;
        };
        let at = frame.point(place);
        let shown = free_spot(at, &pins, &frame);
        pins.push(Pin { number: finding_number, at, shown, when: finding.when });
        words.push(format!("{finding_number} {}", finding.title));
    }
    for pin in &pins {
        pin.draw_leader(&mut svg);
    }
    for pin in &pins {
        pin.draw(&mut svg);
    }
    let list = if words.is_empty() { "no findings placed".into() } else { words.join("; ") };
    let alt = format!(
        "Plan view of the unit, {} long and {} wide, front to the left, with findings: {list}.",
        outline.length_words, outline.width_words
    );
    PlanView { svg: svg.finish(), alt, unplaced }
}

/// Where the body lies in the drawing.
struct Frame {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Frame {
    fn new(outline: &Outline) -> Self {
        let left = MARGIN_X + if outline.drawbar { DRAWBAR } else { 0.0 };
        let right = WIDTH - MARGIN_X;
        // Very short or very long outlines stay drawable: the plan view shows places, it is not measured from.
        let height =
            ((right - left) * outline.width_metres / outline.length_metres).clamp(70.0, 190.0);
        Self { left, right, top: MARGIN_Y, bottom: MARGIN_Y + height }
    }

    fn point(&self, place: Place) -> (f64, f64) {
        (
            self.left + place.along * (self.right - self.left),
            self.bottom - place.across * (self.bottom - self.top),
        )
    }

    fn draw(&self, svg: &mut Svg, outline: &Outline) {
        let middle = f64::midpoint(self.top, self.bottom);
        let length = self.right - self.left;
        self.draw_wheels(svg, outline.axles);
        if outline.drawbar {
            let tip = self.left - DRAWBAR + 6.0;
            let path = format!(
                "M{left} {}L{tip} {middle}L{left} {}",
                number(middle - 26.0),
                number(middle + 26.0),
                left = number(self.left),
                tip = number(tip),
                middle = number(middle)
            );
            svg.path(&path, &[("fill", "none"), ("stroke", INK), ("stroke-width", "1.6")]);
            svg.circle(
                tip,
                middle,
                4.0,
                &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.6")],
            );
        }
        svg.element(
            "rect",
            &[
                ("x", &number(self.left)),
                ("y", &number(self.top)),
                ("width", &number(length)),
                ("height", &number(self.bottom - self.top)),
                ("rx", "7"),
                ("fill", "#ffffff"),
                ("stroke", INK),
                ("stroke-width", "1.8"),
            ],
        );
        let (door_y, door_words) = match outline.door_side {
            Side::Left => (self.bottom, self.bottom + 26.0),
            Side::Right => (self.top, self.top - 14.0),
        };
        let door = (self.left + 0.3 * length, self.left + 0.3 * length + 30.0);
        svg.line(
            (door.0, door_y),
            (door.1, door_y),
            &[("stroke", INK), ("stroke-width", "6"), ("fill", "none")],
        );
        let quiet = [("font-size", "9"), ("fill", SOFT), ("text-anchor", "middle")];
        svg.words((f64::midpoint(door.0, door.1), door_words), "door", &quiet);
        svg.words((f64::midpoint(self.left, self.right), self.top - 14.0), "right side", &quiet);
        let size = format!("{} long, {} wide", outline.length_words, outline.width_words);
        // The line cannot wrap; words that would run out of the drawing stand with the unit's facts.
        let foot = if size.chars().count() > 60 {
            "left side".to_owned()
        } else {
            format!("left side · {size}")
        };
        svg.words((f64::midpoint(self.left, self.right), self.bottom + 26.0), &foot, &quiet);
        svg.words(
            (self.left, self.top - 14.0),
            "front",
            &[("font-size", "9"), ("fill", SOFT), ("text-anchor", "start")],
        );
        svg.words(
            (self.right, self.top - 14.0),
            "rear",
            &[("font-size", "9"), ("fill", SOFT), ("text-anchor", "end")],
        );
    }

    fn draw_wheels(&self, svg: &mut Svg, axles: u8) {
        let (wheel_length, wheel_width, gap) = (26.0, 9.0, 5.0);
        let group = f64::from(axles) * (wheel_length + gap);
        // The axles of a trailer stand a little behind the middle of its body.
        let first = self.left + 0.56 * (self.right - self.left) - group / 2.0;
        for axle in 0..axles {
            let x = first + f64::from(axle) * (wheel_length + gap);
            for y in [self.top - wheel_width + 3.0, self.bottom - 3.0] {
                svg.element(
                    "rect",
                    &[
                        ("x", &number(x)),
                        ("y", &number(y)),
                        ("width", &number(wheel_length)),
                        ("height", &number(wheel_width)),
                        ("rx", "2.5"),
                        ("fill", SOFT),
                    ],
                );
            }
        }
    }
}

struct Pin {
    number: usize,
    at: (f64, f64),
    shown: (f64, f64),
    when: When,
}

impl Pin {
    fn draw_leader(&self, svg: &mut Svg) {
        if distance(self.at, self.shown) < 0.5 {
            return;
        }
        svg.line(self.at, self.shown, &[("stroke", INK), ("stroke-width", "0.8")]);
        svg.circle(self.at.0, self.at.1, 1.8, &[("fill", INK)]);
    }

    fn draw(&self, svg: &mut Svg) {
        let (fill, stroke, width, colour) = match self.when {
            When::BeforeUse => (HELD, HELD, "1.4", "#ffffff"),
            When::Soon => ("#ffffff", INK, "1.8", INK),
            When::InTime => ("#ffffff", SOFT, "0.8", INK),
        };
        svg.circle(
            self.shown.0,
            self.shown.1,
            PIN,
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
}

/// The place itself, or the nearest of a few rings of places around it that no earlier pin covers.
fn free_spot(at: (f64, f64), pins: &[Pin], frame: &Frame) -> (f64, f64) {
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
    let inside = |(x, y): (f64, f64)| {
        x > PIN && x < WIDTH - PIN && y > PIN && y < frame.bottom + MARGIN_Y - PIN
    };
    let free = |spot| pins.iter().all(|pin| distance(pin.shown, spot) >= 2.0 * PIN + 2.0);
    if free(at) {
        return at;
    }
    for ring in 1..=20_u8 {
        let reach = f64::from(ring) * (PIN + 3.0);
        for (x, y) in DIRECTIONS {
            let spot = (at.0 + x * reach, at.1 + y * reach);
            if inside(spot) && free(spot) {
                return spot;
            }
        }
    }
    at
}

fn distance(from: (f64, f64), to: (f64, f64)) -> f64 {
    let (x, y) = (from.0 - to.0, from.1 - to.1);
    (x * x + y * y).sqrt()
}
