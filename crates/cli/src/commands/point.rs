//! `nearside point`: what became of a point, and the defects seen there.

use std::io::Write;

use clap::Args;
use inspection::{Outcome, PointEntry, PointId};
use plan::Point;
use record::Edit;
use serde_json::json;

use crate::commands::point_of;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::sheet::read_points::{add_defect, defect};
use crate::today;

/// Says what became of a point: examined, not examined and why, or not fitted; and what was found.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside point 2026-001 cladding --examined\n  \
        nearside point 2026-001 cladding --found puncture --notes \"left of the door\"\n  \
        nearside point 2026-001 roof_membrane --not-examined \"wet, not safe to climb\"")]
pub(crate) struct PointArguments {
    /// The job's number
    job: String,
    /// The point's id
    point: String,
    /// It was looked at, operated or measured as the plan says
    #[arg(long, conflicts_with_all = ["not_examined", "not_fitted"])]
    examined: bool,
    /// It was not examined, and why
    #[arg(long, value_name = "REASON", conflicts_with = "not_fitted")]
    not_examined: Option<String>,
    /// The unit has no such thing
    #[arg(long, conflicts_with = "found")]
    not_fitted: bool,
    /// A defect that was seen, by its id in the point's list, with where if there are several places
    #[arg(long, value_name = "ID[@POSITION]")]
    found: Vec<String>,
    /// Takes a defect back
    #[arg(long, value_name = "ID[@POSITION]")]
    not_found: Vec<String>,
    /// Notes, in place of those that were there
    #[arg(long, value_name = "TEXT")]
    notes: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &PointArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let point = point_of(&job.plan, &inspection.dwelling, &arguments.point)?.clone();
    let given = |texts: &[String]| {
        texts
            .iter()
            .map(|text| defect(&point, text))
            .collect::<Result<Vec<_>, _>>()
            .map_err(|(message, hint)| Failure::input(message).hint(hint))
    };
    let (found, not_found) = (given(&arguments.found)?, given(&arguments.not_found)?);
    let id = PointId::from(point.id.as_str());
    let before = inspection.points.get(&id);
    let after = after(arguments, &point, before, &found, &not_found, &job.author.person)?;
    let edit = Edit::SetPoint { point: id, before: before.cloned(), after: after.clone() };
    job.edit(|_, _| vec![edit])?;
    tell(&point, &after, arguments.json)
}

fn after(
    arguments: &PointArguments,
    point: &Point,
    before: Option<&PointEntry>,
    found: &[(String, String)],
    not_found: &[(String, String)],
    person: &str,
) -> Result<PointEntry, Failure> {
    let mut defects = before.map_or_else(Vec::new, |before| before.defects.clone());
    for (id, position) in found {
        add_defect(&mut defects, id, position);
    }
    for (id, position) in not_found {
        let Some(at) = defects.iter().position(|(seen, _)| seen == id) else {
            return Err(Failure::input(format!(
                "{}: the defect {id} is not recorded",
                point.title
            )));
        };
        let positions = &mut defects[at].1;
        positions.retain(|seen| seen != position);
        if position.is_empty() || positions.is_empty() {
            defects.remove(at);
        }
    }
    let outcome = if arguments.not_fitted {
        Outcome::NotFitted
    } else if let Some(reason) = &arguments.not_examined {
        if reason.trim().is_empty() {
            return Err(Failure::input("--not-examined needs the reason in words"));
        }
        Outcome::NotExamined { reason: reason.trim().to_owned() }
    } else if arguments.examined || !found.is_empty() {
        Outcome::Examined
    } else if let Some(before) = before {
        before.outcome.clone()
    } else {
        return Err(Failure::input(format!("{}: nothing says what became of it", point.title))
            .hint("add --examined, --not-examined REASON or --not-fitted"));
    };
    if outcome == Outcome::NotFitted && !defects.is_empty() {
        return Err(Failure::input(format!(
            "{} cannot be not fitted and have defects",
            point.title
        ))
        .hint("take them back with --not-found"));
    }
    let notes = arguments
        .notes
        .clone()
        .unwrap_or_else(|| before.map_or_else(String::new, |before| before.notes.clone()));
    let at = Some(today::now());
    Ok(PointEntry { outcome, defects, notes, by: person.to_owned(), at })
}

fn tell(point: &Point, entry: &PointEntry, json: bool) -> Result<(), Failure> {
    let (word, reason) = match &entry.outcome {
        Outcome::Examined => ("examined", ""),
        Outcome::NotExamined { reason } => ("not examined", reason.as_str()),
        Outcome::NotFitted => ("not fitted", ""),
    };
    let mut out = std::io::stdout().lock();
    if json {
        let defects: Vec<_> = entry
            .defects
            .iter()
            .map(|(id, positions)| json!({"defect": id, "positions": positions}))
            .collect();
        let object = json!({
            "point": point.id,
            "outcome": word,
            "reason": if reason.is_empty() { None } else { Some(reason) },
            "defects": defects,
            "notes": entry.notes,
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    let reason = if reason.is_empty() { String::new() } else { format!(": {reason}") };
    writeln!(out, "{}: {word}{reason}", point.title)?;
    for (id, positions) in &entry.defects {
        let title = point.defect(id).map_or(id.as_str(), |defect| &defect.title);
        let places = if positions.is_empty() {
            String::new()
        } else {
            format!(" at {}", positions.join(", "))
        };
        writeln!(out, "  found {id}{places}: {title}")?;
    }
    Ok(())
}
