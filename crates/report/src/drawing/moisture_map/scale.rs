//! The colours of a moisture map: light is dry, dark is wet, in even steps that grey and colour-blind eyes tell apart.

use super::super::axis::Axis;
use super::super::{INK, SOFT, Svg};
use super::{UNREAD, block};

/// Above this a pin meter's percentage says no more than "saturated".
pub(super) const SATURATED: f64 = 30.0;
/// From light to dark; lightness falls from step to step.
const RAMP: [(f64, f64, f64); 5] = [
    (250.0, 243.0, 214.0),
    (178.0, 214.0, 205.0),
    (94.0, 163.0, 184.0),
    (52.0, 98.0, 147.0),
    (30.0, 36.0, 84.0),
];

/// Bands between round numbers, each with its colour.
pub(super) struct Scale {
    /// Lower edge of each band, and the upper edge of the last.
    pub edges: Vec<f64>,
    labels: Vec<String>,
    /// Whether the last band has no upper end.
    open: bool,
    unit: String,
}

impl Scale {
    /// Bands that cover these numbers; none if there are none.
    pub(super) fn covering(numbers: impl Iterator<Item = f64>, unit: &str) -> Option<Self> {
        let axis = Axis::covering(numbers, 9.0)?;
        let mut edges = axis.ticks();
        let open = unit == "%" && axis.to > SATURATED;
        if open {
            edges.retain(|edge| *edge < SATURATED);
            if edges.is_empty() {
                edges.push(SATURATED - 1.0);
            }
            edges.extend([SATURATED, axis.to]);
        }
        let labels = edges.iter().map(|edge| axis.label(*edge)).collect();
        Some(Self { edges, labels, open, unit: unit.to_owned() })
    }

    /// How many bands.
    pub(super) fn bands(&self) -> usize {
        self.edges.len().saturating_sub(1)
    }

    /// The colour of a band, from 0.
    pub(super) fn colour(&self, band: usize) -> String {
        let count = |it: usize| f64::from(u16::try_from(it).unwrap_or(u16::MAX));
        let most = count(self.bands().saturating_sub(1)).max(1.0);
        let place = (count(band) / most).min(1.0) * 4.0;
        let at = RAMP.windows(2).zip([0.0, 1.0, 2.0, 3.0]).rev();
        let (low, high, part) = at
            .into_iter()
            .find(|(_, from)| *from <= place)
            .map_or((RAMP[0], RAMP[1], 0.0), |(pair, from)| (pair[0], pair[1], place - from));
        let mix = |low: f64, high: f64| low + (high - low) * part;
        format!(
            "#{:02x}{:02x}{:02x}",
            byte(mix(low.0, high.0)),
            byte(mix(low.1, high.1)),
            byte(mix(low.2, high.2))
        )
    }

    /// Draws the bands in a row; gives the baseline that follows.
    pub(super) fn legend(&self, svg: &mut Svg, y: f64) -> f64 {
        let quiet = [("font-size", "8.5"), ("fill", SOFT)];
        let head = if self.unit == "%" { "Moisture, %" } else { "Meter's own scale" };
        svg.words((2.0, y + 8.0), head, &quiet);
        let mut x = 92.0;
        let width = (300.0 / f64::from(u16::try_from(self.bands()).unwrap_or(u16::MAX))).min(36.0);
        for band in 0..self.bands() {
            block(svg, (x, y), (width, 10.0), &self.colour(band));
            let last = band + 1 == self.bands();
            let mut middle = vec![("font-size", "8.5"), ("fill", INK), ("text-anchor", "middle")];
            if let Some(label) = self.labels.get(band) {
                svg.words((x, y + 19.5), label, &middle);
            }
            x += width;
            if last {
                let label = if self.open {
                    Some("and more")
                } else {
                    self.labels.last().map(String::as_str)
                };
                if self.open {
                    middle.pop();
                }
                if let Some(label) = label {
                    svg.words((if self.open { x - 22.0 } else { x }, y + 19.5), label, &middle);
                }
            }
        }
        x += 34.0;
        block(svg, (x, y), (18.0, 10.0), UNREAD);
        svg.words((x + 23.0, y + 8.0), "not read", &quiet);
        y + 36.0
    }
}

/// A colour's part from 0 to 255.
fn byte(part: f64) -> u8 {
    let rounded = part.round();
    (0..=u8::MAX).find(|byte| f64::from(*byte) >= rounded).unwrap_or(u8::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lightness(colour: &str) -> f64 {
        let part = |at: usize| f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap());
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    }

    #[test]
    fn each_band_is_clearly_darker_than_the_one_before() {
        for numbers in [[9.0, 27.0], [11.0, 12.0], [8.0, 46.0], [0.0, 980.0]] {
            let scale = Scale::covering(numbers.into_iter(), "%").unwrap();
            let bands = scale.bands();
            assert!((2..=11).contains(&bands), "{bands} bands");
            for band in 1..bands {
                let step = lightness(&scale.colour(band - 1)) - lightness(&scale.colour(band));
                assert!(step > 10.0, "{numbers:?}, band {band}: {step}");
            }
        }
    }

    #[test]
    fn percentages_above_saturation_share_one_open_band() {
        let scale = Scale::covering([9.0, 46.0].into_iter(), "%").unwrap();
        assert!((scale.edges[scale.bands() - 1] - SATURATED).abs() < 1e-9);
        assert!(scale.open);
        let relative = Scale::covering([9.0, 46.0].into_iter(), "").unwrap();
        assert!(!relative.open);
    }
}
