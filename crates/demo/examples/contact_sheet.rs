//! Draws one picture of every scene and lays them out on sheets, for looking:
//! `cargo run --release -p demo --example contact_sheet -- FOLDER [WIDTH] [NAME…]`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a tool for the person at the desk"
)]

use demo::photos::{Shot, Turn, draw, samples};
use std::error::Error;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().ok_or("say which folder the sheets go to")?;
    let width: usize = arguments.next().map_or(Ok(520), |width| width.parse())?;
    let wanted: Vec<String> = arguments.collect();
    std::fs::create_dir_all(&folder)?;
    let mut sheet = Vec::new();
    let mut number = 0;
    let mut bytes = 0;
    let started = std::time::Instant::now();
    let mut drawn = 0u32;
    for (seed, (name, scene)) in samples().into_iter().enumerate() {
        if !wanted.is_empty() && !wanted.iter().any(|w| name.starts_with(w.as_str())) {
            continue;
        }
        let shot = Shot {
            scene,
            turn: Turn::Upright,
            exif: None,
            seed: (seed as u64 + 1) << 8,
            blur: 0.0,
            exposure: 0.0,
        };
        let begun = std::time::Instant::now();
        let jpeg = draw(&shot)?;
        println!("{name:28} {:4} ms {:5} KiB", begun.elapsed().as_millis(), jpeg.len() / 1024);
        bytes += jpeg.len();
        drawn += 1;
        let picture = turbojpeg::decompress(&jpeg, turbojpeg::PixelFormat::RGB)?;
        sheet.push(shrink(&picture, width));
        if sheet.len() == 9 {
            write_sheet(Path::new(&folder), number, width, &sheet)?;
            sheet.clear();
            number += 1;
        }
    }
    if !sheet.is_empty() {
        write_sheet(Path::new(&folder), number, width, &sheet)?;
    }
    println!("{drawn} pictures, {} KiB, {} ms", bytes / 1024, started.elapsed().as_millis());
    Ok(())
}

/// A picture shrunk to a width by averaging, in rows of red, green, blue.
fn shrink(picture: &turbojpeg::Image<Vec<u8>>, width: usize) -> Vec<u8> {
    let height = width * 3 / 4;
    let mut small = Vec::with_capacity(width * height * 3);
    for y in 0..height {
        let rows = y * picture.height / height
            ..((y + 1) * picture.height / height).max(y * picture.height / height + 1);
        for x in 0..width {
            let columns = x * picture.width / width
                ..((x + 1) * picture.width / width).max(x * picture.width / width + 1);
            for channel in 0..3 {
                let (mut sum, mut count) = (0usize, 0usize);
                for row in rows.clone() {
                    for column in columns.clone() {
                        sum +=
                            usize::from(picture.pixels[row * picture.pitch + column * 3 + channel]);
                        count += 1;
                    }
                }
                small.push(u8::try_from(sum / count).unwrap_or(u8::MAX));
            }
        }
    }
    small
}

/// Three by three pictures on one sheet.
fn write_sheet(
    folder: &Path,
    number: usize,
    width: usize,
    pictures: &[Vec<u8>],
) -> Result<(), Box<dyn Error>> {
    let height = width * 3 / 4;
    let across = pictures.len().min(3);
    let down = pictures.len().div_ceil(3);
    let pitch = across * width * 3;
    let mut pixels = vec![20u8; pitch * down * height];
    for (place, picture) in pictures.iter().enumerate() {
        let (column, row) = (place % 3, place / 3);
        for (y, line) in picture.chunks_exact(width * 3).enumerate() {
            let start = (row * height + y) * pitch + column * width * 3;
            pixels[start..start + width * 3].copy_from_slice(line);
        }
    }
    let image = turbojpeg::Image {
        pixels: pixels.as_slice(),
        width: across * width,
        pitch,
        height: down * height,
        format: turbojpeg::PixelFormat::RGB,
    };
    std::fs::write(
        folder.join(format!("sheet-{number}.jpg")),
        &*turbojpeg::compress(image, 92, turbojpeg::Subsamp::None)?,
    )?;
    Ok(())
}
