//! `nearside mark`: marks on a photo of a job.

use std::io::Write;

use clap::{Args, Subcommand};
use inspection::{Crop, Inspection, Mark, Photo, PhotoId};
use record::Edit;
use serde_json::json;

use crate::commands::near_hint;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;

/// Marks a photo: arrows, boxes, circles and words, parts to blur, and the part that is shown.
///
/// Marks are kept beside the photo and drawn over its copies; the photo itself is never altered. Blurred parts are
/// taken out of the copies in the report and on the client's page, and so is what lies beside the part that is shown; the
/// original in the data folder still shows all of it.
///
/// A place is two fractions: of the width from the left edge, and of the height from the upper one.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside mark 2026-001 IMG_0012.jpg arrow 0.8,0.15 0.55,0.33\n  \
                  nearside mark 2026-001 IMG_0012.jpg words 0.9,0.1 \"15.8 and rising\"\n  \
                  nearside mark 2026-001 IMG_0012.jpg blur 0.1,0.6 0.3,0.7\n  \
                  nearside mark 2026-001 IMG_0012.jpg crop 0.1,0.1 0.9,0.8\n  \
                  nearside mark 2026-001 IMG_0012.jpg list\n  \
                  nearside mark 2026-001 IMG_0012.jpg erase MARK"
)]
pub(crate) struct MarkArguments {
    /// The job's number
    job: String,
    /// The photo: its file name, or the beginning of its SHA-256
    photo: String,
    #[command(subcommand)]
    act: Act,
}

#[derive(Subcommand, Debug)]
enum Act {
    /// An arrow from a place to what it points at
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg arrow 0.8,0.15 0.55,0.33")]
    Arrow { from: Spot, to: Spot },
    /// A rectangle between two corners
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg box 0.1,0.1 0.4,0.3")]
    Box { from: Spot, to: Spot },
    /// An ellipse inside a rectangle between two corners
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg circle 0.1,0.1 0.4,0.3")]
    Circle { from: Spot, to: Spot },
    /// A rectangle that nobody is to recognize
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg blur 0.1,0.6 0.3,0.7")]
    Blur { from: Spot, to: Spot },
    /// Words at a place
    #[command(
        after_help = "Example: nearside mark 2026-001 IMG_0012.jpg words 0.9,0.1 \"15.8 and rising\""
    )]
    Words { at: Spot, text: String },
    /// The part that copies show, between two corners of the whole photo
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg crop 0.1,0.1 0.9,0.8")]
    Crop { from: Spot, to: Spot },
    /// Turns what copies show clockwise, by 90, 180 or 270 degrees
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg turn 90")]
    Turn {
        /// 90, 180 or 270
        #[arg(value_parser = quarter_turns)]
        degrees: u8,
    },
    /// Shows all of the photo again, as it stands
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg whole")]
    Whole,
    /// The marks of the photo
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg list")]
    List {
        /// Print a JSON array
        #[arg(long)]
        json: bool,
    },
    /// Takes a mark off
    #[command(after_help = "Example: nearside mark 2026-001 IMG_0012.jpg erase MARK")]
    Erase {
        /// Its id, as `list` shows it
        mark: String,
    },
}

/// A place on a photo.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spot((f64, f64));

impl std::str::FromStr for Spot {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let wanted = || {
            format!(
                "`{text}` is no place on a photo; two fractions from 0 to 1 are, such as 0.25,0.8"
            )
        };
        let (across, down) = text.split_once(',').ok_or_else(wanted)?;
        let fraction = |text: &str| {
            let value: f64 = text.trim().parse().map_err(|_| wanted())?;
            if (0.0..=1.0).contains(&value) { Ok(value) } else { Err(wanted()) }
        };
        Ok(Self((fraction(across)?, fraction(down)?)))
    }
}

pub(crate) fn run(place: &Place, arguments: &MarkArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let (id, photo) = find(&inspection, &arguments.photo)?;
    let ids = job.record.mark_ids(id);
    let mut out = std::io::stdout().lock();
    let mark = match &arguments.act {
        Act::Arrow { from, to } => Mark::Arrow { from: from.0, to: to.0 },
        Act::Box { from, to } => Mark::Box { from: from.0, to: to.0 },
        Act::Circle { from, to } => Mark::Circle { from: from.0, to: to.0 },
        Act::Blur { from, to } => Mark::Blur { from: from.0, to: to.0 },
        Act::Words { at, text } => Mark::Words { at: at.0, text: text.clone() },
        Act::Crop { from, to } => {
            let turns = photo.crop.map_or(0, |crop| crop.turns);
            let crop = Some(Crop { from: from.0, to: to.0, turns });
            return show(&mut job, &mut out, (id, photo), crop);
        }
        Act::Turn { degrees: turns } => {
            let crop = photo.crop.unwrap_or(Crop::WHOLE);
            let turned = Crop { turns: (crop.turns + turns) % 4, ..crop };
            return show(&mut job, &mut out, (id, photo), Some(turned));
        }
        Act::Whole => return show(&mut job, &mut out, (id, photo), None),
        Act::List { json } => return list(&mut out, photo, &ids, *json),
        Act::Erase { mark } => {
            if !ids.contains(mark) {
                return Err(Failure::input(format!("{} has no mark `{mark}`", photo.file_name))
                    .hint(near_hint(mark, ids.iter().map(String::as_str))));
            }
            job.edit(|_, _| vec![Edit::EraseMark { id: id.clone(), mark_id: mark.clone() }])?;
            writeln!(out, "{}: mark {mark} taken off", photo.file_name)?;
            return Ok(());
        }
    };
    let mut mark_id = String::new();
    job.edit(|record, author| {
        mark_id = record.fresh_id(author, 0);
        vec![Edit::MarkPhoto { id: id.clone(), mark_id: mark_id.clone(), mark }]
    })?;
    writeln!(out, "{}: mark {mark_id} kept", photo.file_name)?;
    Ok(())
}

