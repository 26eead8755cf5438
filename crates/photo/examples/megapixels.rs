//! Measures how many megapixels are taken in for each second of processor time.
//!
//! `cargo run --release -p photo --example megapixels -- 24`: that many made-up 12-megapixel JPEGs with a camera's notes,
//! each read from disk, hashed, its notes read, two copies made and written, and its figures measured. With
//! `--beside FOLDER` the program `vipsthumbnail` (libvips) makes copies of the same sizes from the same files in the same
//! run; the files stay in that folder.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a program to run by hand: it reads the process's own account, runs another program and prints"
)]

use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::{env, fs};

use exif::experimental::Writer;
use exif::{Field, In, Tag, Value};
use photo::{Limits, take_in_many};
use turbojpeg::{Image, PixelFormat, Subsamp};

type Outcome<T = ()> = Result<T, Box<dyn Error>>;

const WIDTH: u32 = 4000;
const HEIGHT: u32 = 3000;
/// Ticks in a second as Linux tells processes of them (proc(5), USER_HZ).
const TICKS: f64 = 100.0;
/// How often each way is timed; the median counts.
const ROUNDS: usize = 3;
/// What is promised: so many times as many megapixels a second as the quicker way of vipsthumbnail.
const GOAL: f64 = 2.0;

fn main() -> Outcome<ExitCode> {
    let words: Vec<String> = env::args().skip(1).collect();
    let count: u32 = words.first().map_or(Ok(24), |text| text.parse())?;
    let originals = (0..count).map(made_up).collect::<Result<Vec<_>, _>>()?;
    let megapixels = f64::from(count) * f64::from(WIDTH) * f64::from(HEIGHT) / 1e6;
    let bytes: usize = originals.iter().map(Vec::len).sum();
    println!("{count} photos, {megapixels:.0} megapixels, {bytes} bytes");
    let Some(folder) = words.get(2).filter(|_| words.get(1).is_some_and(|it| it == "--beside"))
    else {
        let items: Vec<(&str, &[u8])> =
            originals.iter().map(|file| ("made up", &file[..])).collect();
        let before = own_seconds()?;
        let photos = take_in_many(&items, &Limits::default(), |_| ());
        let seconds = own_seconds()? - before;
        for photo in photos {
            if photo?.copies.is_none() {
                return Err("a copy is missing".into());
            }
        }
        println!("{seconds:.2} processor seconds, {:.0} megapixels a second", megapixels / seconds);
        return Ok(ExitCode::SUCCESS);
    };
    beside(Path::new(folder), originals, megapixels)
}

