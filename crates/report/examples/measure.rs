//! Makes a report of many pages from invented data, for `cargo xtask bench --only report`.
//!
//! `measure FOLDER SIZE pdf|page|edits`: the photos are those in `FOLDER/photos`; SIZE is `60`, `120` or `240`, about as many
//! pages; `pdf` writes the report, `page` the same content as one HTML file for other programs to print, `edits` tells what
//! an edit costs in one process. What it measured is printed as one JSON object.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a program to run by hand: it reads files and the process's own account, and prints"
)]

#[allow(dead_code, reason = "the tests use the rest of it")]
#[path = "../tests/it/sample.rs"]
mod sample;

use std::env;
use std::error::Error;
use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::Path;

use report::content::{Content, Paper};
use report::{Part, live, page, typeset, typeset_into};
use serde_json::json;

/// As in `nearside`: what is measured is what people run.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

type Outcome<T = ()> = Result<T, Box<dyn Error>>;

/// Ticks in a second as Linux tells processes of them (proc(5), USER_HZ).
const TICKS: f64 = 100.0;

fn main() -> Outcome {
    let words: Vec<String> = env::args().skip(1).collect();
    let [folder, size, act] = words.as_slice() else {
        return Err("measure FOLDER 60|120|240 pdf|page|edits".into());
    };
    let folder = Path::new(folder);
    let content = content(size.parse()?)?;
    let photo = |id: &str| fs::read(folder.join(format!("photos/{}.jpg", id.get(60..)?))).ok();
    let said = match act.as_str() {
        "pdf" => {
            let mut file = BufWriter::new(File::create(folder.join("report.pdf"))?);
            let record = record(&content)?;
            let made = typeset_into(&content, &record, &photo, &|_| {}, &mut file)?;
            file.flush()?;
            json!({"pages": made.pages, "bytes": made.bytes, "remarks": made.remarks})
        }
        "page" => written(folder, &content, &photo)?,
        "edits" => edits(content, &photo)?,
        other => return Err(format!("`{other}` is no act").into()),
    };
    let mut said = said;
    said["photos"] = json!(size_of(size.parse()?)?.1);
    said["peak_megabytes"] = json!(peak_megabytes()?);
    println!("{said}");
    Ok(())
}

/// Findings, photos, and how often the readings of the sample stand in the report.
fn size_of(pages: usize) -> Outcome<(usize, usize, usize)> {
    match pages {
        60 => Ok((48, 100, 20)),
        120 => Ok((96, 240, 40)),
        240 => Ok((192, 500, 80)),
        _ => Err("the sizes are 60, 120 and 240".into()),
    }
}

/// The tests' sample with more findings, photos and readings.
fn content(pages: usize) -> Outcome<Content> {
    let (findings, photos, repeats) = size_of(pages)?;
    let mut content = sample::sample(Paper::Letter);
    let (some, shots) = (content.findings.clone(), content.photos.clone());
    content.photos = (0..photos)
        .map(|at| {
            let mut photo = shots[at % shots.len()].clone();
            photo.id = format!("{:060x}{:04}", 0, at + 1);
            photo
        })
        .collect();
    content.findings = (0..findings)
        .map(|at| {
            let mut finding = some[at % some.len()].clone();
            finding.title = format!("{}, no. {}", finding.title, at + 1);
            finding.photos =
                (at * photos / findings..(at + 1) * photos / findings).map(|it| it + 1).collect();
            if at >= some.len() {
                finding.stops.clear();
                (finding.place, finding.side) = (None, None);
            }
            finding
        })
        .collect();
    let systems = content.systems.clone();
    for time in 2..=repeats {
        content.systems.extend(systems.iter().cloned().map(|mut system| {
            system.name = format!("{}, part {time}", system.name);
            system
        }));
    }
    Ok(content)
}

/// What is attached as the record: the content stands in for it, which is about as long.
fn record(content: &Content) -> Outcome<Vec<u8>> {
    Ok(serde_json::to_vec_pretty(content)?)
}

