//! The archive's promises, on stores with real records.
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "tests make folders and may stop where something cannot be"
)]

mod damage;
mod figures;
mod keeping;
mod searching;
mod world;
