//! What the server promises, tried over real connections.
#![allow(
    clippy::disallowed_methods,
    reason = "tests of the edge: they wait, read the clock and start processes"
)]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
#![allow(clippy::print_stdout, reason = "what was measured is worth reading")]

mod child;
mod encrypted;
mod killed;
mod line;
mod many;
mod phone;
mod records;
mod slow;
mod stopping;
