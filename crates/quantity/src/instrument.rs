//! An instrument's spec sheet, turned into the standard uncertainty of a reading.

use std::fmt;

use crate::{Uncertainty, Unit, Value};

/// What a spec sheet says of a meter's accuracy.
///
/// `± (percent of reading + counts)` is taken as the half-width of a rectangular distribution
/// (JCGM 100:2008, 4.3.7), the resolution as a rectangle of one digit, and a calibration's
/// standard uncertainty is added in quadrature. Counts often include the resolution already: pass a
/// resolution of 0 and the counts in the last digit's size where the sheet says so.
#[derive(Clone, Copy, Debug)]
pub struct Specification<'a> {
    /// Part of the reading, in percent.
    pub percent: f64,
    /// Counts of the last digit.
    pub counts: f64,
    /// Size of the last digit, in `unit`.
    pub digit: f64,
    /// Standard uncertainty of the calibration, in `unit`; 0 if none is stated.
    pub calibration: f64,
    /// Unit of the digit and the calibration.
    pub unit: &'a Unit,
}

/// A spec sheet that cannot be: a negative or endless entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpecificationError;

impl fmt::Display for SpecificationError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("percent, counts, resolution and calibration must be zero or more")
    }
}

impl std::error::Error for SpecificationError {}

impl Specification<'_> {
    /// The uncertainty of a reading, in SI base units. The percentage is a gain error that all
    /// readings of the same meter (`source`, not 0) share; the rest belongs to the reading alone.
    ///
    /// # Errors
    /// If an entry is negative, endless, or the reading is of another kind than the unit.
    pub fn uncertainty(
        &self,
        reading: Value,
        source: u32,
    ) -> Result<Uncertainty, SpecificationError> {
        let entries = [self.percent, self.counts, self.digit, self.calibration];
        if entries.iter().any(|entry| !entry.is_finite() || *entry < 0.0) {
            return Err(SpecificationError);
        }
        let shown = reading.to_unit(self.unit).ok_or(SpecificationError)?.abs();
        let gain = self.percent / 100.0 * shown;
        let half_width = gain + self.counts * self.digit;
        // One digit wide, so half a digit over the square root of three.
        let variance = half_width * half_width / 3.0
            + self.digit * self.digit / 12.0
            + self.calibration * self.calibration;
        let shared_variance = gain * gain / 3.0;
        let step = self.unit.step();
        Ok(Uncertainty {
            independent: (variance - shared_variance).max(0.0).sqrt() * step,
            shared: if source == 0 { 0.0 } else { shared_variance.sqrt() * step },
            source,
        })
        .map(|uncertainty| {
            if source == 0 { Uncertainty::independent(variance.sqrt() * step) } else { uncertainty }
        })
    }
}
