//! Potable water: flow, friction, leaks, tanks, disinfection and hot water.
//!
//! Symbols: Q flow, d inside diameter, C roughness coefficient of Hazen and Williams, p pressure,
//! V volume, D diameter, r radius, L length, h depth, ρ density, μ viscosity, η efficiency.

mod bleach_dose;
mod bucket_flow;
mod expansion;
mod fixture_flow;
mod flow_at_pressure;
mod friction;
mod friction_darcy;
mod gauge_error;
mod hot_water;
mod properties;
mod pump_leak;
mod scald_time;
mod tanks;
mod trapped_leak;

pub use bleach_dose::bleach_dose;
pub use bucket_flow::{bucket_flow, timing_error};
pub use expansion::expansion_share;
pub use fixture_flow::fixture_flow;
pub use flow_at_pressure::{Restriction, flow_at_pressure};
pub use friction::{friction, head_loss, head_pressure, speed};
pub use friction_darcy::{friction_darcy, friction_factor, reynolds_number};
pub use gauge_error::{coarseness_of_lamps, gauge_error};
pub use hot_water::{first_hour, heat_up_time, hot_fraction, recovery};
pub use pump_leak::{accumulator_drawdown, pump_leak};
pub use scald_time::scald_time;
pub use tanks::{Lean, box_tank, cylinder_tank, filled_fraction, leaning_cylinder, upright_tank};
pub use trapped_leak::trapped_leak;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &bucket_flow::FORMULA,
    &fixture_flow::FORMULA,
    &flow_at_pressure::FORMULA,
    &friction::FORMULA,
    &friction_darcy::FORMULA,
    &pump_leak::FORMULA,
    &trapped_leak::FORMULA,
    &tanks::BOX,
    &tanks::CYLINDER,
    &tanks::UPRIGHT,
    &gauge_error::FORMULA,
    &bleach_dose::FORMULA,
    &scald_time::FORMULA,
    &hot_water::RECOVERY,
    &hot_water::HEAT_UP,
    &hot_water::FIRST_HOUR,
    &hot_water::MIX,
    &expansion::FORMULA,
];
