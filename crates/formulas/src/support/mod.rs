//! Support and level: piers, footings, soil, the frame's sag and tilt, the ground around.
//!
//! Loads are forces: a mass given for one is taken as its weight, and said. `s` pier spacing, `W` width,
//! `P` load, `q` pressure on the soil.

mod continuous_beam;
mod footing_area;
mod footing_pressure;
mod ground_slope;
mod level_steps;
mod pier_load;
mod plane;
mod sag;
mod soil_bearing;
mod two_supports;

pub use continuous_beam::continuous_beam;
pub use footing_area::footing_area;
pub use footing_pressure::{FootingPressure, footing_pressure};
pub use ground_slope::ground_slope;
pub use level_steps::level_steps;
pub use pier_load::{PierLoad, pier_load};
pub use plane::{Plane, plane};
pub use sag::{Sag, sag};
pub use soil_bearing::{SoilClass, SoilTest, soil_bearing};
pub use two_supports::two_supports;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &pier_load::FORMULA,
    &footing_pressure::FORMULA,
    &footing_area::FORMULA,
    &soil_bearing::FORMULA,
    &two_supports::FORMULA,
    &continuous_beam::FORMULA,
    &level_steps::FORMULA,
    &sag::FORMULA,
    &plane::FORMULA,
    &ground_slope::FORMULA,
];
