//! Air and heat: moist air, what conditioning gives, what surfaces and walls do.
//!
//! Symbols: t dry bulb, t* wet bulb, t_d dew point, φ relative humidity, W humidity ratio, h enthalpy,
//! v volume, p pressure, q flow, Q heat, U conductance, A area, P perimeter.

mod capacity;
mod economy_temperature;
mod exponential;
mod heat_loss;
mod moist_air;
mod refrigerator;
mod rise;
mod state;
mod surface;

pub use economy_temperature::economy_temperature;
pub use heat_loss::heat_loss;
pub use refrigerator::settled;
pub use rise::{rise, rise_flow};
pub use state::{AirState, Humidity, state, states};
pub use surface::{SurfaceState, surface, temperature_factor};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &state::FORMULA,
    &capacity::FORMULA,
    &rise::FORMULA,
    &surface::FORMULA,
    &heat_loss::FORMULA,
    &economy_temperature::FORMULA,
    &refrigerator::FORMULA,
];
