//! Measures how many megapixels are taken in for each second of processor time.
//!
//! `cargo run --release -p photo --example megapixels -- 24`: that many made-up 12-megapixel
//! JPEGs, each hashed, its notes read, two copies made and its figures measured.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a program to run by hand: it reads the process's own account and prints"
)]

use std::{error::Error, fs};

use photo::{Limits, take_in_many};
use turbojpeg::{Image, PixelFormat, Subsamp};

const WIDTH: u32 = 4000;
const HEIGHT: u32 = 3000;
/// Ticks in a second as Linux tells processes of them (proc(5), USER_HZ).
const TICKS: f64 = 100.0;

fn main() -> Result<(), Box<dyn Error>> {
    let count: u32 = std::env::args().nth(1).map_or(Ok(24), |text| text.parse())?;
    let originals = (0..count).map(made_up).collect::<Result<Vec<_>, _>>()?;
    let items: Vec<(&str, &[u8])> = originals.iter().map(|file| ("made up", &file[..])).collect();
    let bytes: usize = originals.iter().map(Vec::len).sum();
    let before = processor_seconds()?;
    let photos = take_in_many(&items, &Limits::default(), |_| ());
    let seconds = processor_seconds()? - before;
    for photo in photos {
        if photo?.copies.is_none() {
            return Err("a copy is missing".into());
        }
    }
    let megapixels = f64::from(count) * f64::from(WIDTH) * f64::from(HEIGHT) / 1e6;
    println!(
        "{count} photos, {megapixels:.0} megapixels, {bytes} bytes: {seconds:.2} processor \
         seconds, {:.0} megapixels a second",
        megapixels / seconds
    );
    Ok(())
}

/// A scene of slopes, stripes and noise, at the quality and sampling that cameras use.
fn made_up(number: u32) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut noise = 0x9e37_79b9_u32.wrapping_mul(number + 1);
    let mut pixels = Vec::new();
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            noise ^= noise << 13;
            noise ^= noise >> 17;
            noise ^= noise << 5;
            let stripes = if (x / 160 + y / 120 + number).is_multiple_of(2) { 60 } else { 0 };
            let grain = noise % 12;
            let colours = [x * 150 / WIDTH, y * 150 / HEIGHT, (x + y) * 150 / (WIDTH + HEIGHT)];
            for colour in colours {
                pixels.push(u8::try_from(colour + stripes + grain)?);
            }
        }
    }
    let image = Image {
        pixels: &pixels[..],
        width: WIDTH as usize,
        pitch: WIDTH as usize * 3,
        height: HEIGHT as usize,
        format: PixelFormat::RGB,
    };
    Ok(turbojpeg::compress(image, 90, Subsamp::Sub2x2)?.to_vec())
}

/// User and system time of this process, all threads together.
fn processor_seconds() -> Result<f64, Box<dyn Error>> {
    let account = fs::read_to_string("/proc/self/stat")?;
    // The second field is the program's name in brackets and may hold blanks.
    let (_, fields) = account.rsplit_once(')').ok_or("no account of this process")?;
    let mut fields = fields.split_whitespace().skip(11);
    let mut next = || -> Result<f64, Box<dyn Error>> {
        Ok(fields.next().ok_or("the account is too short")?.parse()?)
    };
    Ok((next()? + next()?) / TICKS)
}
