//! What the pages say: every fact of a finished assessment, already as words and formatted numbers.
//!
//! The report prints this and nothing else, and attaches it to the PDF as JSON. Lists refer to each other by
//! *number*: the place in the list, counted from one, which is also the number printed on the page. Every text is
//! taken as text; nothing in it can reach the typesetter's language.

mod again;
mod check;
mod end_matter;
mod evidence;
mod judged;
mod picture;
mod released;
mod visit;

pub use again::{Again, AgainFinding, AgainState};
pub use check::Problem;
pub use end_matter::{
    Basis, CalibrationState, Clause, Instrument, MadeBy, Signature, Source, Trail,
};
pub use evidence::{Face, Mark, OnFace, Outline, Photo, Place, Point, Side};
pub use judged::{
    ExaminedStop, Finding, Judged, NotExamined, Reading, StopWork, System, Use, UseKind, UseState,
    Verdict, When,
};
pub use picture::{Bounds, Picture, Shown};
pub use released::{Accepted, Corrected, Released};
pub use visit::{Day, Gap, Kept, SiteChange, Step, WaitKept};

use plan::Phrases;
use serde::{Deserialize, Serialize};

/// Everything one report shows.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Content {
    /// Size of the pages.
    pub paper: Paper,
    /// How much of it the pages show.
    #[serde(default)]
    pub form: Form,
    /// The language of its sentences, as in a page's `lang`; empty for English.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub language: String,
    /// What the pages' own words are in that language; not part of the data.
    #[serde(skip)]
    pub words: Phrases,
    /// The same for drawings.
    #[serde(skip)]
    pub drawn: Phrases,
    /// Stable identity of this release, such as the record's heads: becomes the PDF's identifier, is not printed.
    pub ident: String,
    /// When the report was issued, coordinated universal time: becomes the PDF's date.
    pub issued: Issued,
    /// The same moment as printed, in local time.
    pub issued_words: String,
    /// The release that it belongs to; none for the job as it stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub released: Option<Released>,
    /// Title of the document.
    pub title: String,
    /// The engagement.
    pub job: Job,
    /// The dwelling on wheels.
    pub unit: Unit,
    /// The result in a few sentences, for a lay reader.
    pub summary: String,
    /// The five uses, each once, in the order of [`UseKind::ALL`].
    pub uses: Vec<Use>,
    /// Matters that cannot wait, and what to do at once.
    pub stop_work: Vec<StopWork>,
    /// What became of the findings of an earlier inspection; none where there was none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again: Option<Again>,
    /// The findings, in the order in which they are numbered: most urgent first.
    pub findings: Vec<Finding>,
    /// Readings by system; numbered straight through.
    pub systems: Vec<System>,
    /// Pictures of values, each beside the readings of its system.
    pub pictures: Vec<Picture>,
    /// What was not examined, and why.
    pub not_examined: Vec<NotExamined>,
    /// What was examined without remark, by stop.
    pub examined: Vec<ExaminedStop>,
    /// The visit as it was kept.
    #[serde(default)]
    pub visit: Kept,
    /// The photos.
    pub photos: Vec<Photo>,
    /// The instruments.
    pub instruments: Vec<Instrument>,
    /// The documents that limits and statements rest on.
    pub sources: Vec<Source>,
    /// Cautions for whoever acts on the report.
    pub cautions: Vec<String>,
    /// The terms of the engagement.
    pub terms: Vec<Clause>,
    /// Digest of the record's history.
    pub trail: Trail,
    /// Entries of the record that could not be used, in sentences.
    pub unused: Vec<String>,
    /// With what the report was made.
    pub made_by: MadeBy,
    /// Who signs.
    pub signature: Signature,
}

impl Content {
    /// The data as they are attached to the PDF and lie beside the page: `report.json`.
    ///
    /// # Errors
    /// Where they cannot be written, as when a number is none.
    pub fn to_json(&self) -> Result<Vec<u8>, serde_json::Error> {
        serde_json::to_vec_pretty(self)
    }
}

/// Size of the pages.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// 8.5 by 11 inches.
    #[default]
    Letter,
    /// 210 by 297 millimetres.
    A4,
}

/// How much of the content the pages show; the attached data are always whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Form {
    /// Everything.
    #[default]
    Full,
    /// Uses, findings with one photo each, what was not examined, limits, terms, signature.
    Short,
}

/// A moment in coordinated universal time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Issued {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month.
    pub day: u8,
    /// Hour, 0 to 23.
    pub hour: u8,
    /// Minute.
    pub minute: u8,
    /// Second.
    pub second: u8,
}

impl Default for Issued {
    /// The start of 1970, so that a report without a date is recognizable and still reproducible.
    fn default() -> Self {
        Self { year: 1970, month: 1, day: 1, hour: 0, minute: 0, second: 0 }
    }
}

/// A name and what it is: `Gross rating`, `7 600 lb`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fact {
    /// What is stated.
    pub name: String,
    /// What it is.
    pub value: String,
}

impl Fact {
    /// A fact from its two texts.
    #[must_use]
    pub fn new(name: &str, value: &str) -> Self {
        Self { name: name.to_owned(), value: value.to_owned() }
    }
}

/// The engagement, as printed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Job {
    /// The job's number.
    pub number: String,
    /// Who asked for it.
    pub client: String,
    /// Where the unit stands.
    pub site: String,
    /// Days of the visits, in words.
    pub visits: Vec<String>,
    /// Weather during the visit.
    pub weather: String,
    /// Who inspected, with credentials as they are to be printed.
    pub inspector: String,
    /// Further particulars: purpose, scope, limits agreed, who was present.
    pub particulars: Vec<Fact>,
}

/// The dwelling, as printed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Unit {
    /// What it is in one line: `2019 travel trailer, maker and model`.
    pub headline: String,
    /// What identifies it, for the front page: kind, maker, model, year, identification number, size.
    pub facts: Vec<Fact>,
    /// Further facts: all ratings, what is fitted.
    pub particulars: Vec<Fact>,
    /// Number of the photo for the front page.
    pub photo: Option<usize>,
    /// Size and layout for its drawings.
    pub outline: Option<Outline>,
}
