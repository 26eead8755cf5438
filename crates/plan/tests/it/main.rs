//! The plan crate from outside.

mod embedded;
mod languages;
mod pictures;
mod problems;
mod shipped;
