//! cli.

fn main() {}
