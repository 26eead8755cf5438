//! Mains: the supply behind an outlet, its wiring, its protection and its load.
//!
//! Symbols: V voltage, I current, Z impedance, R resistance, P power, θ angle between two legs, T time,
//! f frequency.

mod drop;
mod gfci_time;
mod receptacle_pattern;

pub use drop::{VoltageDrop, drop};
pub use gfci_time::gfci_time;
pub use receptacle_pattern::{ReceptaclePattern, receptacle_pattern};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] =
    &[&receptacle_pattern::FORMULA, &drop::FORMULA, &gfci_time::FORMULA];
