//! The plan crate from outside.

mod embedded;
mod fixture;
mod languages;
mod pictures;
mod problems;
mod promises;
mod shipped;
