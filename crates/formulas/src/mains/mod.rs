//! Mains: the supply behind an outlet, its wiring, its protection and its load.
//!
//! Symbols: V voltage, I current, Z impedance, R resistance, P power, g conductance, θ angle between two
//! legs, T time or temperature, f frequency.

mod body_current;
mod drop;
mod dwelling_load;
mod generator_droop;
mod gfci_time;
mod leg_angle;
mod open_neutral;
mod overcurrent;
mod receptacle_pattern;
mod wire_drop;
mod wire_size;

pub use body_current::{body_current, body_effect};
pub use drop::{VoltageDrop, drop};
pub use dwelling_load::{
    ConnectedLoads, DwellingLoad, Nameplate, dwelling_load, range_demand, supply_for,
};
pub use generator_droop::{droop_class, generator_droop};
pub use gfci_time::gfci_time;
pub use leg_angle::{leg_angle, supply_of_legs};
pub use open_neutral::open_neutral;
pub use overcurrent::{Protection, Termination, overcurrent};
pub use receptacle_pattern::{ReceptaclePattern, receptacle_pattern};
pub use wire_drop::{Stranding, WireLength, wire_drop};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &leg_angle::FORMULA,
    &open_neutral::FORMULA,
    &dwelling_load::FORMULA,
    &receptacle_pattern::FORMULA,
    &drop::FORMULA,
    &gfci_time::FORMULA,
    &body_current::FORMULA,
    &wire_drop::FORMULA,
    &overcurrent::FORMULA,
    &generator_droop::FORMULA,
];
