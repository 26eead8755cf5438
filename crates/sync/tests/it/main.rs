//! The two sides of sync as their callers meet them, apart and together.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
#![allow(clippy::disallowed_methods, reason = "a seed may be given by the environment")]
#![allow(clippy::print_stdout, reason = "what a simulation met is worth reading")]

mod jobs;
mod pokes;
mod refusing_disk;
mod shut_out;
mod simulation;
mod unreadable_disk;
