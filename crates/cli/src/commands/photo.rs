//! `nearside photo`: photos into a job, one by one.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use inspection::PointId;
use record::Edit;
use serde_json::json;

use crate::commands::{near_hint, point_of};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::photos::{self, Outcome};
use crate::sheet::read_points::named_positions;

/// Takes photos in: the original untouched, with a copy and a thumbnail to show.
///
/// JPEG and PNG are accepted. A photo that the job has already is only placed and captioned.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside photo 2026-001 IMG_0012.jpg --point regulator_lockup --caption \"Gauge at lock-up\"\n  \
        nearside photo 2026-001 photos/*.jpg")]
pub(crate) struct PhotoArguments {
    /// The job's number
    job: String,
    /// Photo files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// The point that they show
    #[arg(long)]
    point: Option<String>,
    /// Which of several places there
    #[arg(long, requires = "point")]
    position: Option<String>,
    /// What they show, in words; also their text for those who cannot see
    #[arg(long, value_name = "TEXT")]
    caption: Option<String>,
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &PhotoArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let point = match &arguments.point {
        None => None,
        Some(id) => {
            let point = point_of(&job.plan, &inspection.dwelling, id)?;
            if let (Some(names), Some(position)) = (named_positions(point), &arguments.position)
                && !names.contains(position.as_str())
            {
                return Err(Failure::input(format!(
                    "{} has no position `{position}`",
                    point.title
                ))
                .hint(near_hint(position, names)));
            }
            Some(PointId::from(point.id.as_str()))
        }
    };
    let position = arguments.position.clone().unwrap_or_default();
    let taken = photos::take(&job.store, &job.id, &inspection, &arguments.files)?;
    let mut new = vec![false; taken.len()];
    job.edit_each(|record, _| {
        let mut photos = record.inspection().0.photos;
        let mut acts = Vec::new();
        for (one, new) in taken.iter().zip(&mut new) {
            let Some(id) = one.id() else { continue };
            let known = photos.get(id);
            let edit = match (&one.outcome, known) {
                (Outcome::New(_, photo), None) => {
                    let mut photo = photo.clone();
                    photo.point.clone_from(&point);
                    photo.position.clone_from(&position);
                    photo.caption = arguments.caption.clone().unwrap_or_default();
                    *new = true;
                    photos.insert(id.clone(), (*photo).clone());
                    Edit::AddPhoto { id: id.clone(), photo }
                }
                (_, Some(known)) => {
                    let mut after = known.clone();
                    if arguments.position.is_some() || (point.is_some() && point != known.point) {
                        after.position.clone_from(&position);
                    }
                    after.point = point.clone().or(after.point);
                    after.caption = arguments.caption.clone().unwrap_or(after.caption);
                    if after == *known {
                        continue;
                    }
                    let (point, position) = (after.point.clone(), after.position.clone());
                    photos.insert(id.clone(), after);
                    Edit::PlacePhoto {
                        id: id.clone(),
                        point,
                        position,
                        caption: arguments.caption.clone(),
                    }
                }
                (_, None) => continue,
            };
            acts.push(vec![edit]);
        }
        acts
    })?;
    let mut out = std::io::stdout().lock();
    let mut objects = Vec::new();
    let mut refused = 0;
    for (one, new) in taken.iter().zip(new) {
        if let Outcome::Refused(sentence) = &one.outcome {
            refused += 1;
            objects
                .push(json!({"name": one.name, "photo": null, "new": false, "problem": sentence}));
            if !arguments.json {
                writeln!(out, "not taken in: {sentence}")?;
            }
            continue;
        }
        let Some(id) = one.id() else { continue };
        let damage = match &one.outcome {
            Outcome::New(_, photo) if new => photo.damage.as_str(),
            _ => "",
        };
        objects.push(json!({
            "name": one.name,
            "photo": id.as_str(),
            "new": new,
            "problem": if damage.is_empty() { None } else { Some(damage) },
        }));
        if !arguments.json {
            let how = if new { "taken in" } else { "was there already" };
            let place = point.as_ref().map_or_else(String::new, |point| format!(", at {point}"));
            writeln!(out, "{}: {how}{place}", one.name)?;
            if !damage.is_empty() {
                writeln!(out, "  {damage}")?;
            }
        }
    }
    if arguments.json {
        writeln!(out, "{}", serde_json::Value::from(objects))?;
    }
    if refused > 0 && refused == taken.len() {
        return Err(Failure::input("none of the files was taken in"));
    }
    Ok(())
}
