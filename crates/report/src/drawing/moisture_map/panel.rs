//! One wall, floor or roof with its readings.

use formulas::moisture::{MoistureSurface, OnPanel};
use quantity::{Length, Quantity, Unit};

use crate::content::Shown;

use super::super::axis::Axis;
use super::super::lettering::shortened;
use super::super::{INK, SOFT, Svg, number};
use super::labels::letter;
use super::scale::Scale;
use super::{UNREAD, block, capital, field};

/// Fewer readings than this show little of a surface.
const FEW: usize = 5;
/// Room for the numbers of the axes at the left and right, and for the name above and the numbers below.
const ROOM: (f64, f64, f64, f64) = (30.0, 20.0, 20.0, 16.0);

/// A reading at its place, in the panel's unit.
pub(super) struct Dot<'a> {
    pub along: f64,
    pub up: f64,
    pub value: f64,
    pub shown: &'a Shown,
}

pub(super) struct Panel<'a> {
    pub name: String,
    pub dots: Vec<Dot<'a>>,
    unit: &'static Unit,
}

impl<'a> Panel<'a> {
    /// The panels in the order in which they first come up. A panel's places are drawn in the unit of its first.
    pub(super) fn all(readings: &'a [Shown]) -> Vec<Self> {
        let mut panels: Vec<Self> = Vec::new();
        let scale = |shown: &Shown| shown.unit.clone();
        let first = readings.iter().find(|shown| OnPanel::read(&shown.position).is_ok()).map(scale);
        for shown in readings {
            // Numbers of two scales never come into one map.
            let value =
                shown.number.filter(|it| it.is_finite() && Some(&shown.unit) == first.as_ref());
            let (Ok(place), Some(value)) = (OnPanel::read(&shown.position), value) else {
                continue;
            };
            let at = panels.iter().position(|panel| panel.name == place.panel);
            let at = at.unwrap_or_else(|| {
                panels.push(Self { name: place.panel.clone(), dots: Vec::new(), unit: place.unit });
                panels.len() - 1
            });
            if let Some(panel) = panels.get_mut(at) {
                let along = panel.unit.from_base(place.along.base());
                let up = panel.unit.from_base(place.up.base());
                panel.dots.push(Dot { along, up, value, shown });
            }
        }
        panels
    }

    /// The surface through its readings; none for too few, or readings on one line.
    pub(super) fn surface(&self) -> Option<MoistureSurface> {
        let length = |it: f64| Length::from_base(self.unit.to_base(it));
        let readings: Vec<(Length, Length, f64)> =
            self.dots.iter().map(|dot| (length(dot.along), length(dot.up), dot.value)).collect();
        MoistureSurface::through(&readings).ok()
    }

    /// What a reader must know of how little there is.
    pub(super) fn remark(&self) -> Option<&'static str> {
        if self.surface().is_none() {
            Some("too few readings, or all on one line: nothing is drawn between them")
        } else if self.dots.len() < FEW {
            Some("fewer than five readings show little of a surface")
        } else {
            None
        }
    }

    /// Draws it with its upper left corner here, in at most this room. Gives its lower end and how many dots have no
    /// number beside them.
    pub(super) fn draw(
        &self,
        svg: &mut Svg,
        corner: (f64, f64),
        room: (f64, f64),
        scale: &Scale,
    ) -> Option<(f64, usize)> {
        let frame = Frame::around(&self.dots, corner, room)?;
        frame.draw(svg, &self.name, self.unit.symbol());
        if let Some(surface) = self.surface() {
            field::draw(svg, &surface, self.unit, &frame, scale);
        }
        frame.line(svg);
        let dots: Vec<((f64, f64), &Shown)> =
            self.dots.iter().map(|dot| (frame.place(dot.along, dot.up), dot.shown)).collect();
        svg.open_group(&[("fill", "#ffffff"), ("stroke", INK), ("stroke-width", "1.2")]);
        for ((x, y), _) in &dots {
            svg.circle(*x, *y, 2.6, &[]);
        }
        svg.close_group();
        let without = letter(svg, &dots, frame.bounds());
        Some((frame.bottom + ROOM.3, without))
    }
}

