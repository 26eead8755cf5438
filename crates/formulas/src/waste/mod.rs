//! Waste: drains, traps, tests and holding tanks.
//!
//! Symbols: D inside diameter, y depth, S slope, n Manning's roughness, θ angle of the wetted arc, A area,
//! R hydraulic radius, V speed, Q flow.

mod part_full_flow;
mod slope;
mod test_head;
mod time_to_full;
mod trap_arm;

pub use part_full_flow::{DrainFlow, part_full_flow};
pub use slope::slope;
pub use test_head::test_head;
pub use time_to_full::time_to_full;
pub use trap_arm::trap_arm;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &slope::FORMULA,
    &part_full_flow::FORMULA,
    &trap_arm::FORMULA,
    &test_head::FORMULA,
    &time_to_full::FORMULA,
];
