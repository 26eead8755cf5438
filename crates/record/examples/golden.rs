//! Writes the golden document of the schema that this version writes; `tests/golden/README.md` says when.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a tool for developers")]
#![allow(dead_code, reason = "shares the fixtures of the tests")]

#[path = "../tests/it/fixtures.rs"]
mod fixtures;
#[path = "../tests/it/golden_record.rs"]
mod golden_record;

use std::io::Write as _;

fn main() -> std::io::Result<()> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/golden/1.nearside-record");
    let mut file = std::fs::File::create_new(path)?;
    file.write_all(&golden_record::golden_record().save())?;
    println!("wrote {path}");
    Ok(())
}
