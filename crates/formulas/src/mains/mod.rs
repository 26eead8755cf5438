//! Mains: the supply behind an outlet, its wiring, its protection and its load.
//!
//! Symbols: V voltage, I current, Z impedance, R resistance, P power, g conductance, θ angle between two
//! legs, T time or temperature, f frequency.

mod body_current;
mod drop;
mod dwelling_load;
mod generator_droop;
mod generator_voltage;
mod gfci_time;
mod leg_angle;
mod neutral_test;
mod open_neutral;
mod outlet;
mod overcurrent;
mod receptacle_pattern;
mod site_feeder;
mod smallest_wire;
mod wire_drop;
mod wire_size;

pub use body_current::{body_current, body_effect};
pub use drop::{VoltageDrop, drop};
pub use dwelling_load::{
    ConnectedLoads, DwellingLoad, Nameplate, dwelling_load, range_demand, supply_for, whole_amperes,
};
pub use generator_droop::{droop_class, generator_droop};
pub use generator_voltage::{generator_voltage, voltage_class};
pub use gfci_time::gfci_time;
pub use leg_angle::{leg_angle, supply_of_legs};
pub use neutral_test::{Legs, NeutralTest, neutral_test};
pub use open_neutral::open_neutral;
pub use outlet::{GroundFault, OutletState, outlet};
pub use overcurrent::{Protection, Termination, overcurrent};
pub use receptacle_pattern::{ReceptaclePattern, receptacle_pattern};
pub use site_feeder::site_feeder;
pub use smallest_wire::circular_mils;
pub use wire_drop::{Stranding, WireLength, wire_drop};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &leg_angle::FORMULA,
    &open_neutral::FORMULA,
    &neutral_test::FORMULA,
    &dwelling_load::FORMULA,
    &site_feeder::FORMULA,
    &receptacle_pattern::FORMULA,
    &outlet::FORMULA,
    &drop::FORMULA,
    &gfci_time::FORMULA,
    &body_current::FORMULA,
    &wire_drop::FORMULA,
    &smallest_wire::FORMULA,
    &overcurrent::FORMULA,
    &generator_droop::FORMULA,
    &generator_voltage::FORMULA,
];
