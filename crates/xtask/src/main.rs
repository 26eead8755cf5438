//! xtask.

fn main() {}
