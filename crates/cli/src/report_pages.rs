//! What the pages of a job say, whoever lays them out: the report, the client's page, a release, a comparison.

use std::io::Write;

use ::report::content::{Content, Issued, Trail};
use ::report::{Correction, Issue, Options, Printed, Release, ReportError, Stage, Typeset};
use inspection::{Inspection, Mark};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use record::TrailEntry;
use store::{Sha256Hex, Store};

use crate::failure::Failure;
use crate::json;
use crate::open_job::OpenJob;
use crate::progress;
use crate::speaking::Spoken;

/// What pages say of the release that they belong to; nothing of either for a job as it stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct OfRelease {
    /// When and how it was signed; empty for a line to sign on.
    pub(crate) signed: String,
    /// Which release, what it corrects, what was open.
    pub(crate) issue: Option<Issue>,
}

impl OfRelease {
    /// What is to be said of a release.
    pub(crate) fn new(release: &bag::Release, signed: String) -> Self {
        let corrects = release.corrects.as_ref().map(|corrects| Correction {
            number: corrects.release,
            at: moment(corrects.released_at.as_deref().unwrap_or_default()),
            because: corrects.because.clone(),
        });
        let accepted = release.accepted.iter();
        let issue = Issue {
            number: release.number,
            at: moment(&release.released_at),
            corrects,
            accepted: accepted.map(|one| (one.matter.clone(), one.words.clone())).collect(),
        };
        Self { signed, issue: Some(issue) }
    }
}

/// What the pages of a job say, and where their photos are.
pub(crate) struct Pages {
    pub(crate) content: Content,
    inspection: Inspection,
}

impl Pages {
    pub(crate) fn of(
        job: &OpenJob,
        spoken: &Spoken,
        options: Options,
        of_release: OfRelease,
    ) -> Self {
        let inspection = job.inspection();
        let content = content(&inspection, &job.record.trail(), spoken, options, of_release);
        Self { content, inspection }
    }

    /// The upright copy of a photo as it is handed out.
    pub(crate) fn photo(&self, job: &OpenJob, id: &str) -> Option<Vec<u8>> {
        copy_to_hand_out(&job.store, self.inspection.photos.get(id)?)
    }

    /// The printed report, with progress on a terminal.
    pub(crate) fn typeset(&self, job: &OpenJob) -> Result<Typeset, Failure> {
        shown(|stage| self.typeset_told(job, stage))
    }

    /// The same, written at once, with its photos one by one.
    pub(crate) fn typeset_into(
        &self,
        job: &OpenJob,
        out: &mut dyn Write,
    ) -> Result<Printed, Failure> {
        let record = json::record(&self.inspection, &job.record.trail());
        let photo = |id: &str| self.photo(job, id);
        shown(|stage| {
            ::report::typeset_into(&self.content, record.as_bytes(), &photo, stage, out)
                .map_err(|error| not_made(&error))
        })
    }

    /// The same, telling somebody else how far it has come.
    pub(crate) fn typeset_told(
        &self,
        job: &OpenJob,
        stage: &dyn Fn(Stage),
    ) -> Result<Typeset, Failure> {
        let record = json::record(&self.inspection, &job.record.trail());
        ::report::typeset(&self.content, record.as_bytes(), &|id| self.photo(job, id), stage)
            .map_err(|error| not_made(&error))
    }
}

fn not_made(error: &ReportError) -> Failure {
    Failure::failed(format!("no report could be made: {error}"))
}

/// Does it with its progress on a terminal.
fn shown<T>(make: impl FnOnce(&dyn Fn(Stage)) -> Result<T, Failure>) -> Result<T, Failure> {
    let bar = progress::bar(3, "report");
    let made = make(&|stage| {
        bar.set_position(match stage {
            Stage::Photos => 0,
            Stage::Layout => 1,
            Stage::Writing => 2,
        });
    })?;
    bar.finish_and_clear();
    Ok(made)
}

/// What pages say of an inspection.
pub(crate) fn content(
    inspection: &Inspection,
    trail: &[TrailEntry],
    spoken: &Spoken,
    options: Options,
    of_release: OfRelease,
) -> Content {
    let assessment = findings::assess_in(&spoken.plan, inspection, options.units);
    let texts = spoken.texts.clone().unwrap_or_default();
    let OfRelease { signed, issue } = of_release;
    let release = Release { signed, issue, texts, ..release(trail) };
    ::report::compose(&spoken.plan, inspection, &assessment, &release, options)
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
    Timestamp::from_second(unix_seconds).map_or_else(|_| Issued::default(), of_timestamp)
}

/// A moment as a release writes it: `2026-06-12T18:00:00Z`.
fn moment(words: &str) -> Issued {
    words.parse().map_or_else(|_| Issued { year: i32::MAX, ..Issued::default() }, of_timestamp)
}

fn of_timestamp(timestamp: Timestamp) -> Issued {
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
