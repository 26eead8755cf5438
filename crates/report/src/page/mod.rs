//! The client's page: the same content as the printed report, as a folder of web files that needs no server, no
//! script and no network.
//!
//! `index.html` links only what lies beside it, so that the folder works from a disk, from any host and under a strict
//! content policy. The script adds a filter and a large view of the photos; without it everything is still there.

mod again;
mod end;
mod findings;
mod front;
mod links;
mod parts;
mod readings;
mod released;
mod visit;

use maud::{DOCTYPE, Markup, html};

use crate::ReportError;
use crate::content::Content;
use crate::drawing::{self, UnitView};
use crate::photos::jpeg_size;
use crate::plain_text;
use crate::view::{Pictured, View};

/// The client's page with everything it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WebPage {
    /// The files, `index.html` first.
    pub files: Vec<PageFile>,
    /// What whoever releases the page should know first: photos that could not be shown. Empty in the ordinary case.
    pub remarks: Vec<String>,
}

/// One file of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageFile {
    /// Its place in the folder, with `/` between the parts: `photos/0001.jpg`.
    pub name: String,
    /// Its media type, as a web server names it.
    pub media_type: &'static str,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// A photo as the page shows it.
pub(crate) enum Shot {
    /// It lies in the folder.
    Here {
        /// Its place in the folder.
        file: String,
        /// Width and height in pixels.
        size: (u16, u16),
    },
    /// It cannot be shown, and why.
    Missing(String),
}

/// The two files that a browser opens.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Leaf {
    /// What the client acts on: uses, findings, what was not examined, terms.
    Index,
    /// What it rests on: readings, the visit, instruments, sources. Apart, so that the first opens at once on a slow line.
    Readings,
}

impl Leaf {
    /// Its place in the folder.
    pub(crate) fn file(self) -> &'static str {
        match self {
            Self::Index => "index.html",
            Self::Readings => "readings.html",
        }
    }
}

/// What every part of the page reads.
#[derive(Clone, Copy)]
pub(crate) struct Sheet<'a> {
    leaf: Leaf,
    content: &'a Content,
    view: &'a View<'a>,
    shots: &'a [Shot],
    /// For each picture of values: its file in the folder and what it shows in words.
    drawings: &'a [Option<(String, String)>],
    /// For each day of the visit, likewise.
    days: &'a [Option<(String, String)>],
    /// The unit from above and from its sides.
    views: &'a [UnitView],
    pdf: Option<&'a str>,
    /// Where its data lie.
    data: &'a str,
}

impl Sheet<'_> {
    /// A phrase in the page's language.
    pub(crate) fn say(&self, english: &str) -> String {
        self.content.words.say(english)
    }

    /// A phrase for the script, where the page's language has its own.
    pub(crate) fn own(&self, english: &str) -> Option<String> {
        self.content.words.find(english)
    }

    /// A phrase with gaps in the page's language.
    pub(crate) fn say_with(&self, english: &str, with: &[(&str, &str)]) -> String {
        self.content.words.say_with(english, with)
    }
}

/// What lies beside the page already, each by its place as seen from the page's folder: it is linked there, and not put into
/// the folder once more.
#[derive(Clone, Copy)]
pub struct Beside<'a> {
    /// The printed report; none where there is none.
    pub pdf: Option<&'a str>,
    /// The data of the page; none puts `report.json` into the folder.
    pub data: Option<&'a str>,
    /// The copy of a photo, by the photo's id; none puts it into the folder.
    pub photo: &'a dyn Fn(&str) -> Option<String>,
}

/// Makes the client's page, whole in its folder.
///
/// `photos` returns the upright JPEG copy for a photo's id, as for [`crate::typeset`]. `pdf` is the name of the printed
/// report beside the page, where there is one. The same content and photos always give the same bytes.
///
/// # Errors
/// Where the content contradicts itself; see [`ReportError`].
pub fn page(
    content: &Content,
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    pdf: Option<&str>,
) -> Result<WebPage, ReportError> {
    page_beside(content, photos, Beside { pdf, data: None, photo: &|_| None })
}

