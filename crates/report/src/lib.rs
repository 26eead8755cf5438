//! The report: a finished assessment as typeset pages.
//!
//! [`typeset`] turns a [`Content`] into one PDF that is archival (PDF/A-3a) and accessible (PDF/UA-1)
//! at once: tagged, with language, title, bookmarks and text alternatives, its fonts inside, the record and the data of its
//! pages attached as JSON. The same content, record and photos always give the same bytes.
//!
//! [`letter`] has the papers between inspector and client: agreement and invoice. [`page()`] turns the same content into a folder of web files for the client, and [`live()`] lays out one part of it for
//! a screen while somebody edits.
//!
//! Everything happens in memory, unless the PDF is written to a file at once ([`typeset_into`]), and every text of the record
//! is data: none of it is ever read as the typesetter's language.

mod compose;
pub mod content;
pub mod drawing;
pub mod letter;
mod live;
mod originals;
mod page;

mod photos;
mod places;
mod plain_text;
mod running;
mod shelf;
mod typeface;
mod view;

pub use compose::{Correction, Issue, Options, Release, compose};
pub use live::{LivePages, Part, as_address, live};
pub use page::{Beside, PageFile, WebPage, page, page_beside};

use std::io::Write;

use typst::foundations::{Datetime, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use content::{Content, Form, Issued, Problem};
use drawing::Sign;
use originals::{NotPut, Originals};
use photos::Slot;
use shelf::Shelf;
use view::{Pictured, View};

/// Most photos that one report can hold.
pub const MOST_PHOTOS: usize = 9999;

/// A typeset report.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typeset {
    /// The PDF file.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// What whoever releases the report should know first: photos that could not be shown, characters that could not
    /// be set. Empty in the ordinary case.
    pub remarks: Vec<String>,
}

/// A report that was written to somebody's file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// How many bytes the PDF has.
    pub bytes: usize,
    /// How many pages it has.
    pub pages: usize,
    /// As in [`Typeset::remarks`].
    pub remarks: Vec<String>,
}

/// How far the typesetting has come; told before each part begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Photos are fetched and drawings made.
    Photos,
    /// Pages are laid out.
    Layout,
    /// The PDF is written.
    Writing,
}

/// Why no report could be made.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// The content contradicts itself.
    #[error("the report's content does not hang together: {}", sentences(.0))]
    Content(Vec<Problem>),
    /// The moment of issue does not exist.
    #[error(
        "the report's date {0:?} is not in the calendar; give year, month, day, hour, minute and second"
    )]
    Issued(Issued),
    /// More photos than a report can hold.
    #[error("the report has {0} photos; at most {MOST_PHOTOS} fit")]
    TooManyPhotos(usize),
    /// A part that the content does not have.
    #[error("the report has no such part: {0:?}")]
    NoSuchPart(Part),
    /// The content cannot be written as JSON.
    #[error("the report's content cannot be written as data")]
    Data(#[from] serde_json::Error),
    /// The pages could not be laid out.
    #[error("the pages could not be laid out: {}", .0.join("; "))]
    Layout(Vec<String>),
    /// The PDF could not be written as the standards for archiving and accessibility ask.
    #[error("the PDF could not be written: {}", .0.join("; "))]
    Writing(Vec<String>),
}

