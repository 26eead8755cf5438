//! The unit from above with numbered pins: front to the left, its left side below.

use plan::Phrases;

use crate::content::{Finding, Outline, Place, Side};

use super::super::{INK, SOFT, Svg, number};
use super::{UnitView, list, pins};

const WIDTH: f64 = 500.0;
const MARGIN_X: f64 = 22.0;
const MARGIN_Y: f64 = 32.0;
const DRAWBAR: f64 = 52.0;

/// Draws the outline and a pin for each finding that has a place.
pub(super) fn view(findings: &[Finding], outline: &Outline, say: &Phrases) -> UnitView {
    let frame = Frame::new(outline);
    let size = (WIDTH, frame.bottom + MARGIN_Y);
    let mut svg = Svg(String::new(), say.clone());
    frame.draw(&mut svg, outline);
    let placed = findings
        .iter()
        .enumerate()
        .filter_map(|(at, finding)| Some((at + 1, finding, frame.point(finding.place?))));
    let pins = pins::place(placed, size);
    let alt = say.say_with(
        "Plan view of the unit, {length} long and {width} wide, front to the left, with findings: {list}.",
        &[
            ("length", &outline.length_words),
            ("width", &outline.width_words),
            ("list", &list(&pins, say)),
        ],
    );
    UnitView {
        name: "plan",
        title: say.say("from above"),
        alt,
        width: size.0,
        height: size.1,
        pins,
        drawn: svg.0,
    }
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
        self.draw_wheels(svg, outline);
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
        let door = outline.door_side.zip(outline.door_along);
        // A door is drawn only where both record and plan say where it is.
        if let Some((side, along)) = door {
            let y = match side {
                Side::Left => self.bottom,
                Side::Right => self.top,
            };
            let middle = self.left + along * length;
            svg.line(
                (middle - 15.0, y),
                (middle + 15.0, y),
                &[("stroke", INK), ("stroke-width", "6"), ("fill", "none")],
            );
        }
        let named = |side, words: &str| {
            let has_door = door.is_some_and(|(door, _)| door == side);
            if has_door { format!("{words} · door at the thick line") } else { words.to_owned() }
        };
        let quiet = [("font-size", "9"), ("fill", SOFT), ("text-anchor", "middle")];
        let centre = f64::midpoint(self.left, self.right);
        svg.words((centre, self.top - 14.0), &named(Side::Right, "right side"), &quiet);
        let size = format!("{} long, {} wide", outline.length_words, outline.width_words);
        let left = named(Side::Left, "left side");
        // The line cannot wrap; words that would run out of the drawing stand with the unit's facts.
        let foot = if size.chars().count() > 60 { left } else { format!("{left} · {size}") };
        svg.words((centre, self.bottom + 26.0), &foot, &quiet);
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

    fn draw_wheels(&self, svg: &mut Svg, outline: &Outline) {
        let (wheel_length, wheel_width) = (24.0, 9.0);
        for axle in 0..outline.axles {
            let middle = self.left + outline.axle_along(axle) * (self.right - self.left);
            for y in [self.top - wheel_width + 3.0, self.bottom - 3.0] {
                svg.element(
                    "rect",
                    &[
                        ("x", &number(middle - wheel_length / 2.0)),
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
