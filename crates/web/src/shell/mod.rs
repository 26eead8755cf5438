//! The frame around every screen, and the screens that belong to no job.

mod bars;
mod field;
mod frame;
mod jobs;
mod new_job;
mod pairing;
mod settings;
mod stages;

pub(crate) use frame::Frame;
