//! Freezing: how long standing water lasts in an insulated pipe, and the heat that protects it.
//!
//! Symbols: D₁ inside and D₂ outside diameter of the pipe, D₃ diameter over the insulation, k its conductivity,
//! R its resistance, tᵢ temperature of the water, tₐ of the air, t_f of freezing.
//!
//! The air's temperature is always that of a thermometer: wind chill is about skin, and no pipe gets colder than
//! the air around it.

mod heat_trace;
mod insulated_pipe;
mod time_to_freezing;

pub use heat_trace::{conducted_heat, heat_trace};
pub use insulated_pipe::Insulation;
pub use time_to_freezing::{FreezingTimes, time_to_freezing};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&time_to_freezing::FORMULA, &heat_trace::FORMULA];
