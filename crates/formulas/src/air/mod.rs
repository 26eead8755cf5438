//! Air and heat: moist air, what conditioning gives, what surfaces and walls do.
//!
//! Symbols: t dry bulb, t* wet bulb, t_d dew point, φ relative humidity, W humidity ratio, h enthalpy,
//! v volume, p pressure, q flow, Q heat, U conductance, A area.

mod moist_air;
mod state;

pub use state::{AirState, Humidity, state};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&state::FORMULA];
