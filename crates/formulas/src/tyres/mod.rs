//! Tyres: age, load and pressure, tread, and the torque of the wheel nuts.
//!
//! `L` load, `P` pressure above the atmosphere's, `T` absolute temperature, `n` the exponent between
//! load and pressure.

mod against_built;
mod alike;
mod below_placard;
mod chart_load;
mod date_code;
mod load_at_pressure;
mod load_index;
mod load_range;
mod margin;
mod pressure_at_temperature;
mod tread_life;
mod wheel_torque;

pub use against_built::{AgainstBuilt, against_built};
pub use alike::{Likeness, TyreFigures, alike};
pub use below_placard::below_placard;
pub use chart_load::chart_load;
pub use date_code::{TyreWeek, date_code};
pub use load_at_pressure::load_at_pressure;
pub use load_index::load_index;
pub use load_range::{LoadRange, load_range};
pub use margin::{TyreKind, margin};
pub use pressure_at_temperature::pressure_at_temperature;
pub use tread_life::tread_life;
pub use wheel_torque::{TorqueBand, wheel_torque};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &date_code::FORMULA,
    &against_built::FORMULA,
    &load_at_pressure::FORMULA,
    &load_index::FORMULA,
    &load_range::FORMULA,
    &chart_load::FORMULA,
    &pressure_at_temperature::FORMULA,
    &below_placard::FORMULA,
    &margin::FORMULA,
    &alike::FORMULA,
    &tread_life::FORMULA,
    &wheel_torque::FORMULA,
];