/// Both in turn, from the same files on disk to copies on disk.
fn beside(folder: &Path, originals: Vec<Vec<u8>>, megapixels: f64) -> Outcome<ExitCode> {
    let mut files = Vec::new();
    fs::create_dir_all(folder)?;
    for (at, bytes) in originals.into_iter().enumerate() {
        let path = folder.join(format!("{at:03}.jpg"));
        fs::write(&path, bytes)?;
        files.push(path);
    }
    let mut ways: [(&str, Vec<f64>); 3] = [
        ("ours: hash, notes, two copies, sharpness", Vec::new()),
        ("vipsthumbnail: both copies from the original", Vec::new()),
        ("vipsthumbnail: the small copy from the large", Vec::new()),
    ];
    for _ in 0..ROUNDS {
        for (at, (_, seconds)) in ways.iter_mut().enumerate() {
            let before = own_seconds()? + waited_seconds()?;
            match at {
                0 => ours(folder, &files)?,
                1 => {
                    vips(&files, 1600, folder, "v1")?;
                    vips(&files, 320, folder, "v1")?;
                }
                _ => {
                    let large = vips(&files, 1600, folder, "v2")?;
                    vips(&large, 320, folder, "v2s")?;
                }
            }
            seconds.push(own_seconds()? + waited_seconds()? - before);
        }
    }
    let mut speeds = Vec::new();
    for (name, seconds) in &mut ways {
        seconds.sort_by(f64::total_cmp);
        let median = seconds.get(ROUNDS / 2).copied().unwrap_or(f64::NAN);
        speeds.push(megapixels / median);
        println!(
            "{name}: {:.0} megapixels a processor second ({seconds:.2?} s)",
            megapixels / median
        );
    }
    let [ours, others @ ..] = speeds.as_slice() else { return Err("nothing was timed".into()) };
    let ratio = ours / others.iter().copied().fold(f64::NAN, f64::max);
    let met = ratio >= GOAL;
    println!(
        "{ratio:.1} times as many as the quicker way of vipsthumbnail; goal at least {GOAL}: {}",
        if met { "met" } else { "MISSED" }
    );
    Ok(if met { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn ours(folder: &Path, files: &[PathBuf]) -> Outcome {
    let into = folder.join("ours");
    fs::create_dir_all(&into)?;
    let names: Vec<String> = files.iter().map(|path| path.display().to_string()).collect();
    let read = |name: &str| fs::read(name).map_err(|error| error.to_string());
    let mut kept = 0;
    for (name, path) in names.iter().zip(files) {
        let bytes = read(name)?;
        let photo = photo::take_in(name, &bytes, &Limits::default())?;
        let copies = photo.copies.ok_or("a copy is missing")?;
        if photo.shot.taken.is_none() {
            return Err("the camera's notes were not read".into());
        }
        let file = path.file_name().ok_or("a path without a name")?;
        fs::write(into.join(file), &copies.display.jpeg)?;
        fs::write(into.join(file).with_extension("small.jpg"), &copies.thumbnail.jpeg)?;
        kept += 1;
    }
    if kept == files.len() { Ok(()) } else { Err("a photo is missing".into()) }
}

/// Runs vipsthumbnail over all files; the copies that it made.
fn vips(files: &[PathBuf], size: u32, folder: &Path, name: &str) -> Outcome<Vec<PathBuf>> {
    let into = folder.join(format!("{name}-{size}"));
    fs::create_dir_all(&into)?;
    let status = Command::new("vipsthumbnail")
        .args(["--size", &size.to_string()])
        .arg("-o")
        .arg(into.join("%s.jpg[Q=82,strip]"))
        .args(files)
        // One thread, as on our side.
        .env("VIPS_CONCURRENCY", "1")
        .stdin(Stdio::null())
        .status()
        .map_err(|error| format!("vipsthumbnail (Debian: libvips-tools): {error}"))?;
    if !status.success() {
        return Err(format!("vipsthumbnail ended with {status}").into());
    }
    let made: Vec<PathBuf> =
        files.iter().filter_map(|path| Some(into.join(path.file_name()?))).collect();
    match made.iter().find(|path| !path.is_file()) {
        Some(missing) => Err(format!("vipsthumbnail did not write {}", missing.display()).into()),
        None => Ok(made),
    }
}

/// A scene of slopes, stripes and noise, at the quality and sampling that cameras use, with their notes.
fn made_up(number: u32) -> Outcome<Vec<u8>> {
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
    let jpeg = turbojpeg::compress(image, 90, Subsamp::Sub2x2)?.to_vec();
    with_notes(&jpeg, number)
}

/// The JPEG with the notes of a camera: which way up (all four), and when.
fn with_notes(jpeg: &[u8], number: u32) -> Outcome<Vec<u8>> {
    let upright = [1, 6, 3, 8].get(number as usize % 4).copied().unwrap_or(1);
    let taken = format!("2026:06:12 09:{:02}:00", number % 60);
    let fields = [
        Field { tag: Tag::Orientation, ifd_num: In::PRIMARY, value: Value::Short(vec![upright]) },
        Field {
            tag: Tag::DateTimeOriginal,
            ifd_num: In::PRIMARY,
            value: Value::Ascii(vec![taken.into_bytes()]),
        },
    ];
    let mut writer = Writer::new();
    fields.iter().for_each(|field| writer.push_field(field));
    let mut block = std::io::Cursor::new(Vec::new());
    writer.write(&mut block, false)?;
    let body = [b"Exif\0\0".as_slice(), block.get_ref()].concat();
    let length = u16::try_from(body.len() + 2)?.to_be_bytes();
    let (start, rest) = jpeg.split_at(2);
    Ok([start, &[0xff, 0xe1], &length, &body, rest].concat())
}

/// User and system time of this process, all threads together.
fn own_seconds() -> Outcome<f64> {
    account(11)
}

/// The same of the programs that it ran and waited for.
fn waited_seconds() -> Outcome<f64> {
    account(13)
}

fn account(first: usize) -> Outcome<f64> {
    let account = fs::read_to_string("/proc/self/stat")?;
    // The second field is the program's name in brackets and may hold blanks.
    let (_, fields) = account.rsplit_once(')').ok_or("no account of this process")?;
    let mut fields = fields.split_whitespace().skip(first);
    let mut next =
        || -> Outcome<f64> { Ok(fields.next().ok_or("the account is too short")?.parse()?) };
    Ok((next()? + next()?) / TICKS)
}
