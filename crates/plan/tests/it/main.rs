//! The plan crate from outside.

mod embedded;
mod languages;
mod fixture;
mod pictures;
mod problems;
mod shipped;
