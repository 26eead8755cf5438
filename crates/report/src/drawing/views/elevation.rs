//! The unit from one of its sides, with numbered pins: what the record knows of it, schematic and not to scale.
//!
//! The record knows no height, so the body is drawn as high as such bodies usually are; no window and no locker is drawn.

use plan::Phrases;

use crate::content::{Face, Finding, OnFace, Outline, Place, Side};

use super::super::{INK, SOFT, Svg, number};
use super::{UnitView, list, pins};

const WIDTH: f64 = 300.0;
const MARGIN: f64 = 22.0;
const DRAWBAR: f64 = 34.0;
const TOP: f64 = 28.0;
/// Height of the body in metres: about what such units have (common practice).
const USUAL_HEIGHT: f64 = 2.2;
/// From the floor of the body to the ground, and the radius of a wheel.
const CLEARANCE: f64 = 15.0;
const WHEEL: f64 = 9.0;

/// Draws a side and a pin for each finding that stands on it.
pub(super) fn view(face: Face, findings: &[Finding], outline: &Outline, say: &Phrases) -> UnitView {
    let frame = Frame::new(face, outline);
    let size = (WIDTH, frame.bottom + CLEARANCE + 24.0);
    let mut svg = Svg(String::new(), say.clone());
    frame.draw(&mut svg, outline);
    let here = findings.iter().enumerate().filter_map(|(at, finding)| {
        let side = finding.side.filter(|side| side.face == face)?;
        Some((at + 1, finding, frame.point(finding.place?, side)))
    });
    let pins = pins::place(here, size);
    let title = say.say(title(face));
    let alt = say.say_with(
        "The unit's {title}, as one sees it standing before it, schematic and not to scale, with findings: {list}.",
        &[("title", &title), ("list", &list(&pins, say))],
    );
    UnitView { name: face.word(), title, alt, width: size.0, height: size.1, pins, drawn: svg.0 }
}

fn title(face: Face) -> &'static str {
    match face {
        Face::Left => "left side",
        Face::Right => "right side",
        Face::Front => "front",
        Face::Rear => "rear",
    }
}

