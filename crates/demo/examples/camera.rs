//! Writes the invented job's photos and its filled sheet to a folder, to try `nearside job fill` with:
//! `cargo run --release -p demo --example camera -- FOLDER`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a tool for the person at the desk"
)]

use std::error::Error;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("say which folder the photos go to")?;
    let camera = Path::new(&folder).join("camera");
    std::fs::create_dir_all(&camera)?;
    let shots = demo::shots();
    for (name, shot) in &shots {
        std::fs::write(camera.join(name), demo::photos::draw(shot)?)?;
    }
    std::fs::write(Path::new(&folder).join("sheet.toml"), demo::sheet())?;
    println!("{} photos and sheet.toml in {folder}", shots.len());
    Ok(())
}
