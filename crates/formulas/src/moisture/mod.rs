//! Moisture: what wood holds, and how readings lie on a wall.
//!
//! Symbols: H relative humidity, T temperature, W, K, K₁, K₂ coefficients of sorption; x, y places on a wall,
//! z a reading there.

mod equilibrium;
mod map;
mod panel;
mod surface;

pub use equilibrium::equilibrium;
pub use map::map;
pub use panel::OnPanel;
pub use surface::MoistureSurface;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&equilibrium::FORMULA, &map::FORMULA];
