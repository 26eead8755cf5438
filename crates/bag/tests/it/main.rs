//! The promises of the package of a job.
#![allow(clippy::unwrap_used, reason = "tests may stop where something cannot be")]

mod authority;
mod captions;
mod changed;
mod hostile;
mod packed;
mod sample;
mod signed;
mod time_stamps;
