//! Weights: the tongue, the axles and their shares of the gross.

mod tongue_percent;

pub use tongue_percent::tongue_percent;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&tongue_percent::FORMULA];
