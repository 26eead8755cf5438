//! What tests of drawings ask of each: nothing leaves it, no words touch others.

use crate::content::{Shown, Verdict};

use super::lettering::width;

/// A value in a drawing.
pub(super) fn value(position: &str, number: f64, unit: &str, verdict: Verdict) -> Shown {
    Shown {
        position: position.to_owned(),
        number: Some(number),
        uncertainty: None,
        unit: unit.to_owned(),
        spread: String::new(),
        text: format!("{number} {unit}").trim().to_owned(),
        verdict,
        bounds: Vec::new(),
    }
}

/// Words in a drawing.
pub(super) fn said(position: &str, text: &str, verdict: Verdict) -> Shown {
    Shown { number: None, text: text.to_owned(), ..value(position, 0.0, "", verdict) }
}

/// A value with its standard uncertainty.
pub(super) fn within(shown: Shown, uncertainty: f64) -> Shown {
    Shown { uncertainty: Some(uncertainty), ..shown }
}

/// Left, top, right and bottom of each text, and the text.
fn texts(svg: &str) -> Vec<([f64; 4], String)> {
    let number = |element: &str, name: &str| {
        let (_, rest) = element.split_once(&format!(" {name}=\""))?;
        rest.split_once('"')?.0.parse::<f64>().ok()
    };
    let elements = svg.split("<text").skip(1);
    elements
        .map(|element| {
            let (head, rest) = element.split_once('>').unwrap();
            let text = rest.split_once('<').unwrap().0.replace("&apos;", "'").replace("&amp;", "&");
            let (x, y) = (number(head, "x").unwrap(), number(head, "y").unwrap());
            let size = number(head, "font-size").unwrap();
            assert!(size >= 8.0, "{text} is {size} high");
            let wide = width(&text, size);
            let left = if head.contains("\"middle\"") {
                x - wide / 2.0
            } else if head.contains("\"end\"") {
                x - wide
            } else {
                x
            };
            ([left, y - 0.72 * size, left + wide, y + 0.2 * size], text)
        })
        .collect()
}

/// No text leaves the drawing, and none touches another.
pub(super) fn assert_tidy(svg: &str) {
    let size = svg.split_once("viewBox=\"0 0 ").unwrap().1.split_once('"').unwrap().0;
    let (wide, high) = size.split_once(' ').unwrap();
    let (wide, high): (f64, f64) = (wide.parse().unwrap(), high.parse().unwrap());
    let texts = texts(svg);
    for (at, (room, text)) in texts.iter().enumerate() {
        let [left, top, right, bottom] = *room;
        assert!(
            left >= -0.5 && top >= -0.5 && right <= wide + 0.5 && bottom <= high + 0.5,
            "`{text}` leaves the drawing of {wide} by {high}: {room:?}"
        );
        for (other, said) in &texts[at + 1..] {
            let apart =
                right <= other[0] || other[2] <= left || bottom <= other[1] || other[3] <= top;
            assert!(apart, "`{text}` {room:?} touches `{said}` {other:?}");
        }
    }
}
