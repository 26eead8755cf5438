//! Batteries: charge, run time and standing time.
//!
//! Symbols: V open-circuit voltage, C rated capacity, H the rate's hours, k Peukert's exponent, I current,
//! t time.

mod state_of_charge;

pub use state_of_charge::{LeadAcidCharge, Rest, lead_acid_charge, lithium_band};

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[&state_of_charge::FORMULA];
