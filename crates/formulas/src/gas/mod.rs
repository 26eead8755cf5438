//! Liquefied petroleum gas: pressure, contents, dates, leaks and flow.
//!
//! Symbols: p pressure, T absolute temperature, V volume, t time, q flow at standard conditions (60 °F and
//! one atmosphere), D inside diameter, L length, ΔH pressure drop, WC water capacity, TW tare weight.

mod contents_by_weight;
mod cylinder_capacity;
mod pressure_decay;
mod propane;
mod saturation_pressure;

pub use contents_by_weight::{contents_by_weight, filled_fraction};
pub use cylinder_capacity::cylinder_capacity;
pub use pressure_decay::{TrappedGas, leak_free_end_pressure, pressure_decay};
pub use saturation_pressure::saturation_pressure;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &saturation_pressure::FORMULA,
    &cylinder_capacity::FORMULA,
    &contents_by_weight::FORMULA,
    &pressure_decay::FORMULA,
];
