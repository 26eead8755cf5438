//! `nearside job import`: a job from a bag.

use std::io::Write;
use std::path::PathBuf;

use bag::{Bag, File, Standing, place};
use clap::Args;
use record::Record;
use serde_json::json;
use store::Chunk;

use crate::bags::{self, Opened, releases, standing};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::{self, summary};

/// Takes a job in from a bag: record, photos, and the release with its signatures.
///
/// The bag is verified first; one in which anything differs is refused. A job that is here already gains the changes, photos
/// and signatures it lacks, and loses nothing.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside job import 2026-001-release-1\n  nearside job import 2026-001.zip"
)]
pub(crate) struct ImportArguments {
    /// The bag: a folder or a zip file
    bag: PathBuf,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ImportArguments) -> Result<(), Failure> {
    let mut opened = bags::open(&arguments.bag)?;
    let found = &opened.verification;
    if found.standing() == Standing::Differs {
        let lines: Vec<String> =
            found.faults.iter().map(|fault| format!("  {}: {}", fault.file, fault.what)).collect();
        return Err(Failure::differs(format!(
            "{} is not what was packed, and nothing was taken in:\n{}",
            arguments.bag.display(),
            lines.join("\n")
        ))
        .hint("take another copy of it"));
    }
    let state = found.state.clone().ok_or_else(|| Failure::failed("the bag has no state"))?;
    let word = standing::word(found.standing());
    let record = Record::load([opened.bytes(place::RECORD)?.as_slice()])?;
    let (inspection, _) = record.inspection();
    if inspection.job.number != state.job {
        return Err(Failure::differs("the bag's record is of another job than the bag says"));
    }
    let id = open_job::job_id(&state.job)?;
    let store = place.store()?;
    let changes: Vec<Chunk> = record
        .changes_after(&[])
        .into_iter()
        .map(|change| Chunk { hash: change.hash.0, bytes: change.bytes })
        .collect();
    let _held = open_job::hold(&store)?;
    let line = summary(&inspection.job, &inspection.dwelling);
    let new_job = store.create_job(&id, &line)?;
    let there = store.changes(&id, 0, usize::MAX)?;
    if !there.is_empty() {
        let kept = Record::load(there.iter().map(|change| change.bytes.as_slice()))?;
        if kept.beginning() != record.beginning() {
            return Err(Failure::input(format!(
                "another job with the number {} is in this data folder already",
                state.job
            ))
            .hint("take the bag into another data folder: --data DIR"));
        }
    }
    let files = take_in_files(&store, &mut opened)?;
    let appended = store.append(&id, &changes)?;
    store.set_summary(&id, &line)?;
    if let Some(release) = &state.release {
        releases::keep(&store, &id, release.number, &Bag { files })?;
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": state.job,
            "new_job": new_job,
            "new_changes": appended.new,
            "photos": inspection.photos.len(),
            "release": state.release.as_ref().map(|release| release.number),
            "standing": word,
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let release = state.release.as_ref().map_or_else(
        || "a working copy, signed by nobody".to_owned(),
        |release| format!("release {} ({word})", release.number),
    );
    writeln!(out, "job {}: {line}", state.job)?;
    writeln!(out, "  {release}; {} new changes, {} photos", appended.new, inspection.photos.len())?;
    Ok(())
}

/// Every file of the bag as a blob, so that a release can be written out again as it was; one at a time in memory.
fn take_in_files(store: &store::Store, opened: &mut Opened) -> Result<Vec<File>, Failure> {
    let mut files = Vec::new();
    for path in opened.paths()? {
        let bytes = opened.bytes(&path)?;
        store.put_blob(&bytes)?;
        let file = File::new(path, bytes);
        files.push(File { bytes: None, ..file });
    }
    Ok(files)
}
