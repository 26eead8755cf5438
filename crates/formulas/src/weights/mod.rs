//! Weights: the tongue, the axles and their shares of the gross; coupling, chains and brakes.
//!
//! Weights on a scale are masses. *Slack* is coupled with the weight-distributing bars hanging loose,
//! *tight* with the bars under tension.

mod beam_scale;
mod brake_current;
mod breakaway_charge;
mod by_wheel;
mod chains;
mod coupling_class;
mod distribution;
mod from_gross;
mod jack_load;
mod magnet_current;
mod side_imbalance;
mod tongue;
mod tongue_percent;
mod whole_count;

pub use beam_scale::beam_scale;
pub use brake_current::{BrakeCurrent, brake_current};
pub use breakaway_charge::breakaway_charge;
pub use by_wheel::{AxleWheels, WheelSums, by_wheel};
pub use chains::{Chains, chains};
pub use coupling_class::{CouplingClass, coupling_class};
pub use distribution::{AxleWeights, Distribution, distribution};
pub use from_gross::from_gross;
pub use jack_load::jack_load;
pub use magnet_current::{MagnetCurrent, magnet_current};
pub use side_imbalance::side_imbalance;
pub use tongue::tongue;
pub use tongue_percent::tongue_percent;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &tongue::FORMULA,
    &from_gross::FORMULA,
    &tongue_percent::FORMULA,
    &side_imbalance::FORMULA,
    &by_wheel::FORMULA,
    &beam_scale::FORMULA,
    &jack_load::FORMULA,
    &distribution::FORMULA,
    &coupling_class::FORMULA,
    &chains::FORMULA,
    &brake_current::FORMULA,
    &magnet_current::FORMULA,
    &breakaway_charge::FORMULA,
];
