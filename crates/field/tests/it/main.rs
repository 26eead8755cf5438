//! What the phone app's logic promises.
#![allow(clippy::disallowed_methods, reason = "a test reads the sources for the texts they name")]
#![allow(clippy::unwrap_used, reason = "helpers of tests: a panic says which fact is missing")]

mod acts;
mod again;
mod ahead;
mod demo_sheet;
mod demo_visit;
mod desk;
mod edge;
mod engagement;
mod instruments;
mod laws;
mod spoken;
mod texts;
mod tray;
mod views;
mod visits;
mod words;
