//! `nearside archive export`: the tables for other people's programs.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use ::archive::{ArchiveError, Filter, Sheets, data_package, readme};
use clap::Args;
use serde_json::json;

use super::up_to_date;
use crate::data_folder::{Place, write_file};
use crate::failure::Failure;
use crate::today;

/// Writes the archive's figures into a new folder: a row a job and a row for each of its points, as Parquet and as CSV,
/// with what every column means.
///
/// No client's name, address or identification number is in them.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside archive export figures\n  nearside archive export figures --json"
)]
pub(crate) struct ExportArguments {
    /// Folder to write into; it must be new or empty
    into: PathBuf,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Why writing stopped: the archive, or the disk.
enum Stopped {
    Archive(ArchiveError),
    Disk(std::io::Error),
}

impl From<ArchiveError> for Stopped {
    fn from(error: ArchiveError) -> Self {
        Self::Archive(error)
    }
}

impl From<std::io::Error> for Stopped {
    fn from(error: std::io::Error) -> Self {
        Self::Disk(error)
    }
}

pub(crate) fn run(place: &Place, arguments: &ExportArguments) -> Result<(), Failure> {
    let into = &arguments.into;
    let said = |error: std::io::Error| Failure::failed(format!("{}: {error}", into.display()));
    if into.exists() && (!into.is_dir() || std::fs::read_dir(into).map_err(said)?.next().is_some())
    {
        return Err(Failure::input(format!("{} is not an empty folder", into.display()))
            .hint("name a new one; nothing is written over"));
    }
    let archive = up_to_date(place)?;
    std::fs::create_dir_all(into).map_err(said)?;
    let (jobs, points) =
        (create(&into.join("jobs.parquet"))?, create(&into.join("points.parquet"))?);
    let (mut jobs, mut points) = archive.write_tables(&Filter::default(), jobs, points)?;
    jobs.flush().and_then(|()| points.flush()).map_err(said)?;
    let (jobs_csv, points_csv) =
        (create(&into.join("jobs.csv"))?, create(&into.join("points.csv"))?);
    let mut sheets = Sheets::new(jobs_csv, points_csv).map_err(said)?;
    let (mut jobs, mut points) = (0, 0);
    archive
        .each_job(&Filter::default(), |job, rows| -> Result<(), Stopped> {
            jobs += 1;
            points += rows.len();
            Ok(sheets.push(job, rows)?)
        })
        .map_err(|stopped| match stopped {
            Stopped::Archive(error) => error.into(),
            Stopped::Disk(error) => said(error),
        })?;
    sheets.finish().map_err(said)?;
    let day = today::today().to_string();
    write_file(&into.join("README.md"), readme(jobs, points, &day).as_bytes())?;
    let package = format!("{:#}\n", data_package());
    write_file(&into.join("datapackage.json"), package.as_bytes())?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let folder = into.display().to_string();
        writeln!(out, "{}", json!({"folder": folder, "jobs": jobs, "points": points}))?;
    } else {
        writeln!(
            out,
            "{}: {jobs} jobs, {points} points; README.md says what is in it",
            into.display()
        )?;
    }
    Ok(())
}

fn create(path: &Path) -> Result<BufWriter<File>, Failure> {
    let file = File::create_new(path);
    file.map(BufWriter::new)
        .map_err(|error| Failure::failed(format!("{}: {error}", path.display())))
}
