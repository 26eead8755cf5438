//! `nearside page`: the client's page of a job.

use std::io::Write;
use std::path::{Path, PathBuf};

use bag::place;
use clap::Args;
use report::{Options, WebPage};
use serde_json::json;

use crate::bags::releases;
use crate::commands::report::{Units, units_word};
use crate::data_folder::{Place, write_file};
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::report_pages::{OfRelease, Pages};
use crate::speaking::{Speaking, Spoken};

/// Name of the printed report in the page's folder.
pub(crate) const PDF: &str = "report.pdf";

/// Writes the client's page of a job: a folder of web files with the printed report beside them.
///
/// Open `index.html` in a browser, or put the folder on any web host. It says what the report says, reads well on a
/// phone, prints, and needs neither a network nor a script. While the record is what the last release froze, it says which
/// release that is and what it corrects; the printed report beside it is then the signed one, if language and units are the
/// release's.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside page 2026-001\n  nearside page 2026-001 --into for-the-client --units si\n  nearside page 2026-001 --language es"
)]
pub(crate) struct PageArguments {
    /// The job's number
    job: String,
    /// Folder to write, new or empty; `page-JOB` in this folder if left out
    #[arg(long, value_name = "DIR")]
    into: Option<PathBuf>,
    /// Units of the values
    #[arg(long, value_enum, default_value_t = Units::Us)]
    units: Units,
    /// Leave the printed report out
    #[arg(long)]
    without_pdf: bool,
    #[command(flatten)]
    speaking: Speaking,
    /// Print one JSON object about the folder
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &PageArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let folder =
        arguments.into.clone().unwrap_or_else(|| PathBuf::from(format!("page-{}", arguments.job)));
    refuse_used(&folder)?;
    let options = Options { units: arguments.units.system(), ..Options::default() };
    let spoken = arguments.speaking.of(place, &job.plan)?;
    let (pages, pdf) = pages_of(&job, &spoken, options, !arguments.without_pdf)?;
    let page = write(&job, &pages, &folder, pdf.as_deref())?;
    for remark in &page.remarks {
        eprintln!("note: {remark}");
    }
    let first = folder.join("index.html");
    let mut stdout = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": arguments.job,
            "folder": folder.display().to_string(),
            "page": first.display().to_string(),
            "files": page.files.len() + usize::from(pdf.is_some()),
            "bytes": page.files.iter().map(|file| file.bytes.len()).sum::<usize>() + pdf.map_or(0, |pdf| pdf.len()),
            "remarks": page.remarks,
        });
        writeln!(stdout, "{object}")?;
    } else {
        writeln!(stdout, "{}: open it in a browser", first.display())?;
    }
    Ok(())
}

/// A photo or finding that was taken out since must not stay behind in a client's folder.
fn refuse_used(folder: &Path) -> Result<(), Failure> {
    let used = match std::fs::read_dir(folder) {
        Ok(mut entries) => entries.next().is_some(),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => false,
        Err(error) => return Err(Failure::input(format!("{}: {error}", folder.display()))),
    };
    if used {
        return Err(Failure::input(format!("{} is not empty", folder.display()))
            .hint("name a new folder with --into DIR: what an earlier page left must not reach the client"));
    }
    Ok(())
}

/// What the page of a job says, and the printed report that belongs beside it, if it is wanted.
///
/// While the record is what the last release froze, the page says which release that is; and if it was released in the
/// language and units that are wanted, the report beside it is the signed one.
pub(crate) fn pages_of(
    job: &OpenJob,
    spoken: &Spoken,
    options: Options,
    with_pdf: bool,
) -> Result<(Pages, Option<Vec<u8>>), Failure> {
    let released = releases::standing(job)?;
    let release = released.as_ref().and_then(|(state, _)| state.release.as_ref());
    let of_release = release.map(|release| OfRelease::new(release, String::new()));
    let pages = Pages::of(job, spoken, options, of_release.unwrap_or_default());
    if !with_pdf {
        return Ok((pages, None));
    }
    let signed = released.filter(|(state, _)| {
        let report = &state.report;
        let language = report.language.as_deref().unwrap_or("en");
        let texts = report.texts_sha256.map(|sha256| sha256.to_string());
        report.units == units_word(options.units)
            && language == spoken.plan.language
            && texts == spoken.texts
    });
    let pdf = match signed {
        Some((_, bag)) => releases::content(&job.store, &bag, place::REPORT)?,
        // What nobody signed does not call itself a release.
        None => Pages::of(job, spoken, options, OfRelease::default()).typeset(job)?.pdf,
    };
    Ok((pages, Some(pdf)))
}

/// The page of a job, with or without a place for the printed report.
pub(crate) fn made(job: &OpenJob, pages: &Pages, with_pdf: bool) -> Result<WebPage, Failure> {
    report::page(&pages.content, &|id| pages.photo(job, id), with_pdf.then_some(PDF))
        .map_err(|error| Failure::failed(format!("no page could be made: {error}")))
}

/// Writes the page of a job into a folder, the printed report beside it.
pub(crate) fn write(
    job: &OpenJob,
    pages: &Pages,
    folder: &Path,
    pdf: Option<&[u8]>,
) -> Result<WebPage, Failure> {
    let page = made(job, pages, pdf.is_some())?;
    for file in &page.files {
        let path = folder.join(&file.name);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)
                .map_err(|error| Failure::failed(format!("{}: {error}", parent.display())))?;
        }
        write_file(&path, &file.bytes)?;
    }
    if let Some(pdf) = pdf {
        write_file(&folder.join(PDF), pdf)?;
    }
    Ok(page)
}
