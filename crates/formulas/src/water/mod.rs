//! Potable water: flow, friction, leaks, tanks, disinfection and hot water.
//!
//! Symbols: Q flow, d inside diameter, C roughness coefficient of Hazen and Williams, p pressure,
//! V volume, D diameter, L length, h depth.

mod bucket_flow;

pub use bucket_flow::{bucket_flow, timing_error};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&bucket_flow::FORMULA];
