//! Moisture: what wood holds, and how readings lie on a wall.
//!
//! Symbols: H relative humidity, T temperature, W, K, K₁, K₂ coefficients of sorption; x, y places on a wall,
//! z a reading there.

mod corrected;
mod equilibrium;
mod map;
mod panel;
mod relative;
mod screen;
mod surface;

pub use corrected::corrected;
pub use equilibrium::equilibrium;
pub use map::map;
pub use panel::OnPanel;
pub use relative::above_dry;
pub use screen::{Material, screen};
pub use surface::MoistureSurface;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &screen::FORMULA,
    &relative::FORMULA,
    &corrected::FORMULA,
    &equilibrium::FORMULA,
    &map::FORMULA,
];
