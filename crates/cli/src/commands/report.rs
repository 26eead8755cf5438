//! `nearside report`: the finished pages of a job.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use quantity::UnitSystem;
use report::Options;
use report::content::{Form, Paper};
use serde_json::json;
use store::Sha256Hex;

use crate::data_folder::{Place, read_bytes, write_in_pieces};
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::report_pages::{OfRelease, Pages};
use crate::speaking::Speaking;

/// Typesets the report of a job as a PDF, archival (PDF/A-3a) and accessible (PDF/UA-1).
///
/// The same record gives the same file, byte for byte: the report is dated by the record's last
/// change, not by the clock.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside report 2026-001\n  nearside report 2026-001 --out report.pdf --paper a4 --units si\n  nearside report 2026-001 --form short --out short.pdf\n  nearside report 2026-001 --language es --out informe.pdf"
)]
pub(crate) struct ReportArguments {
    /// The job's number
    job: String,
    /// Where to write the PDF; `report-JOB.pdf` in this folder if left out
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Size of the pages
    #[arg(long, value_enum, default_value_t = PaperSize::Letter)]
    paper: PaperSize,
    /// Units of the values
    #[arg(long, value_enum, default_value_t = Units::Us)]
    units: Units,
    /// How much of it: the short form has the uses, each finding with one photo, what was not examined, the limits, the
    /// terms and the signature
    #[arg(long, value_enum, default_value_t = HowMuch::Full)]
    form: HowMuch,
    #[command(flatten)]
    speaking: Speaking,
    /// Print one JSON object about the file
    #[arg(long)]
    json: bool,
}

/// Size of the pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperSize {
    /// US Letter
    Letter,
    /// A4
    A4,
}

impl PaperSize {
    pub(crate) fn paper(self) -> Paper {
        match self {
            Self::Letter => Paper::Letter,
            Self::A4 => Paper::A4,
        }
    }
}

/// How much of the report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum HowMuch {
    /// Everything
    Full,
    /// A few pages
    Short,
}

/// Units of the values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// United States customary units
    Us,
    /// The International System
    Si,
}

impl Units {
    pub(crate) fn system(self) -> UnitSystem {
        match self {
            Self::Us => UnitSystem::Us,
            Self::Si => UnitSystem::Si,
        }
    }
}

/// The word for a system of units in a bag's state.
pub(crate) fn units_word(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "us",
        UnitSystem::Si => "si",
    }
}

/// The word for a size of pages in a bag's state.
pub(crate) fn paper_word(paper: Paper) -> &'static str {
    match paper {
        Paper::Letter => "letter",
        Paper::A4 => "a4",
    }
}

pub(crate) fn run(place: &Place, arguments: &ReportArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let options = Options {
        units: arguments.units.system(),
        paper: arguments.paper.paper(),
        form: match arguments.form {
            HowMuch::Full => Form::Full,
            HowMuch::Short => Form::Short,
        },
    };
    let spoken = arguments.speaking.of(place, &job.plan)?;
    let pages = Pages::of(&job, &spoken, options, OfRelease::default());
    let out = arguments
        .out
        .clone()
        .unwrap_or_else(|| PathBuf::from(format!("report-{}.pdf", arguments.job)));
    let printed = write_in_pieces(&out, |file| pages.typeset_into(&job, file))?;
    for remark in &printed.remarks {
        eprintln!("note: {remark}");
    }
    let mut stdout = std::io::stdout().lock();
    if arguments.json {
        // What went into a pipe cannot be read again.
        let sha256 = match out.is_file() {
            true => Some(Sha256Hex::of(&read_bytes(&out)?)),
            false => None,
        };
        let object = json!({
            "job": arguments.job,
            "file": out.display().to_string(),
            "pages": printed.pages,
            "bytes": printed.bytes,
            "sha256": sha256.as_ref().map(Sha256Hex::as_str),
            "remarks": printed.remarks,
        });
        writeln!(stdout, "{object}")?;
    } else {
        writeln!(stdout, "{}: {} pages", out.display(), printed.pages)?;
    }
    Ok(())
}
