//! `nearside export`: a job as a bag on disk.

use std::io::Write;
use std::path::PathBuf;

use bag::Bag;
use clap::Args;
use serde_json::json;

use crate::bags::{self, pack, releases};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::report_pages::{OfRelease, Pages};
use crate::speaking::Spoken;

/// Writes a job as a bag: record, plan, photos, assessment, tables and report in one folder or zip file.
///
/// A released job is written as it was released, byte for byte; a job without a release, or any job with --working-copy,
/// as it stands now and unsigned. `nearside job import` reads a bag back.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside export 2026-001\n  nearside export 2026-001 --into 2026-001.zip\n  \
                        nearside export 2026-001 --release 1 --into first"
)]
pub(crate) struct ExportArguments {
    /// The job's number
    job: String,
    /// A new folder, or a new file ending in .zip; a folder named after job and release if left out
    #[arg(long, value_name = "PATH")]
    into: Option<PathBuf>,
    /// Which release; the last one if left out
    #[arg(long, value_name = "NUMBER", conflicts_with = "working_copy")]
    release: Option<u32>,
    /// The job as it stands now, unsigned, even if it was released
    #[arg(long)]
    working_copy: bool,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ExportArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let (bag, name) = chosen(&job, arguments)?;
    let into = arguments.into.clone().unwrap_or_else(|| PathBuf::from(&name));
    bags::write(&job.store, &bag, &name, &into)?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": arguments.job,
            "bag": into.display().to_string(),
            "name": name,
            "files": bag.files.len(),
            "tag_manifest_sha256": bag.tag_manifest_sha256(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{}: {name}, {} files", into.display(), bag.files.len())?;
    Ok(())
}

fn chosen(job: &OpenJob, arguments: &ExportArguments) -> Result<(Bag, String), Failure> {
    let known = releases::list(&job.store, &job.id)?;
    let wanted = match arguments.release {
        Some(number) => {
            let found = known.iter().find(|one| one.number == number);
            Some(found.ok_or_else(|| {
                let numbers: Vec<String> = known.iter().map(|one| one.number.to_string()).collect();
                Failure::input(format!("job {} has no release {number}", job.id)).hint(
                    match numbers.len() {
                        0 => "it was not released yet; `nearside release` does that".to_owned(),
                        _ => format!("releases: {}", numbers.join(", ")),
                    },
                )
            })?)
        }
        None if arguments.working_copy => None,
        None => known.last(),
    };
    let Some(kept) = wanted else {
        let (spoken, options) = (Spoken::plain(&job.plan), ::report::Options::default());
        let pages = Pages::of(job, &spoken, options, OfRelease::default());
        let typeset = pages.typeset(job)?;
        let packed = pack::pack(job, &pages, &typeset, &spoken, options, None)?;
        let name = packed.name();
        return Ok((packed.bag, name));
    };
    let bag = releases::bag(&job.store, kept)?;
    let state = releases::state(&job.store, &bag)?;
    let mut heads: Vec<String> = job.record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    if heads != state.record_heads && arguments.release.is_none() {
        eprintln!(
            "note: the record has changed since release {}; that release is written (the job as it stands now: --working-copy)",
            kept.number
        );
    }
    Ok((bag, pack::name(&state)))
}
