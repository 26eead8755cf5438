//! `nearside job sheet`: the sheet to fill in.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use crate::data_folder::{Place, write_file};
use crate::failure::Failure;
use crate::open_job::OpenJob;

/// Prints the job's sheet to fill in: every point in walking order, with what the record says already.
///
/// The sheet is a text file with comments; any editor will do. Fill it in, then give it to
/// `nearside job fill`.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside job sheet 2026-001 --out sheet.toml\n  nearside job sheet 2026-001 | less"
)]
pub(crate) struct SheetArguments {
    /// The job's number
    job: String,
    /// The file to write; standard output if left out
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Write over a file that is there already
    #[arg(long)]
    force: bool,
}

pub(crate) fn run(place: &Place, arguments: &SheetArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let assessment = findings::assess(&job.plan, &inspection);
    let text = crate::sheet::write::write(&job.plan, &inspection, &assessment);
    let Some(path) = &arguments.out else {
        std::io::stdout().lock().write_all(text.as_bytes())?;
        return Ok(());
    };
    if path.exists() && !arguments.force {
        return Err(Failure::input(format!("{} is there already", path.display())).hint(
            "it may hold what you filled in; name another file, or write over it with --force",
        ));
    }
    write_file(path, text.as_bytes())?;
    writeln!(
        std::io::stdout().lock(),
        "{}: fill it in, then: nearside job fill {} {0} --photos FOLDER",
        path.display(),
        arguments.job
    )?;
    Ok(())
}
