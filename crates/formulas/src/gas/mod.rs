//! Liquefied petroleum gas: pressure, contents, dates, leaks and flow.
//!
//! Symbols: p pressure, T absolute temperature, V volume, t time, q flow at standard conditions (60 °F and
//! one atmosphere), D inside diameter, L length, ΔH pressure drop, WC water capacity, TW tare weight.

mod accumulation_time;
mod air_free_co;
mod air_free_co_by_co2;
mod air_leak_as_propane;
mod co_alarm_response;
mod contents_by_weight;
mod cylinder_capacity;
mod cylinder_marks;
mod demand;
mod leak_check_least;
mod leak_free_pressure;
mod liquid_level;
mod pipe_capacity;
mod pipe_volume;
mod pressure_decay;
mod propane;
mod requalification;
mod run_time;
mod saturation_pressure;
mod vaporisation;

pub use accumulation_time::accumulation_time;
pub use air_free_co::air_free_co;
pub use air_free_co_by_co2::{FuelGas, air_free_co_by_co2};
pub use air_leak_as_propane::air_leak_as_propane;
pub use co_alarm_response::{AlarmResponse, alarm_window, co_alarm_response};
pub use contents_by_weight::{contents_by_weight, filled_fraction};
pub use cylinder_capacity::cylinder_capacity;
pub use cylinder_marks::{CylinderMarks, read_marks};
pub use demand::{average_demand, demand_together};
pub use leak_check_least::leak_check_least;
pub use liquid_level::liquid_level;
pub use pipe_capacity::{pipe_capacity, pipe_drop, pipe_flow};
pub use pipe_volume::{PipeSection, pipe_volume, read_sections, section_volume};
pub use pressure_decay::{TrappedGas, leak_free_end_pressure, pressure_decay};
pub use requalification::{Requalification, RequalificationMark, requalification};
pub use run_time::{consumption, liquid_consumption, run_time};
pub use saturation_pressure::saturation_pressure;
pub use vaporisation::{UprightCylinder, horizontal_vaporisation, upright_vaporisation};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &saturation_pressure::FORMULA,
    &cylinder_capacity::FORMULA,
    &contents_by_weight::FORMULA,
    &liquid_level::FORMULA,
    &cylinder_marks::FORMULA,
    &requalification::FORMULA,
    &vaporisation::FORMULA,
    &demand::FORMULA,
    &run_time::FORMULA,
    &pressure_decay::FORMULA,
    &leak_free_pressure::FORMULA,
    &leak_check_least::FORMULA,
    &air_leak_as_propane::FORMULA,
    &pipe_volume::FORMULA,
    &pipe_capacity::FORMULA,
    &pipe_capacity::DROP,
    &air_free_co::FORMULA,
    &air_free_co_by_co2::FORMULA,
    &co_alarm_response::FORMULA,
    &accumulation_time::FORMULA,
];
