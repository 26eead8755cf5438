//! `nearside read`: one reading, judged at once; or one struck out.

use std::io::Write;

use clap::Args;
use inspection::{InstrumentId, Outcome, PointEntry, PointId, Reading, ReadingId};
use plan::{Point, Positions};
use quantity::UnitSystem;
use record::Edit;
use serde_json::json;

use crate::commands::{near_hint, point_of};
use crate::counting::{at_position, counting};
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::{today, words};

/// Keeps one reading and tells its verdict; or strikes one out with a reason.
///
/// A reading is never changed or deleted: reading again at the same place adds one, and the last
/// counts.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside read 2026-001 regulator_lockup lockup \"11.2 inH2O\" --with manometer\n  \
        nearside read 2026-001 tyres tread \"6/32 in\" --position left_front\n  \
        nearside read 2026-001 --strike 0a1b-12 --reason \"wrong tyre\"")]
pub(crate) struct ReadArguments {
    /// The job's number
    job: String,
    /// The point's id
    #[arg(required_unless_present = "strike")]
    point: Option<String>,
    /// Which of the point's readings
    #[arg(required_unless_present = "strike")]
    name: Option<String>,
    /// What was read, with its unit
    #[arg(required_unless_present = "strike", allow_hyphen_values = true)]
    value: Option<String>,
    /// Which of several places: a tyre, an outlet
    #[arg(long)]
    position: Option<String>,
    /// The instrument's id in the record
    #[arg(long, value_name = "INSTRUMENT")]
    with: Option<String>,
    /// When it was read, such as 09:40; now if left out
    #[arg(long, value_name = "TIME")]
    at: Option<String>,
    /// Strike out the reading with this id
    #[arg(long, value_name = "ID", requires = "reason", conflicts_with_all = ["point", "position", "with", "at"])]
    strike: Option<String>,
    /// Why it is struck out
    #[arg(long, value_name = "TEXT", requires = "strike")]
    reason: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ReadArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    if let (Some(id), Some(reason)) = (&arguments.strike, &arguments.reason) {
        return strike(&mut job, id, reason, arguments.json);
    }
    let (Some(point), Some(name), Some(value)) =
        (&arguments.point, &arguments.name, &arguments.value)
    else {
        return Err(Failure::input("point, name and value of the reading are needed")
            .hint("`nearside read --help` shows an example"));
    };
    let reading = checked(&job, arguments, point, name, value)?;
    let at = reading.at;
    let mut id = ReadingId::default();
    job.edit(|record, author| {
        id = ReadingId::from(record.fresh_id(author, 0));
        let mut edits = vec![Edit::AddReading { id: id.clone(), reading: reading.clone() }];
        // A point with a reading was examined, unless somebody has said otherwise.
        if !record.inspection().0.points.contains_key(&reading.point) {
            let after = PointEntry {
                outcome: Outcome::Examined,
                defects: Vec::new(),
                notes: String::new(),
                by: author.person.clone(),
                at,
            };
            edits.push(Edit::SetPoint { point: reading.point.clone(), before: None, after });
        }
        edits
    })?;
    tell(&job, point, name, &reading, &id, arguments.json)
}

/// The reading, if the plan accepts it.
fn checked(
    job: &OpenJob,
    arguments: &ReadArguments,
    point: &str,
    name: &str,
    value: &str,
) -> Result<Reading, Failure> {
    let inspection = job.inspection();
    let planned = point_of(&job.plan, &inspection.dwelling, point)?;
    let reading = planned.reading(name).ok_or_else(|| {
        let names = planned.readings.iter().map(|reading| reading.id.as_str());
        Failure::input(format!("{} has no reading `{name}`", planned.title))
            .hint(near_hint(name, names))
    })?;
    let position = position(planned, name, &reading.positions, arguments.position.as_deref())?;
    reading
        .read(value)
        .map_err(|sentence| Failure::input(format!("{}: {sentence}", reading.title)))?;
    let instrument = match &arguments.with {
        None => None,
        Some(id) if inspection.instruments.contains_key(id.as_str()) => {
            Some(InstrumentId::from(id.as_str()))
        }
        Some(id) => {
            return Err(Failure::input(format!("no instrument is called `{id}`")).hint(format!(
                "{}; instruments are described on the job's sheet",
                near_hint(id, inspection.instruments.keys().map(InstrumentId::as_str))
            )));
        }
    };
    let at = match &arguments.at {
        None => today::now(),
        Some(text) => today::moment_on(inspection.job.visits.last().copied(), text)
            .map_err(|sentence| Failure::input(format!("--at: {sentence}")))?,
    };
    Ok(Reading {
        point: PointId::from(point),
        name: name.to_owned(),
        entry: value.trim().to_owned(),
        position,
        instrument,
        at: Some(at),
        by: job.author.person.clone(),
        struck_out: None,
    })
}

