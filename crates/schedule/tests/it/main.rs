//! What the schedule promises: every rule kept, nothing better to be found, the same every time.
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "tests read files, and may stop where something cannot be"
)]

mod bound;
mod brute_force;
mod dice;
mod faults;
mod field;
mod known_optima;
mod planted;
mod random_visits;
mod rules;
mod shipped_plan;
mod visits;
