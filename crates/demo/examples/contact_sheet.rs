//! Draws one picture of every scene and lays them out on sheets, for looking:
//! `cargo run --release -p demo --example contact_sheet -- FOLDER [NAME…] [--portrait] [--blurred] [--dark]`.
//! A NAME is the beginning of a scene's short name.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a tool for the person at the desk"
)]

use demo::photos::{Shot, Turn, draw, samples};
use std::error::Error;
use std::path::Path;
use std::time::{Duration, Instant};

/// Pixels across one picture on a sheet.
const ACROSS: usize = 520;

fn main() -> Result<(), Box<dyn Error>> {
    let (switches, words): (Vec<String>, Vec<String>) =
        std::env::args().skip(1).partition(|argument| argument.starts_with("--"));
    let (folder, names) = words.split_first().ok_or("say which folder the sheets go to")?;
    if let Some(other) =
        switches.iter().find(|&s| !["--portrait", "--blurred", "--dark"].contains(&s.as_str()))
    {
        return Err(format!("no switch {other}; there are --portrait, --blurred, --dark").into());
    }
    let switched = |name: &str| switches.iter().any(|switch| switch == name);
    let down = if switched("--portrait") { ACROSS * 4 / 3 } else { ACROSS * 3 / 4 };
    std::fs::create_dir_all(folder)?;
    let (mut small, mut bytes, mut spent) = (Vec::new(), 0, Duration::ZERO);
    for (number, (name, scene)) in samples().into_iter().enumerate() {
        if !names.is_empty() && !names.iter().any(|wanted| name.starts_with(wanted.as_str())) {
            continue;
        }
        let shot = Shot {
            scene,
            turn: if switched("--portrait") { Turn::QuarterClockwise } else { Turn::Upright },
            exif: None,
            seed: (number as u64 + 1) << 8,
            blur: if switched("--blurred") { 7.0 } else { 0.0 },
            exposure: if switched("--dark") { -2.5 } else { 0.0 },
        };
        let begun = Instant::now();
        let jpeg = draw(&shot)?;
        spent += begun.elapsed();
        println!("{name:28} {:4} ms {:5} KiB", begun.elapsed().as_millis(), jpeg.len() / 1024);
        bytes += jpeg.len();
        let picture = turbojpeg::decompress(&jpeg, turbojpeg::PixelFormat::RGB)?;
        small.push(shrink(&picture, (ACROSS, down)));
    }
    for (number, pictures) in small.chunks(9).enumerate() {
        write_sheet(
            &Path::new(folder).join(format!("sheet-{number}.jpg")),
            (ACROSS, down),
            pictures,
        )?;
    }
    println!("{} pictures, {} KiB, drawn in {} ms", small.len(), bytes / 1024, spent.as_millis());
    Ok(())
}

/// A picture shrunk by averaging, in rows of red, green, blue.
fn shrink(picture: &turbojpeg::Image<Vec<u8>>, (wide, tall): (usize, usize)) -> Vec<u8> {
    let share =
        |place: usize, of: usize, length: usize| place * length / of..(place + 1) * length / of;
    let mut small = Vec::with_capacity(wide * tall * 3);
    for y in 0..tall {
        for x in 0..wide {
            let (mut sum, mut count) = ([0usize; 3], 0usize);
            for row in share(y, tall, picture.height) {
                for column in share(x, wide, picture.width) {
                    let start = row * picture.pitch + column * 3;
                    for (total, value) in sum.iter_mut().zip(&picture.pixels[start..start + 3]) {
                        *total += usize::from(*value);
                    }
                    count += 1;
                }
            }
            small.extend(sum.map(|total| u8::try_from(total / count).unwrap_or(u8::MAX)));
        }
    }
    small
}

/// Up to nine pictures on one sheet, three across.
fn write_sheet(
    file: &Path,
    (wide, tall): (usize, usize),
    pictures: &[Vec<u8>],
) -> Result<(), Box<dyn Error>> {
    let (across, rows) = (pictures.len().min(3), pictures.len().div_ceil(3));
    let pitch = across * wide * 3;
    let mut pixels = vec![20u8; pitch * rows * tall];
    for (place, picture) in pictures.iter().enumerate() {
        let (column, row) = (place % 3, place / 3);
        for (y, line) in picture.chunks_exact(wide * 3).enumerate() {
            let start = (row * tall + y) * pitch + column * wide * 3;
            pixels[start..start + wide * 3].copy_from_slice(line);
        }
    }
    let image = turbojpeg::Image {
        pixels: pixels.as_slice(),
        width: across * wide,
        pitch,
        height: rows * tall,
        format: turbojpeg::PixelFormat::RGB,
    };
    std::fs::write(file, &*turbojpeg::compress(image, 92, turbojpeg::Subsamp::None)?)?;
    Ok(())
}
