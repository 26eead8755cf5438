//! Heights drawn much larger than lengths: the scales of both, and how much larger.

use quantity::{Kind, units::find_of};

use super::axis::Axis;
use super::lettering::width;
use super::{SOFT, Svg};

const GRID: &str = "#e7eaee";

/// The scales of a profile.
pub(super) struct Heights {
    /// The heights that are drawn.
    pub(super) axis: Axis,
    /// How many times larger heights are drawn than lengths; none where the lengths are not known.
    pub(super) exaggeration: Option<f64>,
    /// Room that the axis takes on the page.
    pub(super) high: f64,
}

impl Heights {
    /// The scales for these heights, where a metre of length is `length` long on the page: exaggerated by a round
    /// number, as much as `most` of room allows. None where there is no number, or the unit is no length.
    pub(super) fn fitting(
        heights: impl IntoIterator<Item = f64>,
        unit: &str,
        length: Option<f64>,
        most: f64,
    ) -> Option<Self> {
        let axis = Axis::covering(heights, 4.0)?;
        let Some(length) = length else {
            return Some(Self { axis, exaggeration: None, high: most });
        };
        let metres = find_of(Kind::Length, unit)?.step() * (axis.to - axis.from);
        let same = metres * length;
        let exaggeration = round_below(most / same)?;
        Some(Self { axis, exaggeration: Some(exaggeration), high: same * exaggeration })
    }

    /// Where a height stands in a view whose upper edge is here.
    pub(super) fn place(&self, height: f64, top: f64) -> f64 {
        self.axis.place(height, (top + self.high, top))
    }

    /// Grid lines, which are level, with their labels to the left.
    pub(super) fn grid(&self, svg: &mut Svg, (left, right): (f64, f64), top: f64, labelled: bool) {
        let mut free = f64::INFINITY;
        for tick in self.axis.ticks() {
            let y = self.place(tick, top);
            svg.line((left, y), (right, y), &[("stroke", GRID), ("stroke-width", "0.8")]);
            if labelled && y + 5.0 < free {
                let quiet = [("font-size", "8"), ("fill", SOFT), ("text-anchor", "end")];
                svg.words((left - 5.0, y + 2.8), &self.axis.label(tick), &quiet);
                free = y - 5.0;
            }
        }
    }

    /// That heights are drawn larger than they are.
    pub(super) fn words(&self) -> String {
        match self.exaggeration {
            Some(times) if times > 1.0 => {
                format!("heights drawn {times} times as large as lengths")
            }
            Some(times) if times < 1.0 => {
                format!("heights drawn {times} times as large as lengths")
            }
            Some(_) => "heights and lengths to the same scale".to_owned(),
            None => "places in their order, not to scale".to_owned(),
        }
    }
}

/// The largest of 1, 1.5, 2, 3, 4, 5, 6 and 8 times a power of ten that is not above.
fn round_below(value: f64) -> Option<f64> {
    if !(value.is_finite() && value > 0.0) {
        return None;
    }
    let written = format!("{value:e}");
    let (_, power) = written.split_once('e')?;
    let steps = ["8", "6", "5", "4", "3", "2", "1.5", "1"]
        .map(|digit| format!("{digit}e{power}").parse::<f64>().ok());
    steps.into_iter().flatten().find(|step| *step <= value * (1.0 + 1e-9))
}

/// A scale of lengths below a view, with as many labels as have room.
pub(super) fn lengths(svg: &mut Svg, axis: &Axis, ends: (f64, f64), y: f64) {
    svg.line((ends.0, y), (ends.1, y), &[("stroke", SOFT), ("stroke-width", "0.8")]);
    let mut free = f64::NEG_INFINITY;
    for tick in axis.ticks() {
        let x = axis.place(tick, ends);
        svg.line((x, y), (x, y + 3.0), &[("stroke", SOFT), ("stroke-width", "0.8")]);
        let label = axis.label(tick);
        let half = width(&label, 8.0) / 2.0;
        if x - half > free {
            let quiet = [("font-size", "8"), ("fill", SOFT), ("text-anchor", "middle")];
            svg.words((x, y + 11.5), &label, &quiet);
            free = x + half + 4.0;
        }
    }
}

/// A metre of this unit on a page where the unit is this long.
pub(super) fn per_metre(unit: &str, length: f64) -> Option<f64> {
    Some(length / find_of(Kind::Length, unit)?.step())
}

/// Labels that find room beside their marks.
pub(super) struct Labels {
    taken: Vec<[f64; 4]>,
    lines: Vec<[f64; 4]>,
    bounds: [f64; 4],
}

impl Labels {
    /// For labels inside these bounds: left, top, right, bottom.
    pub(super) fn within(bounds: [f64; 4]) -> Self {
        Self { taken: Vec::new(), lines: Vec::new(), bounds }
    }

    /// Keeps a mark free of labels.
    pub(super) fn mark(&mut self, (x, y): (f64, f64)) {
        self.taken.push([x - 3.2, y - 3.2, x + 3.2, y + 3.2]);
    }