fn position(
    point: &Point,
    name: &str,
    positions: &Positions,
    given: Option<&str>,
) -> Result<String, Failure> {
    let title = &point.title;
    match (positions, given.map(str::trim).filter(|given| !given.is_empty())) {
        (Positions::One, None) => Ok(String::new()),
        (Positions::One, Some(given)) => Err(Failure::input(format!(
            "{title}: `{name}` is read in one place only, not at `{given}`"
        ))
        .hint("leave --position out")),
        (Positions::Named(names), None) => {
            Err(Failure::input(format!("{title}: `{name}` is read at several positions"))
                .hint(format!("name one with --position: {}", names.join(", "))))
        }
        (Positions::Named(names), Some(given)) if !names.iter().any(|one| one == given) => {
            Err(Failure::input(format!("{title}: `{name}` has no position `{given}`"))
                .hint(near_hint(given, names.iter().map(String::as_str))))
        }
        (Positions::Any, None) => {
            Err(Failure::input(format!("{title}: `{name}` is read at several positions"))
                .hint("name the place with --position"))
        }
        (Positions::Named(_) | Positions::Any, Some(given)) => Ok(given.to_owned()),
    }
}

/// The value with its verdict, and what else the reading decides at its point.
fn tell(
    job: &OpenJob,
    point: &str,
    name: &str,
    reading: &Reading,
    id: &ReadingId,
    json: bool,
) -> Result<(), Failure> {
    let assessment = findings::assess(&job.plan, &job.inspection());
    let result = assessment.points.iter().find(|result| result.point.as_str() == point);
    let touched = result.into_iter().flat_map(|result| &result.values).filter(|value| {
        let own = value.name == name && value.position == reading.position;
        own || matches!(&value.origin, findings::Origin::Computed { readings, .. } if readings.contains(id))
    });
    let mut out = std::io::stdout().lock();
    if json {
        let values: Vec<_> =
            touched.map(|value| crate::json::value_json(&job.plan, point, value)).collect();
        writeln!(out, "{}", json!({"reading": id.as_str(), "values": values}))?;
        return Ok(());
    }
    let counted =
        counting(&job.inspection(), point, name).into_iter().any(|(counted, _)| counted == id);
    writeln!(out, "kept {}{} as {id}", reading.entry, at_position(&reading.position))?;
    if !counted {
        writeln!(out, "note: another reading here was taken later, and that one counts")?;
    }
    for value in touched {
        words::value(&mut out, &job.plan, value, UnitSystem::Us)?;
    }
    Ok(())
}

fn strike(job: &mut OpenJob, id: &str, reason: &str, json: bool) -> Result<(), Failure> {
    let inspection = job.inspection();
    let Some((known, reading)) = inspection.readings.get_key_value(id) else {
        return Err(Failure::input(format!("the record has no reading `{id}`"))
            .hint(near_hint(id, inspection.readings.keys().map(ReadingId::as_str))));
    };
    if let Some(struck) = &reading.struck_out {
        return Err(Failure::input(format!(
            "the reading {id} is struck out already, by {}: {}",
            struck.by, struck.reason
        )));
    }
    let edit = Edit::StrikeOutReading { id: known.clone(), reason: reason.to_owned() };
    job.edit(|_, _| vec![edit])?;
    let mut out = std::io::stdout().lock();
    if json {
        writeln!(out, "{}", json!({"struck_out": id, "reason": reason}))?;
    } else {
        let (point, name, entry) = (&reading.point, &reading.name, &reading.entry);
        writeln!(out, "struck out {entry} ({point}/{name}): {reason}; it stays in the record")?;
    }
    Ok(())
}