/// Where places of a panel lie in the drawing; along and up in the same proportion.
pub(super) struct Frame {
    x: Axis,
    y: Axis,
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Frame {
    pub(super) fn around(
        dots: &[Dot<'_>],
        (x, y): (f64, f64),
        (width, height): (f64, f64),
    ) -> Option<Self> {
        let range = |numbers: &dyn Fn(&Dot<'_>) -> f64| {
            dots.iter().map(numbers).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| {
                (low.min(it), high.max(it))
            })
        };
        let (along, up) = (range(&|dot| dot.along), range(&|dot| dot.up));
        // A row of readings still lies on a panel of some height; a single one in the middle of a little of it.
        let span = (along.1 - along.0).max(up.1 - up.0);
        let least = if span > 0.0 { span / 4.0 } else { (along.1.max(up.1) / 2.0).max(1e-3) };
        let wide = |(low, high): (f64, f64)| {
            let more = (least - (high - low)).max(0.0) / 2.0;
            let from = (low - more).max(0.0);
            // The panel's own edge is shown where it is near.
            [if from < high / 3.0 { 0.0 } else { from }, high + more]
        };
        let (x_axis, y_axis) =
            (Axis::covering(wide(along), width / 60.0)?, Axis::covering(wide(up), 4.0)?);
        let (spans_x, spans_y) = (x_axis.to - x_axis.from, y_axis.to - y_axis.from);
        let most = (width - ROOM.0 - ROOM.1, height - ROOM.2 - ROOM.3);
        let step = (most.0 / spans_x).min(most.1 / spans_y);
        let (left, top) = (x + ROOM.0, y + ROOM.2);
        Some(Self {
            x: x_axis,
            y: y_axis,
            left,
            right: left + spans_x * step,
            top,
            bottom: top + spans_y * step,
        })
    }

    /// Where a place of the panel lies in the drawing.
    pub(super) fn place(&self, along: f64, up: f64) -> (f64, f64) {
        (self.x.place(along, (self.left, self.right)), self.y.place(up, (self.bottom, self.top)))
    }

    /// Which place of the panel lies here in the drawing.
    pub(super) fn read(&self, x: f64, y: f64) -> (f64, f64) {
        let part = (x - self.left) / (self.right - self.left);
        let rise = (self.bottom - y) / (self.bottom - self.top);
        (
            self.x.from + part * (self.x.to - self.x.from),
            self.y.from + rise * (self.y.to - self.y.from),
        )
    }

    /// Upper left and lower right corner.
    fn bounds(&self) -> [f64; 4] {
        [self.left, self.top, self.right, self.bottom]
    }

    fn draw(&self, svg: &mut Svg, name: &str, unit: &str) {
        let size = (self.right - self.left, self.bottom - self.top);
        block(svg, (self.left, self.top), size, UNREAD);
        let name = shortened(&capital(name), 9.5, 200.0);
        svg.words(
            (self.left, self.top - 7.0),
            &name,
            &[("font-size", "9.5"), ("fill", INK), ("font-weight", "600")],
        );
        let quiet = [("font-size", "8"), ("fill", SOFT)];
        for tick in self.y.ticks() {
            let (_, y) = self.place(self.x.from, tick);
            svg.line(
                (self.left - 3.0, y),
                (self.left, y),
                &[("stroke", SOFT), ("stroke-width", "0.7")],
            );
            let mut end = quiet.to_vec();
            end.push(("text-anchor", "end"));
            svg.words((self.left - 5.0, y + 2.8), &self.y.label(tick), &end);
        }
        let mut last = f64::NEG_INFINITY;
        for tick in self.x.ticks() {
            let (x, _) = self.place(tick, self.y.from);
            svg.line(
                (x, self.bottom),
                (x, self.bottom + 3.0),
                &[("stroke", SOFT), ("stroke-width", "0.7")],
            );
            if x - last > 16.0 {
                let mut middle = quiet.to_vec();
                middle.push(("text-anchor", "middle"));
                svg.words((x, self.bottom + 11.0), &self.x.label(tick), &middle);
                last = x;
            }
        }
        svg.words((self.right + 6.0, self.bottom + 11.0), unit, &quiet);
    }

    /// The line around it.
    fn line(&self, svg: &mut Svg) {
        let path = format!(
            "M{} {}H{}V{}H{}Z",
            number(self.left),
            number(self.top),
            number(self.right),
            number(self.bottom),
            number(self.left)
        );
        svg.path(&path, &[("fill", "none"), ("stroke", SOFT), ("stroke-width", "0.8")]);
    }
}
