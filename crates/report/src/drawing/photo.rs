//! A photo in its frame: a small SVG that links the photo's file and draws the marks over it.
//!
//! The typesetter hands a linked JPEG to the PDF byte for byte, without decoding it.

use crate::content::{Mark, Point};

use super::{HELD, Svg, number};

/// The frame for a photo of this size in pixels. `file` is the name beside the frame's own file, `id` the photo's hash.
#[must_use]
pub fn photo(file: &str, id: &str, (width, height): (u16, u16), marks: &[Mark]) -> String {
    let (width, height) = (f64::from(width), f64::from(height));
    let mut svg = Svg::new(width, height);
    // The hash ties this text to the photo's bytes: a replaced photo is never served from a cache.
    svg.element(
        "image",
        &[
            ("id", &format!("photo-{id}")),
            ("width", &number(width)),
            ("height", &number(height)),
            ("href", file),
        ],
    );
    draw_marks(&mut svg, (width, height), marks);
    svg.finish()
}

/// The marks alone, to lie over a photo of this size in pixels; none where it has no marks.
#[must_use]
pub fn marks((width, height): (u16, u16), marks: &[Mark]) -> Option<String> {
    if marks.is_empty() {
        return None;
    }
    let size = (f64::from(width), f64::from(height));
    let mut svg = Svg::new(size.0, size.1);
    draw_marks(&mut svg, size, marks);
    Some(super::for_the_web(&svg.finish()))
}

fn draw_marks(svg: &mut Svg, (width, height): (f64, f64), marks: &[Mark]) {
    let pen = width.max(height) / 160.0;
    for mark in marks {
        match mark {
            Mark::Arrow { from, to } => {
                let path = arrow(scaled(*from, width, height), scaled(*to, width, height), pen);
                cased(svg, &path, pen);
            }
            Mark::Box { from, to } => {
                let (a, b) = (scaled(*from, width, height), scaled(*to, width, height));
                let path = format!(
                    "M{x0} {y0}H{x1}V{y1}H{x0}Z",
                    x0 = number(a.0),
                    y0 = number(a.1),
                    x1 = number(b.0),
                    y1 = number(b.1)
                );
                cased(svg, &path, pen);
            }
            Mark::Circle { from, to } => {
                let (a, b) = (scaled(*from, width, height), scaled(*to, width, height));
                cased(svg, &ellipse(a, b), pen);
            }
            Mark::Words { at, text } => {
                let place = scaled(*at, width, height);
                let anchor = if at.x > 0.6 { "end" } else { "start" };
                let size = number(pen * 6.5);
                let casing = number(pen * 1.6);
                let common =
                    [("font-size", size.as_str()), ("font-weight", "600"), ("text-anchor", anchor)];
                let mut under = common.to_vec();
                under.extend([
                    ("fill", "#ffffff"),
                    ("stroke", "#ffffff"),
                    ("stroke-width", &casing),
                    ("stroke-linejoin", "round"),
                ]);
                svg.words(place, text, &under);
                let mut over = common.to_vec();
                over.push(("fill", HELD));
                svg.words(place, text, &over);
            }
        }
    }
}

fn scaled(point: Point, width: f64, height: f64) -> (f64, f64) {
    (point.x * width, point.y * height)
}

/// A line with a white casing, to be seen on light and dark grounds and in black-and-white print.
fn cased(svg: &mut Svg, path: &str, pen: f64) {
    for (colour, width) in [("#ffffff", pen * 2.0), (HELD, pen)] {
        svg.path(
            path,
            &[
                ("fill", "none"),
                ("stroke", colour),
                ("stroke-width", &number(width)),
                ("stroke-linecap", "round"),
                ("stroke-linejoin", "round"),
            ],
        );
    }
}

/// The ellipse that touches the sides of the rectangle between two corners, in two arcs.
fn ellipse(a: (f64, f64), b: (f64, f64)) -> String {
    let radii = format!("{} {}", number((a.0 - b.0).abs() / 2.0), number((a.1 - b.1).abs() / 2.0));
    let (left, right) = (number(a.0.min(b.0)), number(a.0.max(b.0)));
    let middle = number(f64::midpoint(a.1, b.1));
    format!("M{left} {middle}A{radii} 0 0 1 {right} {middle}A{radii} 0 0 1 {left} {middle}Z")
}

fn arrow(from: (f64, f64), to: (f64, f64), pen: f64) -> String {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = (dx * dx + dy * dy).sqrt();
    let shaft = format!("M{} {}L{} {}", number(from.0), number(from.1), number(to.0), number(to.1));
    if length < 1.0 {
        return shaft;
    }
    let (ux, uy) = (dx / length, dy / length);
    let barb = pen * 5.0;
    let side =
        |turn: f64| (to.0 - barb * (ux - turn * 0.6 * uy), to.1 - barb * (uy + turn * 0.6 * ux));
    let (left, right) = (side(1.0), side(-1.0));
    format!(
        "{shaft}M{} {}L{} {}L{} {}",
        number(left.0),
        number(left.1),
        number(to.0),
        number(to.1),
        number(right.0),
        number(right.1)
    )
}