    /// Keeps labels off a line, as long as there is another place for them.
    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64)) {
        let (x, y) = (to.0 - from.0, to.1 - from.1);
        let steps = (x.abs().max(y.abs()) / 3.0).ceil().clamp(1.0, 200.0);
        let mut step = 0.0;
        while step <= steps {
            let (x, y) = (from.0 + x * step / steps, from.1 + y * step / steps);
            self.lines.push([x - 1.0, y - 1.0, x + 1.0, y + 1.0]);
            step += 1.0;
        }
    }

    /// Writes a label where it touches nothing, above its mark or below it first; none where there is no such place.
    /// Says whether it did.
    pub(super) fn write(
        &mut self,
        svg: &mut Svg,
        (x, y): (f64, f64),
        text: &str,
        (size, below): (f64, bool),
    ) -> bool {
        let (wide, high) = (width(text, size) + 2.0, size + 1.0);
        let (above, under) = (y - 5.0 - high, y + 5.0);
        let (first, then) = if below { (under, above) } else { (above, under) };
        let beside = [
            (x - wide / 2.0, first),
            (x - wide / 2.0, then),
            (x + 5.0, y - high / 2.0),
            (x - 5.0 - wide, y - high / 2.0),
            (x + 3.0, y - 4.0 - high),
            (x - 3.0 - wide, y - 4.0 - high),
            (x + 3.0, y + 4.0),
            (x - 3.0 - wide, y + 4.0),
            (x - 3.0 - wide, y + 10.0),
            (x + 3.0, y - 10.0 - high),
        ];
        let room = beside.map(|(left, top)| [left, top, left + wide, top + high]);
        let inside = |room: &[f64; 4]| {
            room[0] >= self.bounds[0]
                && room[1] >= self.bounds[1]
                && room[2] <= self.bounds[2]
                && room[3] <= self.bounds[3]
                && self.taken.iter().all(|other| apart(room, other))
        };
        let free: Vec<[f64; 4]> = room.into_iter().filter(inside).collect();
        let clear = |room: &&[f64; 4]| self.lines.iter().all(|line| apart(room, line));
        let free = free.iter().find(clear).or(free.first()).copied();
        let Some(room) = free else { return false };
        let points = size.to_string();
        svg.words(
            (room[0] + 1.0, room[3] - 2.0),
            text,
            &[("font-size", &points), ("fill", super::INK)],
        );
        self.taken.push(room);
        true
    }
}

fn apart(one: &[f64; 4], other: &[f64; 4]) -> bool {
    one[2] <= other[0] || other[2] <= one[0] || one[3] <= other[1] || other[3] <= one[1]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_exaggeration_is_a_round_number_that_fits() {
        // 0 to 1 in is 0.0254 m; at 10 a metre 0.254 on the page; 90 of room allow 354 times.
        let heights = Heights::fitting([0.0, 1.0], "in", Some(10.0), 90.0).unwrap();
        assert_eq!(heights.exaggeration, Some(300.0));
        assert!((heights.high - 76.2).abs() < 1e-9, "{}", heights.high);
        assert!((heights.place(0.25, 20.0) - (20.0 + 0.75 * 76.2)).abs() < 1e-9);
        assert_eq!(heights.words(), "heights drawn 300 times as large as lengths");
    }

    #[test]
    fn a_millimetre_and_an_inch_are_drawn_alike() {
        let inches = Heights::fitting([0.0, 1.0], "in", Some(10.0), 90.0).unwrap();
        let metric = Heights::fitting([0.0, 25.4], "mm", Some(10.0), 90.0).unwrap();
        let place = |heights: &Heights, height| {
            heights.place(heights.axis.from, 0.0) - heights.place(height, 0.0)
        };
        let (one, other) = (place(&inches, 1.0), place(&metric, 25.4));
        let times = inches.exaggeration.unwrap() / metric.exaggeration.unwrap();
        assert!((one - times * other).abs() < 1e-6, "{one} {other} {times}");
    }

    #[test]
    fn a_label_leaves_a_line_free_and_takes_it_only_where_nothing_else_is() {
        let written = |blocked: bool| {
            let mut svg = Svg::new(100.0, 100.0);
            let mut labels = Labels::within([0.0, 0.0, 100.0, 100.0]);
            labels.mark((50.0, 50.0));
            // Straight up from the mark: the first place, above it, is on the line.
            labels.line((50.0, 50.0), (50.0, 0.0));
            if blocked {
                for y in [35.0, 42.0, 50.0, 58.0, 66.0] {
                    labels.line((0.0, y), (100.0, y));
                }
            }
            assert!(labels.write(&mut svg, (50.0, 50.0), "40", (8.0, false)));
            svg.finish()
        };
        assert!(written(false).contains("y=\"62\""), "{}", written(false));
        assert!(written(true).contains("y=\"43\""), "{}", written(true));
    }

    #[test]
    fn what_is_no_length_has_no_scale() {
        assert!(Heights::fitting([0.0, 1.0], "psi", Some(10.0), 90.0).is_none());
        assert!(Heights::fitting([f64::NAN], "in", Some(10.0), 90.0).is_none());
        assert!(Heights::fitting([0.0, 1.0], "in", Some(0.0), 90.0).is_none());
        assert_eq!(Heights::fitting([0.0, 1.0], "in", None, 90.0).unwrap().exaggeration, None);
    }
}
