//! The numbers beside the dots of a moisture map, where they touch neither each other nor another dot.

use crate::content::Shown;

use super::super::lettering::width;
use super::super::words::gravity;
use super::super::{INK, Sign, Svg, number, sign};

const SIZE: f64 = 8.5;
const HIGH: f64 = 10.5;

/// A rectangle: left, top, right, bottom.
type Room = [f64; 4];

fn apart(one: Room, other: Room) -> bool {
    one[2] <= other[0] || other[2] <= one[0] || one[3] <= other[1] || other[3] <= one[1]
}

/// Writes the numbers; gives how many found no room. The gravest are written first.
pub(super) fn letter(svg: &mut Svg, dots: &[((f64, f64), &Shown)], bounds: Room) -> usize {
    let mut taken: Vec<Room> =
        dots.iter().map(|((x, y), _)| [x - 3.2, y - 3.2, x + 3.2, y + 3.2]).collect();
    let mut order: Vec<&((f64, f64), &Shown)> = dots.iter().collect();
    order.sort_by_key(|(_, shown)| std::cmp::Reverse(gravity(shown.verdict)));
    let mut without = 0;
    let mut written: Vec<(Room, &str, Option<Sign>)> = Vec::new();
    for (place, shown) in order {
        // The unit stands in the legend.
        let text = shown.text.strip_suffix(&shown.unit).unwrap_or(&shown.text).trim_end();
        let signed = gravity(shown.verdict) > 2;
        let wide = width(text, SIZE) + 3.0 + if signed { 9.5 } else { 0.0 };
        let Some(room) = rooms(*place, wide)
            .into_iter()
            .find(|room| within(*room, bounds) && taken.iter().all(|other| apart(*room, *other)))
        else {
            without += 1;
            continue;
        };
        taken.push(room);
        written.push((room, text, signed.then(|| Sign::of(shown.verdict))));
    }
    let mut blocks = String::new();
    for ([left, top, right, bottom], _, _) in &written {
        let (x, y, x2, y2) = (number(*left), number(*top), number(*right), number(*bottom));
        blocks.push_str(&format!("M{x} {y}H{x2}V{y2}H{x}Z"));
    }
    if !blocks.is_empty() {
        svg.path(&blocks, &[("fill", "#ffffff")]);
    }
    let mut defined: Vec<Sign> = Vec::new();
    for sign_of in written.iter().filter_map(|(_, _, sign_of)| *sign_of) {
        if !defined.contains(&sign_of) {
            svg.define(sign_of.name(), &sign(sign_of));
            defined.push(sign_of);
        }
    }
    svg.open_group(&[("font-family", "IBM Plex Sans"), ("fill", INK)]);
    for ([left, top, _, bottom], text, sign_of) in written {
        let mut x = left + 1.5;
        if let Some(sign_of) = sign_of {
            svg.again(sign_of.name(), (x - 0.5, top + 1.2));
            x += 9.5;
        }
        svg.words_of_group((x, bottom - 2.4), text, "8.5");
    }
    svg.close_group();
    without
}

/// Where a number may stand beside its dot, the best first.
fn rooms((x, y): (f64, f64), wide: f64) -> [Room; 8] {
    let (gap, half) = (4.5, HIGH / 2.0);
    let at = |left: f64, top: f64| [left, top, left + wide, top + HIGH];
    [
        at(x + gap, y - half),
        at(x - gap - wide, y - half),
        at(x - wide / 2.0, y - gap - HIGH),
        at(x - wide / 2.0, y + gap),
        at(x + 3.0, y - gap - HIGH),
        at(x - 3.0 - wide, y - gap - HIGH),
        at(x + 3.0, y + gap),
        at(x - 3.0 - wide, y + gap),
    ]
}

/// Inside the panel, or a little over its edge.
fn within(room: Room, bounds: Room) -> bool {
    room[0] >= bounds[0] - 4.0
        && room[1] >= bounds[1] - 5.0
        && room[2] <= bounds[2] + 14.0
        && room[3] <= bounds[3] + 1.0
}

#[cfg(test)]
mod tests {
    use crate::content::Verdict;

    use super::*;

    fn shown(text: &str, verdict: Verdict) -> Shown {
        Shown {
            position: String::new(),
            number: Some(1.0),
            uncertainty: None,
            unit: "%".to_owned(),
            spread: String::new(),
            text: text.to_owned(),
            verdict,
            bounds: Vec::new(),
        }
    }

    #[test]
    fn numbers_that_would_touch_are_left_out_and_counted_the_gravest_kept() {
        let (dry, wet) = (shown("11 %", Verdict::NoLimit), shown("27 %", Verdict::BeyondGuidance));
        let mut dots: Vec<((f64, f64), &Shown)> = vec![((50.0, 50.0), &dry); 30];
        dots.push(((50.0, 50.0), &wet));
        let mut svg = Svg::new(100.0, 100.0);
        let without = letter(&mut svg, &dots, [0.0, 0.0, 100.0, 100.0]);
        let svg = svg.finish();
        assert!(svg.contains(">27<"), "{svg}");
        let written = svg.matches(">11<").count();
        assert!(written > 0 && written + without == 30, "{written} and {without}");
    }
}
