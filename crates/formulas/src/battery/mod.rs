//! Batteries: charge, run time and standing time.
//!
//! Symbols: V open-circuit voltage, C rated capacity, H the rate's hours, k Peukert's exponent, I current,
//! t time, u usable share.

mod capacity_test;
mod charge_by_gravity;
mod charging;
mod days;
mod peukert_exponent;
mod peukert_time;
mod state_of_charge;

pub use capacity_test::equivalent_capacity;
pub use charge_by_gravity::charge_by_gravity;
pub use charging::charging_stage;
pub use days::days;
pub use peukert_exponent::peukert_exponent;
pub use peukert_time::peukert_time;
pub use state_of_charge::{LeadAcidCharge, Rest, lead_acid_charge, lithium_band};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &state_of_charge::FORMULA,
    &charge_by_gravity::FORMULA,
    &peukert_time::FORMULA,
    &peukert_exponent::FORMULA,
    &capacity_test::FORMULA,
    &charging::FORMULA,
    &days::FORMULA,
];
