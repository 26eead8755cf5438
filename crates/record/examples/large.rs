//! How long a large record takes: 250 points, 1,500 readings, 200 photos, 60 findings.
//!
//! `cargo run --release -p record --example large` prints a table; times are the best of several.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a tool for developers")]
#![allow(clippy::disallowed_methods, reason = "measuring reads the clock; the core does not")]
#![allow(clippy::cast_precision_loss, reason = "kilobytes and milliseconds for reading")]
#![allow(dead_code, reason = "shares the fixtures of the tests")]

#[path = "../tests/it/fixtures.rs"]
mod fixtures;

use std::time::Instant;

use fixtures::*;
use inspection::Outcome;
use record::{Edit, Record};

const POINTS: usize = 250;
const READINGS: usize = 1_500;
const PHOTOS: usize = 200;
const FINDINGS: usize = 60;

fn best<T>(times: usize, mut run: impl FnMut() -> T) -> (f64, T) {
    let mut fastest = f64::INFINITY;
    let mut last = None;
    for _ in 0..times {
        let started = Instant::now();
        last = Some(run());
        fastest = fastest.min(started.elapsed().as_secs_f64() * 1e3);
    }
    (fastest, last.unwrap())
}

/// Lower-case hexadecimal that looks like a hash: no two runs of it compress into one.
fn name_of_blob(number: usize) -> String {
    let mut state = u64::try_from(number).unwrap() + 1;
    (0..4)
        .map(|_| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            format!("{:016x}", state ^ (state >> 29))
        })
        .collect()
}

fn build() -> Record {
    let plan = PLAN.repeat(2_000);
    let mut job = job();
    job.plan_hash.clear();
    let mut record = Record::create(&phone(), NOON, &job, &dwelling(), &plan).unwrap();
    let author = phone();
    let mut at = NOON;
    let mut edit = |record: &mut Record, edit: Edit| {
        at += 7;
        record.edit(&author, at, edit).unwrap().unwrap();
    };
    for number in 0..POINTS {
        let mut after = point(Outcome::Examined);
        if number % 5 == 0 {
            after.notes = format!("Note {number}: worn, to be watched at the next visit.");
            after.defects = vec![("worn".into(), vec!["left_front".into(), "right_rear".into()])];
        }
        let point = format!("point_number_{number}").into();
        edit(&mut record, Edit::SetPoint { point, before: None, after });
    }
    for number in 0..READINGS {
        let id = record.fresh_id(&author, 0).into();
        let mut reading = reading(
            &format!("point_number_{}", number % POINTS),
            "loaded",
            &format!("{}.{} V", 110 + number % 12, number % 10),
        );
        reading.position = format!("outlet_{}", number % 6);
        reading.instrument = Some("meter".into());
        edit(&mut record, Edit::AddReading { id, reading });
    }
    for number in 0..PHOTOS {
        let mut photo = photo(&format!("IMG_{number:04}.jpg"));
        photo.taken = Some(moment("2026-06-12T09:30:01"));
        photo.point = Some(format!("point_number_{}", number % POINTS).into());
        photo.caption = format!("What photo {number} shows");
        photo.copy = name_of_blob(number + 1_000);
        photo.thumbnail = name_of_blob(number + 2_000);
        photo.camera = "Example Cam 1".into();
        photo.sharpness = 100.0 + number as f64 / 7.0;
        photo.brightness = 90.0 + number as f64 / 3.0;
        photo.likeness = u64::try_from(number).unwrap().wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let id = name_of_blob(number).into();
        edit(&mut record, Edit::AddPhoto { id, photo: Box::new(photo) });
    }
    for number in 0..FINDINGS {
        let id = record.fresh_id(&author, 0).into();
        let mut finding = finding(&format!("Finding {number}"));
        finding.photos = vec![name_of_blob(number).into(), name_of_blob(number + 60).into()];
        edit(&mut record, Edit::AddFinding { id, finding: Box::new(finding) });
    }
    record
}

fn main() {
    let (built, record) = best(1, build);
    let changes = record.changes_after(&[]);
    let raw: usize = changes.iter().map(|change| change.bytes.len()).sum();
    let (saving, saved) = best(3, || record.save());
    println!("{} changes, {:.2} ms each", changes.len(), built / changes.len() as f64);
    println!("changes {:.0} KB, saved {:.0} KB", raw as f64 / 1e3, saved.len() as f64 / 1e3);
    println!("save                      {saving:8.2} ms");
    let (time, loaded) = best(5, || Record::load([&saved[..]]).unwrap());
    println!("load, saved record        {time:8.2} ms");
    let (time, _) =
        best(3, || Record::load(changes.iter().map(|change| &change.bytes[..])).unwrap());
    println!("load, single changes      {time:8.2} ms");
    let (time, (inspection, problems)) = best(20, || loaded.inspection());
    println!("inspection                {time:8.2} ms");
    assert!(problems.is_empty());
    assert_eq!(inspection.readings.len(), READINGS);
    assert_eq!(inspection.points.len(), POINTS);
    assert_eq!(inspection.photos.len(), PHOTOS);
    let (time, _) = best(20, || loaded.conflicts());
    println!("conflicts                 {time:8.2} ms");
    let (time, _) = best(5, || loaded.trail());
    println!("trail                     {time:8.2} ms");
    let (time, _) = best(20, || loaded.clone());
    println!("clone                     {time:8.2} ms");
    let edit =
        Edit::AddReading { id: "one_more".into(), reading: reading("p", "loaded", "117.3 V") };
    let mut copies = vec![loaded.clone(); 10].into_iter();
    let (time, change) =
        best(10, || copies.next().unwrap().edit(&laptop(), NOON, edit.clone()).unwrap().unwrap());
    println!("one edit                  {time:8.2} ms");
    let mut copies = vec![loaded; 10].into_iter();
    let (time, _) = best(10, || copies.next().unwrap().apply(&change.bytes).unwrap());
    println!("one change taken in       {time:8.2} ms");
}
