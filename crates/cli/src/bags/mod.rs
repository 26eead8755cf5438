//! Bags on this machine: packed from jobs, written to disk, opened again; releases and keys in the data folder.

mod files;
pub(crate) mod keys;
pub(crate) mod matters;
mod open;
pub(crate) mod pack;
mod photos;
pub(crate) mod releases;
pub(crate) mod standing;
pub(crate) mod time_stamps;

pub(crate) use files::{write, write_zip_to};
pub(crate) use open::{Opened, open};
