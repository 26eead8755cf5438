//! Words in 10,000 jobs: found where they stand, ranked, with what stands around.

use std::time::Instant;

use archive::{Archive, derive};
use store::{JobId, LogHead, Store};

use super::chance::Chance;
use super::made_up::MadeUp;
use crate::native::Outcome;
use crate::native::results::{Goal, Measured, Results};

const JOBS: u32 = 10_000;
const QUERIES: usize = 300;
/// Milliseconds of the slowest search.
const MOST: f64 = 100.0;

pub(super) fn measure(results: &mut Results) -> Outcome {
    let folder = tempfile::tempdir().map_err(|error| error.to_string())?;
    let store = Store::open(folder.path()).map_err(|error| error.to_string())?;
    let archive = Archive::open(&store).map_err(|error| error.to_string())?;
    let made_up = MadeUp::new()?;
    let plan = made_up.known_plan();
    let mut batch = Vec::new();
    for number in 0..JOBS {
        let inspection = made_up.inspection(number);
        let derived = derive(&plan, &inspection, &[made_up.invoice(number, &inspection)?]);
        batch.push((head(number)?, derived));
        if batch.len() == 1_000 {
            archive.take_in(std::mem::take(&mut batch)).map_err(|error| error.to_string())?;
        }
    }
    archive.take_in(batch).map_err(|error| error.to_string())?;

    let mut chance = Chance::new(5);
    let mut taken: Vec<(f64, String, usize)> = Vec::new();
    for _ in 0..QUERIES {
        let typed = query(&mut chance, made_up.words());
        let start = Instant::now();
        let found = archive.search(&typed, 20, None).map_err(|error| error.to_string())?;
        taken.push((start.elapsed().as_secs_f64() * 1e3, typed, found.jobs));
    }
    taken.sort_by(|one, other| one.0.total_cmp(&other.0));
    let at = |part: usize| taken.get(part * (QUERIES - 1) / 100).map_or(f64::NAN, |it| it.0);
    let slowest = taken.last().map_or_else(String::new, |it| format!("{} in {} jobs", it.1, it.2));
    let found = taken.iter().filter(|it| it.2 > 0).count();
    results.push(Measured {
        id: "search",
        what: format!("search {JOBS} jobs, slowest of {QUERIES}"),
        best: at(0),
        median: at(100),
        unit: "ms",
        goal: Some(Goal::Under(MOST)),
        note: format!(
            "middle {:.1}, 95 % within {:.1} ms; {found} found something; slowest: {slowest}; {} MB",
            at(50),
            at(95),
            size(&folder.path().join("archive")) / 1_000_000
        ),
    });
    one_more(results, &archive, &made_up)
}

/// One job that changed, taken in again among all others.
fn one_more(results: &mut Results, archive: &Archive, made_up: &MadeUp) -> Outcome {
    let plan = made_up.known_plan();
    let mut taken = Vec::new();
    for number in 0..20 {
        let derived = derive(&plan, &made_up.inspection(number + 1), &[]);
        let head = LogHead { seq: 2, ..head(number)? };
        let start = Instant::now();
        archive.take_in(vec![(head, derived)]).map_err(|error| error.to_string())?;
        taken.push(start.elapsed().as_secs_f64() * 1e3);
    }
    taken.sort_by(f64::total_cmp);
    results.push(Measured {
        id: "archive_one_job",
        what: format!("take in a changed job among {JOBS}"),
        best: taken.first().copied().unwrap_or(f64::NAN),
        median: taken.get(taken.len() / 2).copied().unwrap_or(f64::NAN),
        unit: "ms",
        goal: None,
        note: "its rows and words, written through; judging it not counted".to_owned(),
    });
    Ok(())
}

/// One to three words, whole or their beginnings, or two in quotation marks.
fn query(chance: &mut Chance, words: &[String]) -> String {
    if chance.part() < 0.15 {
        return format!("\"{} {}\"", chance.often(words), chance.often(words));
    }
    let words: Vec<String> = (0..=chance.below(3))
        .map(|_| {
            let word = chance.often(words);
            if chance.part() < 0.5 { word.clone() } else { word.chars().take(4).collect() }
        })
        .collect();
    words.join(" ")
}

fn head(number: u32) -> Outcome<LogHead> {
    let job = JobId::new(&format!("B-{number:08}")).map_err(|error| error.to_string())?;
    Ok(LogHead { job, seq: 1, hash: [7; 32] })
}

/// Bytes of a folder.
fn size(folder: &std::path::Path) -> u64 {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries
        .map(|entry| match entry.metadata() {
            Ok(metadata) if metadata.is_dir() => size(&entry.path()),
            Ok(metadata) => metadata.len(),
            Err(_) => 0,
        })
        .sum()
}
