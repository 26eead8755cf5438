//! Fixtures for tests: a small plan from point files, and an inspection from a few lines of text.
//!
//! ```text
//! travel_trailer built 2019-06-01 visited 2026-06-12 fitted gas mains
//! regulator_lockup  lockup = 15.2 inH2O   examined
//! outlets           volts@galley = 119.3 V ; volts@bath = 118.9 V
//! roof_covering     not examined: no safe way up
//! cladding          found puncture@left ; photo
//! ```

mod hostile;
mod points;

pub use hostile::HOSTILE;
pub use points::{LOCKUP, TAPS};

use inspection::{
    Dwelling, DwellingKind, Inspection, Outcome, Photo, PhotoId, PointEntry, PointId, Reading,
    ReadingId,
};
use plan::{Files, Plan};

/// Words and stops that fixture points may use.
const FILES: [(&str, &str); 5] = [
    (
        "stops.toml",
        "[[stop]]\nid = \"outside\"\ntitle = \"Outside\"\nalong = 0.5\nacross = 1.0\n[[stop]]\nid = \"inside\"\ntitle = \"Inside\"\nalong = 0.5\nacross = 0.5\n",
    ),
    ("equipment.toml", "[equipment]\ngas = \"gas\"\nmains = \"mains power\"\nwater = \"water\"\n"),
    ("site_states.toml", "[site_state]\ngas_on = \"gas open\"\n"),
    (
        "sources.toml",
        "[[source]]\nkey = \"code\"\ntitle = \"A code\"\npublisher = \"A publisher\"\nedition = \"2020\"\nread = \"all\"\n",
    ),
    (
        "plans/test.toml",
        "id = \"test\"\ntitle = \"Test\"\npurpose = \"Tests.\"\nterms = [\"None.\"]\nsystems = [\"test\"]\n",
    ),
];

/// A plan of these points, each the text of a point file with its `id` in the first line.
///
/// # Panics
/// If a point has a problem: the fixture is wrong.
#[must_use]
pub fn plan_of(points: &[&str]) -> Plan {
    match plan::load(&files_of(points)) {
        Ok(library) => library.plan("test").expect("the fixture's plan is called `test`"),
        Err(problems) => {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            panic!("{}", lines.join("\n"))
        }
    }
}

/// The files of such a plan.
#[must_use]
pub fn files_of(points: &[&str]) -> Files {
    let mut files = Files::none();
    for (path, text) in FILES {
        files.add(path, text);
    }
    for text in points {
        let first = text.trim_start().lines().next().unwrap_or("");
        let id = first.split('"').nth(1).unwrap_or("point");
        files.add(format!("points/test/{id}.toml"), *text);
    }
    files
}

/// An inspection from lines of text, as shown at the head of this crate.
///
/// # Panics
/// If a line is not as shown.
#[must_use]
pub fn inspection_of(text: &str) -> Inspection {
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    let mut inspection =
        Inspection { dwelling: dwelling(lines.next().unwrap_or("")), ..Inspection::default() };
    inspection.job.visits = vec![visited(text)];
    for (at, line) in lines.enumerate() {
        point(&mut inspection, at, line);
    }
    inspection
}

fn word_after<'a>(line: &'a str, key: &str) -> Option<&'a str> {
    let mut words = line.split_whitespace();
    words.find(|word| *word == key)?;
    words.next()
}

fn visited(text: &str) -> jiff::civil::Date {
    let day = word_after(text.trim().lines().next().unwrap_or(""), "visited");
    day.unwrap_or("2026-06-12").parse().expect("the day of the visit is written 2026-06-12")
}

fn dwelling(line: &str) -> Dwelling {
    let kind = line.split_whitespace().next().unwrap_or("");
    Dwelling {
        kind: DwellingKind::from_word(kind).unwrap_or_else(|| panic!("no kind of unit `{kind}`")),
        built: word_after(line, "built").map(|day| day.parse().expect("built is a day")),
        equipment: line
            .split_whitespace()
            .skip_while(|word| *word != "fitted")
            .skip(1)
            .map(str::to_owned)
            .collect(),
        ..Dwelling::default()
    }
}

fn point(inspection: &mut Inspection, at: usize, line: &str) {
    let (id, rest) = line.split_once(' ').unwrap_or((line, ""));
    let id = PointId::from(id);
    let mut entry = PointEntry {
        outcome: Outcome::Examined,
        defects: Vec::new(),
        notes: String::new(),
        by: String::new(),
        at: None,
    };
    for (part, text) in rest.split(';').map(str::trim).filter(|text| !text.is_empty()).enumerate() {
        if let Some(reason) = text.strip_prefix("not examined:") {
            entry.outcome = Outcome::NotExamined { reason: reason.trim().to_owned() };
        } else if text == "not fitted" {
            entry.outcome = Outcome::NotFitted;
        } else if text == "photo" {
            let photo = Photo { point: Some(id.clone()), ..Photo::default() };
            inspection.photos.insert(PhotoId(format!("{at:032}{part:032}")), photo);
        } else if let Some(defect) = text.strip_prefix("found ") {
            let (defect, position) = defect.trim().split_once('@').unwrap_or((defect.trim(), ""));
            let positions = if position.is_empty() { vec![] } else { vec![position.to_owned()] };
            entry.defects.push((defect.to_owned(), positions));
        } else if text != "examined" {
            let (name, value) =
                text.split_once('=').unwrap_or_else(|| panic!("`{text}` is no part of a fixture"));
            let (name, position) = name.trim().split_once('@').unwrap_or((name.trim(), ""));
            let reading = Reading {
                point: id.clone(),
                name: name.to_owned(),
                entry: value.trim().to_owned(),
                position: position.to_owned(),
                instrument: None,
                at: None,
                by: String::new(),
                struck_out: None,
            };
            inspection.readings.insert(ReadingId(format!("{at:04}-{part:04}")), reading);
        }
    }
    inspection.points.insert(id, entry);
}
