//! The decision formulas.

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[];
