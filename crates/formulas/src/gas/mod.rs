//! Liquefied petroleum gas: pressure, contents, dates, leaks and flow.

mod saturation_pressure;

pub use saturation_pressure::saturation_pressure;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&saturation_pressure::FORMULA];
