//! The plan crate from outside.

mod embedded;
mod pictures;
mod problems;
mod shipped;
