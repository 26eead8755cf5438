//! The plan crate from outside.

mod embedded;
mod problems;
mod shipped;
