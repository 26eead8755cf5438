//! The plan crate from outside.

mod embedded;