/// Where the body lies in the drawing.
struct Frame {
    face: Face,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Frame {
    fn new(face: Face, outline: &Outline) -> Self {
        let before = MARGIN + if outline.drawbar { DRAWBAR } else { 0.0 };
        // One scale for all four sides, so that front and rear look as narrow as they are.
        let length = WIDTH - MARGIN - before;
        let a_metre = length / outline.length_metres;
        // Very short or very long outlines stay drawable.
        let bottom = TOP + (a_metre * USUAL_HEIGHT).clamp(56.0, 96.0);
        let width = (a_metre * outline.width_metres).clamp(50.0, 110.0);
        let (left, right) = match face {
            Face::Left => (before, WIDTH - MARGIN),
            // The front of a right side is to the right.
            Face::Right => (MARGIN, WIDTH - before),
            Face::Front | Face::Rear => ((WIDTH - width) / 2.0, (WIDTH + width) / 2.0),
        };
        Self { face, left, right, top: TOP, bottom }
    }

    /// A fraction from the left edge of the drawn body, in the drawing.
    fn x(&self, place: Place) -> f64 {
        let share = match self.face {
            Face::Left => place.along,
            Face::Right => 1.0 - place.along,
            // Whoever stands before the front has the unit's right side to the left.
            Face::Front => 1.0 - place.across,
            Face::Rear => place.across,
        };
        self.left + share * (self.right - self.left)
    }

    fn point(&self, place: Place, side: OnFace) -> (f64, f64) {
        (self.x(place), self.bottom - side.height * (self.bottom - self.top))
    }

    fn draw(&self, svg: &mut Svg, outline: &Outline) {
        let ground = self.bottom + CLEARANCE;
        svg.line(
            (MARGIN / 2.0, ground),
            (WIDTH - MARGIN / 2.0, ground),
            &[("stroke", SOFT), ("stroke-width", "0.8")],
        );
        match self.face {
            Face::Left | Face::Right => self.draw_side(svg, outline),
            Face::Front | Face::Rear => self.draw_end(svg, outline),
        }
        let words = |svg: &mut Svg, at: (f64, f64), text: &str, anchor: &str| {
            svg.words(at, text, &[("font-size", "9"), ("fill", SOFT), ("text-anchor", anchor)]);
        };
        let above = self.top - 12.0;
        let (left, right) = match self.face {
            Face::Left => ("front", "rear"),
            Face::Right => ("rear", "front"),
            Face::Front => ("right side", "left side"),
            Face::Rear => ("left side", "right side"),
        };
        match self.face {
            Face::Left | Face::Right => {
                words(svg, (self.left, above), left, "start");
                words(svg, (self.right, above), right, "end");
            }
            Face::Front | Face::Rear => {
                let middle = f64::midpoint(self.top, self.bottom);
                words(svg, (self.left - 26.0, middle), left, "end");
                words(svg, (self.right + 26.0, middle), right, "start");
            }
        }
        let foot = format!("{} · schematic, not to scale", title(self.face));
        words(svg, (WIDTH / 2.0, ground + 16.0), &foot, "middle");
    }

    fn draw_side(&self, svg: &mut Svg, outline: &Outline) {
        let place = |along| self.x(Place { along, across: 0.0 });
        let front = place(0.0);
        // Towards the front, in the drawing.
        let ahead = if self.face == Face::Left { -1.0 } else { 1.0 };
        let height = self.bottom - self.top;
        if outline.drawbar {
            let tip = front + ahead * (DRAWBAR - 8.0);
            let y = self.bottom + 4.0;
            svg.line((front, y), (tip, y), &[("stroke", INK), ("stroke-width", "1.6")]);
            svg.circle(
                tip,
                y,
                3.4,
                &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.6")],
            );
        }
        let (rear, nose) = (place(1.0), place(0.24));
        let floor = if outline.raised_front { self.bottom - 0.4 * height } else { self.bottom };
        let body = format!(
            "M{front} {top}L{rear} {top}L{rear} {bottom}L{nose} {bottom}L{nose} {floor}L{front} {floor}Z",
            front = number(front),
            rear = number(rear),
            nose = number(nose),
            top = number(self.top),
            bottom = number(self.bottom),
            floor = number(floor),
        );
        let drawn = [
            ("fill", "#ffffff"),
            ("stroke", INK),
            ("stroke-width", "1.8"),
            ("stroke-linejoin", "round"),
        ];
        svg.path(&body, &drawn);
        if outline.raised_front {
            // The pin under the nose.
            let at = place(0.1);
            svg.line((at, floor), (at, floor + 8.0), &[("stroke", INK), ("stroke-width", "2.4")]);
        }
        let seen = match self.face {
            Face::Left => Side::Left,
            Face::Right | Face::Front | Face::Rear => Side::Right,
        };
        if let Some((_, along)) =
            outline.door_side.zip(outline.door_along).filter(|(side, _)| *side == seen)
        {
            self.draw_door(svg, place(along));
        }
        for axle in 0..outline.axles {
            let at = place(outline.axle_along(axle));
            let y = self.bottom + CLEARANCE - WHEEL;
            svg.circle(at, y, WHEEL, &[("fill", SOFT)]);
            svg.circle(at, y, WHEEL * 0.4, &[("fill", "#ffffff")]);
        }
    }

    fn draw_door(&self, svg: &mut Svg, at: f64) {
        let (width, height) = (18.0, 0.72 * (self.bottom - self.top));
        svg.element(
            "rect",
            &[
                ("x", &number(at - width / 2.0)),
                ("y", &number(self.bottom - height)),
                ("width", &number(width)),
                ("height", &number(height)),
                ("rx", "2"),
                ("fill", "none"),
                ("stroke", SOFT),
                ("stroke-width", "1"),
            ],
        );
        svg.words(
            (at, self.bottom - height - 4.0),
            "door",
            &[("font-size", "8"), ("fill", SOFT), ("text-anchor", "middle")],
        );
    }

    fn draw_end(&self, svg: &mut Svg, outline: &Outline) {
        let height = self.bottom - self.top;
        svg.element(
            "rect",
            &[
                ("x", &number(self.left)),
                ("y", &number(self.top)),
                ("width", &number(self.right - self.left)),
                ("height", &number(height)),
                ("rx", "3"),
                ("fill", "#ffffff"),
                ("stroke", INK),
                ("stroke-width", "1.8"),
            ],
        );
        if outline.axles > 0 {
            for x in [self.left + 5.0, self.right - 12.0] {
                svg.element(
                    "rect",
                    &[
                        ("x", &number(x)),
                        ("y", &number(self.bottom - 1.0)),
                        ("width", "7"),
                        ("height", &number(CLEARANCE + 1.0)),
                        ("rx", "2"),
                        ("fill", SOFT),
                    ],
                );
            }
        }
        if self.face != Face::Front {
            return;
        }
        let middle = f64::midpoint(self.left, self.right);
        if outline.drawbar {
            svg.circle(
                middle,
                self.bottom + 4.0,
                3.4,
                &[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.6")],
            );
        }
        if outline.raised_front {
            // The edge under the nose, behind which the lower body stands back.
            let edge = self.bottom - 0.4 * height;
            svg.line(
                (self.left, edge),
                (self.right, edge),
                &[("stroke", SOFT), ("stroke-width", "0.8"), ("stroke-dasharray", "4 3")],
            );
        }
    }
}
