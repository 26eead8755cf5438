//! `nearside report`: the finished pages of a job.

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use inspection::{Inspection, Mark};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use quantity::UnitSystem;
use record::TrailEntry;
use report::content::{Content, Form, Issued, Paper, Trail};
use report::{Options, Release, Stage, Typeset};
use serde_json::json;
use store::{Sha256Hex, Store};

use crate::data_folder::{Place, write_file};
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::progress;
use crate::speaking::{Speaking, Spoken};

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
    let typeset = typeset(&job, &spoken, options, String::new())?;
    let out = arguments
        .out
        .clone()
        .unwrap_or_else(|| PathBuf::from(format!("report-{}.pdf", arguments.job)));
    write_file(&out, &typeset.pdf)?;
    for remark in &typeset.remarks {
        eprintln!("note: {remark}");
    }
    let mut stdout = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": arguments.job,
            "file": out.display().to_string(),
            "pages": typeset.pages,
            "bytes": typeset.pdf.len(),
            "sha256": Sha256Hex::of(&typeset.pdf).as_str(),
            "remarks": typeset.remarks,
        });
        writeln!(stdout, "{object}")?;
    } else {
        writeln!(stdout, "{}: {} pages", out.display(), typeset.pages)?;
    }
    Ok(())
}

/// The pages of a job, with progress on a terminal. `signed` says when and how it was signed; empty for a line to sign on.
pub(crate) fn typeset(
    job: &OpenJob,
    spoken: &Spoken,
    options: Options,
    signed: String,
) -> Result<Typeset, Failure> {
    let bar = progress::bar(3, "report");
    let stage = |stage: Stage| {
        bar.set_position(match stage {
            Stage::Photos => 0,
            Stage::Layout => 1,
            Stage::Writing => 2,
        });
    };
    let typeset = typeset_told(job, spoken, options, signed, &stage)?;
    bar.finish_and_clear();
    Ok(typeset)
}

/// The same, telling somebody else how far it has come.
pub(crate) fn typeset_told(
    job: &OpenJob,
    spoken: &Spoken,
    options: Options,
    signed: String,
    stage: &dyn Fn(Stage),
) -> Result<Typeset, Failure> {
    let pages = Pages::of(job, spoken, options, signed);
    report::typeset(&pages.content, &|id| pages.photo(job, id), stage)
        .map_err(|error| Failure::failed(format!("no report could be made: {error}")))
}

/// What the pages of a job say, and where their photos are.
pub(crate) struct Pages {
    pub(crate) content: Content,
    inspection: Inspection,
}

impl Pages {
    pub(crate) fn of(job: &OpenJob, spoken: &Spoken, options: Options, signed: String) -> Self {
        let inspection = job.inspection();
        let assessment = findings::assess_in(&spoken.plan, &inspection, options.units);
        let texts = spoken.texts.clone().unwrap_or_default();
        let release = Release { signed, texts, ..release(&job.record.trail()) };
        let content = report::compose(&spoken.plan, &inspection, &assessment, &release, options);
        Self { content, inspection }
    }

    /// The upright copy of a photo as it is handed out.
    pub(crate) fn photo(&self, job: &OpenJob, id: &str) -> Option<Vec<u8>> {
        copy_to_hand_out(&job.store, self.inspection.photos.get(id)?)
    }
}

/// The upright copy of a photo, its parts blurred that are to be, cut and turned as is kept. One that does not match its hash,
/// or cannot be decoded, counts as missing, which the remarks say.
pub(crate) fn copy_to_hand_out(store: &Store, photo: &inspection::Photo) -> Option<Vec<u8>> {
    handed_out(store, photo, &photo.copy)
}

/// The same of any upright copy of the photo, by its hash.
pub(crate) fn handed_out(store: &Store, photo: &inspection::Photo, copy: &str) -> Option<Vec<u8>> {
    let hash = Sha256Hex::new(copy).ok()?;
    let copy = store.blob(&hash).ok().flatten()?;
    let parts: Vec<photo::Part> = photo
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Blur { from, to } => Some(photo::Part { from: *from, to: *to }),
            Mark::Arrow { .. } | Mark::Box { .. } | Mark::Circle { .. } | Mark::Words { .. } => {
                None
            }
        })
        .collect();
    let cut = photo.crop.map(|crop| {
        let [left, top, right, bottom] = crop.edges();
        photo::Cut {
            part: photo::Part { from: (left, top), to: (right, bottom) },
            turns: crop.turns,
        }
    });
    photo::handed_out(&photo.file_name, &copy, &parts, cut).ok()
}

/// What a report states of the record: its heads, and the time of its last change.
pub(crate) fn release(trail: &[TrailEntry]) -> Release {
    let last = trail.iter().map(|entry| entry.at_unix_seconds).max().unwrap_or(0);
    let mut heads: Vec<String> = trail.iter().map(|entry| entry.hash.to_string()).collect();
    for entry in trail {
        for earlier in &entry.deps {
            let earlier = earlier.to_string();
            heads.retain(|hash| *hash != earlier);
        }
    }
    heads.sort();
    let mut people: Vec<String> = trail.iter().map(|entry| entry.person.clone()).collect();
    people.sort();
    people.dedup();
    people.retain(|person| !person.is_empty());
    let first = trail.iter().map(|entry| entry.at_unix_seconds).min().unwrap_or(0);
    Release {
        issued: issued(last),
        trail: Trail { heads, changes: trail.len(), people, span: span(first, last) },
        program: format!("Nearside {}", env!("CARGO_PKG_VERSION")),
        ..Release::default()
    }
}

/// When the record was changed last: what a paper made of it is dated by.
pub(crate) fn last_change(trail: &[TrailEntry]) -> Issued {
    issued(trail.iter().map(|entry| entry.at_unix_seconds).max().unwrap_or(0))
}

/// First and last change, in universal time.
fn span(first: i64, last: i64) -> String {
    let words = |seconds: i64| {
        let moment = issued(seconds);
        format!(
            "{:04}-{:02}-{:02} {:02}:{:02} UTC",
            moment.year, moment.month, moment.day, moment.hour, moment.minute
        )
    };
    if words(first) == words(last) {
        words(first)
    } else {
        format!("{} to {}", words(first), words(last))
    }
}

fn issued(unix_seconds: i64) -> Issued {
    let Ok(timestamp) = Timestamp::from_second(unix_seconds) else { return Issued::default() };
    let moment = timestamp.to_zoned_datetime(TimeZone::UTC).datetime();
    let part = |number: i8| u8::try_from(number).unwrap_or(0);
    Issued {
        year: i32::from(moment.year()),
        month: part(moment.month()),
        day: part(moment.day()),
        hour: part(moment.hour()),
        minute: part(moment.minute()),
        second: part(moment.second()),
    }
}
