//! Life safety: how long alarms and extinguishers may still be relied upon, and ways out.
//!
//! Dates count by the month, as they are printed: what is due in a month is due through its last day.

mod alarm_life;
mod due;
mod escape_opening;
mod extinguisher_due;
mod lives;
mod marked_life;

pub use alarm_life::{Alarm, alarm_life};
pub use due::{Due, State};
pub use escape_opening::{EscapeOpening, escape_opening};
pub use extinguisher_due::{ExtinguisherKind, ExtinguisherService, extinguisher_due};
pub use marked_life::marked_life;

use crate::Formula;

/// The formulas of this system.
pub const FORMULAS: &[&Formula] = &[
    &alarm_life::FORMULA,
    &marked_life::FORMULA,
    &extinguisher_due::FORMULA,
    &escape_opening::FORMULA,
];
