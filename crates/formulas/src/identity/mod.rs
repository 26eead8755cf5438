//! Identity: the number on the plate and wherever else it stands, the model year, the size class and the
//! weight label.

mod cargo_capacity;
mod check_vin;
mod disclosed_addition;
#[cfg(test)]
mod invented;
mod manufactured_home_size;
mod model_years;
mod places_agree;
mod repair_vin;
mod vehicle_kind;
mod vehicle_number;

pub use cargo_capacity::{Contents, LabelEra, cargo_capacity};
pub use check_vin::check_vin;
pub use disclosed_addition::disclosed_addition;
pub use manufactured_home_size::{SizeClause, manufactured_home_size};
pub use model_years::model_years;
pub use places_agree::{NumberKind, PlaceDifference, places_agree};
pub use repair_vin::{Candidate, repair_vin};
pub use vehicle_kind::VehicleKind;
pub use vehicle_number::{CheckDigit, VehicleNumber};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &check_vin::FORMULA,
    &repair_vin::FORMULA,
    &model_years::FORMULA,
    &manufactured_home_size::FORMULA,
    &cargo_capacity::FORMULA,
    &disclosed_addition::FORMULA,
    &places_agree::FORMULA,
];