/// Keeps which part of the photo copies show, and says it.
fn show(
    job: &mut OpenJob,
    out: &mut dyn Write,
    (id, photo): (&PhotoId, &Photo),
    crop: Option<Crop>,
) -> Result<(), Failure> {
    job.act(field::Act::CropPhoto { photo: id.clone(), crop })?;
    let now = job.inspection().photos.get(id).and_then(|photo| photo.crop);
    writeln!(out, "{}: {}", photo.file_name, shown(now))?;
    Ok(())
}

/// What is shown, as it is typed.
fn shown(crop: Option<Crop>) -> String {
    let Some(crop) = crop else { return "copies show all of it".to_owned() };
    let [left, top, right, bottom] = crop.edges();
    let part = if crop.cuts() {
        format!("the part {left},{top} {right},{bottom}")
    } else {
        "all of it".to_owned()
    };
    match crop.turns {
        0 => format!("copies show {part}"),
        turns => format!("copies show {part}, turned by {} degrees", u32::from(turns) * 90),
    }
}

/// Quarter turns of an angle.
fn quarter_turns(text: &str) -> Result<u8, String> {
    match text.trim_end_matches('°') {
        "90" => Ok(1),
        "180" => Ok(2),
        "270" => Ok(3),
        _ => Err("a photo is turned by 90, 180 or 270 degrees clockwise".to_owned()),
    }
}

/// The photo of this file name or hash.
pub(crate) fn find<'a>(
    inspection: &'a Inspection,
    word: &str,
) -> Result<(&'a PhotoId, &'a Photo), Failure> {
    let lower = word.to_ascii_lowercase();
    let by_hash = |id: &PhotoId| lower.len() >= 6 && id.as_str().starts_with(&lower);
    let mut hits =
        inspection.photos.iter().filter(|(id, photo)| photo.file_name == word || by_hash(id));
    match (hits.next(), hits.next()) {
        (Some(hit), None) => Ok(hit),
        (Some(_), Some(_)) => Err(Failure::input(format!("the job has several photos `{word}`"))
            .hint("name the one you mean by the beginning of its SHA-256, as `job show --json` prints it")),
        (None, _) => Err(Failure::input(format!("the job has no photo `{word}`"))
            .hint(near_hint(word, inspection.photos.values().map(|photo| photo.file_name.as_str())))),
    }
}

fn list(out: &mut dyn Write, photo: &Photo, ids: &[String], json: bool) -> Result<(), Failure> {
    if json {
        let all: Vec<_> = ids
            .iter()
            .zip(&photo.marks)
            .map(|(id, mark)| json!({"mark": id, "kind": kind(mark), "says": says(mark)}))
            .collect();
        writeln!(out, "{}", json!(all))?;
        return Ok(());
    }
    if photo.crop.is_some() {
        writeln!(out, "{}", shown(photo.crop))?;
    }
    if ids.is_empty() {
        writeln!(out, "{} has no marks", photo.file_name)?;
    }
    for (id, mark) in ids.iter().zip(&photo.marks) {
        writeln!(out, "{id}  {} {}", kind(mark), says(mark))?;
    }
    Ok(())
}

fn kind(mark: &Mark) -> &'static str {
    match mark {
        Mark::Arrow { .. } => "arrow",
        Mark::Box { .. } => "box",
        Mark::Circle { .. } => "circle",
        Mark::Blur { .. } => "blur",
        Mark::Words { .. } => "words",
    }
}

/// A mark's places and words, as they are typed.
fn says(mark: &Mark) -> String {
    let spot = |(across, down): (f64, f64)| format!("{across},{down}");
    match mark {
        Mark::Arrow { from, to }
        | Mark::Box { from, to }
        | Mark::Circle { from, to }
        | Mark::Blur { from, to } => format!("{} {}", spot(*from), spot(*to)),
        Mark::Words { at, text } => format!("{} {text}", spot(*at)),
    }
}