/// The same where some of what it shows lies beside it already.
///
/// # Errors
/// As [`page()`].
pub fn page_beside(
    content: &Content,
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    beside: Beside<'_>,
) -> Result<WebPage, ReportError> {
    let problems = content.problems();
    if !problems.is_empty() {
        return Err(ReportError::Content(problems));
    }
    let readable = plain_text::readable(content)?;
    let mut files = Vec::new();
    let shots = shots(&readable, photos, beside.photo, &mut files);
    let remarks = shots
        .iter()
        .filter_map(|shot| match shot {
            Shot::Missing(sentence) => Some(sentence.clone()),
            Shot::Here { .. } => None,
        })
        .collect();
    let views = drawing::views(&readable);
    let drawings: Vec<Option<(String, String)>> = readable
        .pictures
        .iter()
        .enumerate()
        .map(|(at, picture)| {
            let drawn = drawing::picture(picture, &readable.unit, &readable.drawn)?;
            let name = format!("picture_{}", at + 1);
            Some((put_drawing(&mut files, &name, &drawn.svg), drawn.alt))
        })
        .collect();
    let days: Vec<Option<(String, String)>> = readable
        .visit
        .days
        .iter()
        .enumerate()
        .map(|(at, day)| {
            let drawn = drawing::visit(day, &readable.visit.stops, &readable.words)?;
            Some((put_drawing(&mut files, &format!("day_{}", at + 1), &drawn.svg), drawn.alt))
        })
        .collect();
    let view = View::new(&readable, &[], &views, Pictured::default(), 0);
    let sheet = Sheet {
        leaf: Leaf::Index,
        content: &readable,
        view: &view,
        shots: &shots,
        drawings: &drawings,
        days: &days,
        views: &views.drawn,
        pdf: beside.pdf,
        data: beside.data.unwrap_or(DATA),
    };
    let mut all = vec![
        leaf_file(sheet),
        leaf_file(Sheet { leaf: Leaf::Readings, ..sheet }),
        file("page.css", "text/css; charset=utf-8", include_bytes!("../../page/page.css").to_vec()),
        file(
            "page.js",
            "text/javascript; charset=utf-8",
            include_bytes!("../../page/page.js").to_vec(),
        ),
    ];
    if beside.data.is_none() {
        all.push(file(DATA, "application/json", content.to_json()?));
    }
    all.append(&mut files);
    Ok(WebPage { files: all, remarks })
}

/// Name of the data in the page's folder.
const DATA: &str = "report.json";

fn file(name: &str, media_type: &'static str, bytes: Vec<u8>) -> PageFile {
    PageFile { name: name.to_owned(), media_type, bytes }
}

/// Puts the photos that do not lie beside it into the folder, under counted names.
fn shots(
    content: &Content,
    bytes_of: &dyn Fn(&str) -> Option<Vec<u8>>,
    beside: &dyn Fn(&str) -> Option<String>,
    files: &mut Vec<PageFile>,
) -> Vec<Shot> {
    let say = &content.words;
    let missing = |number: usize, why: &str| {
        Shot::Missing(say.say_with(
            "Photo {n} is not shown: {why}",
            &[("n", &number.to_string()), ("why", &say.say(why))],
        ))
    };
    content
        .photos
        .iter()
        .enumerate()
        .map(|(at, photo)| {
            let Some(bytes) = bytes_of(&photo.id) else {
                return missing(at + 1, "its file was not at hand when the page was made.");
            };
            match jpeg_size(&bytes) {
                Err(why) => missing(at + 1, why),
                Ok(size) => {
                    let name = beside(&photo.id).unwrap_or_else(|| {
                        let name = format!("photos/{:04}.jpg", at + 1);
                        files.push(file(&name, "image/jpeg", bytes));
                        name
                    });
                    Shot::Here { file: name, size }
                }
            }
        })
        .collect()
}

/// Puts a drawing into the folder and gives its place.
fn put_drawing(files: &mut Vec<PageFile>, name: &str, svg: &str) -> String {
    let place = format!("drawings/{name}.svg");
    files.push(file(&place, "image/svg+xml", drawing::for_the_web(svg).into_bytes()));
    place
}

fn leaf_file(sheet: Sheet<'_>) -> PageFile {
    let html = whole(&sheet).into_string().into_bytes();
    file(sheet.leaf.file(), "text/html; charset=utf-8", html)
}

fn whole(sheet: &Sheet<'_>) -> Markup {
    let title = parts::title(sheet);
    let title = title.as_str();
    html! {
        (DOCTYPE)
        html lang=(if sheet.content.language.is_empty() { "en" } else { &sheet.content.language }) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="robots" content="noindex";
                meta name="referrer" content="no-referrer";
                title { @if sheet.leaf == Leaf::Readings { (sheet.say("Readings")) ": " } (title) }
                link rel="stylesheet" href="page.css";
                script src="page.js" defer {}
            }
            body data-photo=[sheet.own("Photo")] data-earlier=[sheet.own("Earlier")]
                data-close=[sheet.own("Close")] data-later=[sheet.own("Later")] {
                (parts::signs())
                @match sheet.leaf {
                    Leaf::Index => {
                        a class="skip" href="#findings" { (sheet.say("Skip to the findings")) }
                        header { (front::heading(sheet, title)) }
                        main { (index(sheet)) }
                    }
                    Leaf::Readings => {
                        a class="skip" href="#readings" { (sheet.say("Skip to the readings")) }
                        header { (readings::heading(sheet, title)) }
                        main {
                            (readings::all(sheet))
                            (visit::all(sheet))
                            (end::instruments(sheet))
                            (end::sources(sheet))
                        }
                    }
                }
                footer { (end::foot(sheet)) }
            }
        }
    }
}

fn index(sheet: &Sheet<'_>) -> Markup {
    html! {
        (released::correction(sheet))
        (front::uses(sheet))
        (front::at_once(sheet))
        (front::stopping(sheet))
        (front::unexamined(sheet))
        (front::meaning(sheet))
        (front::contents(sheet))
        (again::all(sheet))
        (findings::all(sheet))
        (end::not_examined(sheet))
        (end::examined(sheet))
        (end::engagement(sheet))
        (end::terms(sheet))
        (end::trail(sheet))
    }
}