fn sentences(problems: &[Problem]) -> String {
    problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

/// Typesets a report into memory; otherwise as [`typeset_into`].
///
/// # Errors
/// As there.
pub fn typeset(
    content: &Content,
    record: &[u8],
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    progress: &dyn Fn(Stage),
) -> Result<Typeset, ReportError> {
    let Unfilled { pdf, pages, remarks, originals } = unfilled(content, record, photos, progress)?;
    let mut whole = Vec::with_capacity(pdf.len() + originals.bytes() + 64);
    originals.put_into(&pdf, photos, &mut whole).map_err(not_put)?;
    Ok(Typeset { pdf: whole, pages, remarks })
}

/// Typesets a report and writes its PDF to `out`, so that the photos, which are most of it, are never in memory together.
/// After an error `out` may hold a part of it.
///
/// `record` is the record that the content was composed from, as JSON: it is attached as it is, beside the content.
///
/// `photos` returns the upright JPEG copy for a photo's id, or nothing; a photo that is missing or damaged is shown as
/// a panel that says so, and named in [`Typeset::remarks`]. Each photo is asked for twice, when the pages are laid out and
/// when it is written, so that none is held meanwhile.
///
/// # Errors
/// Where the content contradicts itself, the typesetter refuses it or `out` does not take it; see [`ReportError`].
pub fn typeset_into(
    content: &Content,
    record: &[u8],
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    progress: &dyn Fn(Stage),
    out: &mut dyn Write,
) -> Result<Printed, ReportError> {
    let Unfilled { pdf, pages, remarks, originals } = unfilled(content, record, photos, progress)?;
    let bytes = originals.put_into(&pdf, photos, out).map_err(not_put)?;
    Ok(Printed { bytes, pages, remarks })
}

fn not_put(why: NotPut) -> ReportError {
    ReportError::Writing(vec![match why {
        NotPut::NotTaken(why) => why,
        NotPut::NoTable => "the photos found no place in the file".to_owned(),
        NotPut::Changed(id) => {
            format!("photo {id} was changed or taken away while the report was made; make it again")
        }
    }])
}

/// A report with stubs in the places of its photos.
struct Unfilled {
    pdf: Vec<u8>,
    pages: usize,
    remarks: Vec<String>,
    originals: Originals,
}

fn unfilled(
    content: &Content,
    record: &[u8],
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    progress: &dyn Fn(Stage),
) -> Result<Unfilled, ReportError> {
    let issued = issued(content.issued).ok_or(ReportError::Issued(content.issued))?;
    progress(Stage::Photos);
    let Shelved { mut shelf, mut remarks, slots: _, running, originals } =
        shelved(content, photos, None)?;
    shelf.put("/report.json", content.to_json()?);
    shelf.put("/record.json", record.to_vec());

    progress(Stage::Layout);
    let form = match content.form {
        Form::Full => "report",
        Form::Short => "short report",
    };
    let written = Written {
        ident: format!("nearside {form} {}", content.ident),
        program: content.made_by.program.clone(),
        issued,
    };
    let result = write(shelf, written, Some(&running), progress);
    // The typesetter remembers every report for the next one; over many reports that is memory without use.
    typst::comemo::evict(0);
    let (pdf, pages, complaints) = result?;
    remarks.extend(complaints);
    Ok(Unfilled { pdf, pages, remarks, originals })
}

/// Everything that the typesetter reads for a report or a part of it.
struct Shelved {
    shelf: Shelf,
    slots: Vec<Slot>,
    remarks: Vec<String>,
    /// What stands on every page.
    running: serde_json::Value,
    originals: Originals,
}

fn shelved(
    content: &Content,
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    part: Option<Part>,
) -> Result<Shelved, ReportError> {
    let problems = content.problems();
    if !problems.is_empty() {
        return Err(ReportError::Content(problems));
    }
    if content.photos.len() > MOST_PHOTOS {
        return Err(ReportError::TooManyPhotos(content.photos.len()));
    }
    let (settable, unset_characters) = plain_text::settable(content)?;
    let mut shelf = Shelf::new();
    let shown = |photo| part.is_none_or(|part| part.shows(&settable, photo));
    let mut originals = Originals::default();
    let slots = photos::place(&settable, photos, &shown, &mut shelf, &mut originals);
    let mut remarks: Vec<String> = slots.iter().filter_map(|slot| slot.fault.clone()).collect();
    if unset_characters > 0 {
        remarks.push(format!(
            "{unset_characters} characters are not in the report's typefaces; words in brackets say so where they stand."
        ));
    }
    for sign in Sign::ALL {
        shelf.put(&format!("/mark/{}.svg", sign.name()), drawing::sign(sign).into_bytes());
    }
    let views = drawing::views(&settable);
    for view in &views.drawn {
        shelf.put(&format!("/drawing/{}.svg", view.name), view.svg().into_bytes());
    }
    let pictures: Vec<Option<String>> = settable
        .pictures
        .iter()
        .enumerate()
        .map(|(at, picture)| {
            let drawn = drawing::picture(picture, &settable.unit, &settable.drawn)?;
            shelf.put(&format!("/drawing/picture_{}.svg", at + 1), drawn.svg.into_bytes());
            Some(drawn.alt)
        })
        .collect();
    let days: Vec<Option<String>> = settable
        .visit
        .days
        .iter()
        .enumerate()
        .map(|(at, day)| {
            let drawn = drawing::visit(day, &settable.visit.stops, &settable.words)?;
            shelf.put(&format!("/drawing/day_{}.svg", at + 1), drawn.svg.into_bytes());
            Some(drawn.alt)
        })
        .collect();
    let drawn = Pictured { pictures, days };
    let view = View::new(&settable, &slots, &views, drawn, unset_characters);
    shelf.put("/view.json", serde_json::to_vec(&view)?);
    shelf.put("/part.json", part.map_or_else(|| "null".to_owned(), Part::to_json).into_bytes());
    shelf.put("/words.json", plain_text::settable_words(&settable.words)?);
    let language = if content.language.is_empty() { "en" } else { &content.language };
    shelf.put("/language.json", serde_json::to_vec(language)?);
    Ok(Shelved { shelf, slots, remarks, running: running::words(&settable), originals })
}

/// What a PDF says of itself.
struct Written {
    ident: String,
    program: String,
    issued: Datetime,
}

/// Lays out what the shelf begins with; and what the typesetter warns of.
fn laid_out(shelf: &Shelf) -> Result<(PagedDocument, Vec<String>), ReportError> {
    let compiled = typst::compile::<PagedDocument>(shelf);
    let document =
        compiled.output.map_err(|errors| ReportError::Layout(shelf.complaints(&errors)))?;
    Ok((document, shelf.complaints(&compiled.warnings)))
}

/// Lays out and writes what the shelf begins with; `running` are the words of heads and feet that are laid over the pages.
fn write(
    mut shelf: Shelf,
    written: Written,
    running: Option<&serde_json::Value>,
    progress: &dyn Fn(Stage),
) -> Result<(Vec<u8>, usize, Vec<String>), ReportError> {
    let (mut document, warnings) = laid_out(&shelf)?;
    if let Some(words) = running {
        document = running::with_heads(&document, &mut shelf, words)?;
    }

    progress(Stage::Writing);
    // The document has what it shows; what only laid it out would be held while the PDF grows.
    shelf.clear_files();
    typst::comemo::evict(0);
    let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
        .map_err(|error| ReportError::Writing(vec![error.message().to_string()]))?;
    let options = PdfOptions {
        ident: Smart::Custom(written.ident),
        creator: Smart::Custom(Some(written.program).filter(|it| !it.is_empty())),
        timestamp: Some(Timestamp::new_utc(written.issued)),
        standards,
        ..PdfOptions::default()
    };
    let pdf = typst_pdf::pdf(&document, &options)
        .map_err(|errors| ReportError::Writing(shelf.complaints(&errors)))?;
    Ok((pdf, document.pages().len(), warnings))
}

fn issued(issued: Issued) -> Option<Datetime> {
    let Issued { year, month, day, hour, minute, second } = issued;
    // A PDF writes the year with four digits.
    if !(0..=9999).contains(&year) {
        return None;
    }
    Datetime::from_ymd_hms(year, month, day, hour, minute, second)
}
