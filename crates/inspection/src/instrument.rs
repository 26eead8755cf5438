//! The inspector's instruments, with the spec sheet that gives a reading its uncertainty.

use jiff::civil::Date;

/// One instrument.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instrument {
    /// What it is: `multimeter`, `manometer`, `tread gauge`.
    pub kind: String,
    /// Name or model, as the inspector calls it.
    pub name: String,
    /// Serial number.
    pub serial: String,
    /// Accuracy: part of the reading, in percent.
    pub percent_of_reading: f64,
    /// Accuracy: counts of the last digit.
    pub counts: f64,
    /// Smallest step it shows, as typed with its unit: `0.1 V`. Empty if unknown.
    pub resolution: String,
    /// When it was last calibrated.
    pub calibrated: Option<Date>,
    /// When the calibration runs out.
    pub calibration_due: Option<Date>,
}
