//! The frame around every screen, and the screens that belong to no job.
#![allow(unreachable_pub, reason = "the library's macro makes every component `pub`")]

mod bars;
mod field;
mod find;
mod frame;
mod jobs;
mod new_job;
mod pairing;
mod settings;
mod stages;

pub(crate) use frame::Frame;