/// The client's page as one file, without what only a screen needs.
fn written(
    folder: &Path,
    content: &Content,
    photo: &dyn Fn(&str) -> Option<Vec<u8>>,
) -> Outcome<serde_json::Value> {
    let made = page(content, photo, None)?;
    let leaf = |name: &str| -> Outcome<String> {
        let file = made.files.iter().find(|file| file.name == name).ok_or("a leaf is missing")?;
        Ok(String::from_utf8(file.bytes.clone())?)
    };
    for file in &made.files {
        let path = folder.join("page").join(&file.name);
        fs::create_dir_all(path.parent().ok_or("a file without a folder")?)?;
        fs::write(path, &file.bytes)?;
    }
    let (index, readings) = (leaf("index.html")?, leaf("readings.html")?);
    let inside = readings
        .split_once("<main")
        .and_then(|(_, rest)| rest.split_once('>')?.1.split_once("</main>"))
        .ok_or("the readings have no main part")?
        .0;
    let (before, after) = index.split_once("</main>").ok_or("the page has no main part")?;
    let whole = format!("{before}{inside}</main>{after}").replace(" loading=\"lazy\"", "");
    fs::write(folder.join("page/whole.html"), &whole)?;
    Ok(json!({"bytes": whole.len(), "remarks": made.remarks}))
}

/// Processor seconds of the whole report cold and after an edit, and of parts of it.
fn edits(
    mut content: Content,
    photo: &dyn Fn(&str) -> Option<Vec<u8>>,
) -> Outcome<serde_json::Value> {
    let before = own_seconds()?;
    let record = record(&content)?;
    let pages = typeset(&content, &record, photo, &|_| {})?.pages;
    let cold = own_seconds()? - before;
    let mut after = Vec::new();
    for time in 0..3 {
        content.findings[1].statement.push_str(&format!(" Edited, time {time}."));
        let before = own_seconds()?;
        typeset(&content, &record, photo, &|_| {})?;
        after.push(own_seconds()? - before);
    }
    let address = |id: &str| format!("photos/{id}.jpg");
    let mut parts = serde_json::Map::new();
    let largest = (1..=content.systems.len())
        .max_by_key(|system| content.systems[system - 1].readings.len())
        .unwrap();
    for (name, part) in [
        ("front", Part::Front),
        ("overview", Part::Overview),
        ("finding", Part::Finding(2)),
        ("readings", Part::Readings(largest)),
        ("sources", Part::Sources),
    ] {
        let before = own_seconds()?;
        let pages = live(&content, part, photo, &address)?.pages.len();
        let cold = own_seconds()? - before;
        // Ten edits, so that the ticks of the account say enough.
        let before = own_seconds()?;
        for time in 0..10 {
            content.findings[1].statement.push_str(&format!(" Part edited, time {time}."));
            content.systems[largest - 1].note.push_str(&format!(" Edited, time {time}."));
            live(&content, part, photo, &address)?;
        }
        let edit = (own_seconds()? - before) / 10.0;
        parts.insert(name.to_owned(), json!({"pages": pages, "cold": cold, "edit": edit}));
    }
    after.sort_by(f64::total_cmp);
    Ok(json!({"pages": pages, "cold": cold, "edit": after[1], "parts": parts}))
}

/// User and system time of this process, all threads together.
fn own_seconds() -> Outcome<f64> {
    let account = fs::read_to_string("/proc/self/stat")?;
    // The second field is the program's name in brackets and may hold blanks.
    let (_, fields) = account.rsplit_once(')').ok_or("no account of this process")?;
    let mut fields = fields.split_whitespace().skip(11);
    let mut next =
        || -> Outcome<f64> { Ok(fields.next().ok_or("the account is too short")?.parse()?) };
    Ok((next()? + next()?) / TICKS)
}

/// The most memory that this process ever held, 10⁶ bytes.
fn peak_megabytes() -> Outcome<f64> {
    let status = fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kibibytes: f64 = line
        .and_then(|line| line.split_whitespace().next())
        .ok_or("the account names no memory")?
        .parse()?;
    Ok(kibibytes * 1024.0 / 1e6)
}
