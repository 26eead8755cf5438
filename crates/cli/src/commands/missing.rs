//! `nearside missing`: what is missing in a job, each with the place to go.

use std::io::Write;

use clap::Args;
use findings::{About, Assessment, Deciding, Gap, Missing, deciding};
use inspection::Inspection;
use quantity::UnitSystem;
use serde_json::{Value as Json, json};

use crate::commands::assess::assessed;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;

/// Says what is missing in a job: points that nobody settled, readings, photos, verdicts that are undecided with what would
/// decide them, findings without evidence, photos of no point, instruments out of date.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside missing 2026-001\n  nearside missing 2026-001 --json"
)]
pub(crate) struct MissingArguments {
    /// The job's number
    job: String,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &MissingArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let assessment = assessed(&job, &inspection);
    let decisions = deciding(&job.plan, &inspection, &assessment, UnitSystem::Us);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", object(&inspection, &assessment, &decisions))?;
        return Ok(());
    }
    if assessment.missing.is_empty() {
        writeln!(out, "nothing is missing in job {}", job.id)?;
    }
    for gap in Gap::ALL {
        let own: Vec<&Missing> =
            assessment.missing.iter().filter(|missing| missing.what == gap).collect();
        if own.is_empty() {
            continue;
        }
        writeln!(out, "{}: {}", heading(gap), own.len())?;
        for missing in own {
            writeln!(out, "  {}", missing.sentence)?;
            if let Some(decides) = decided_by(missing, &decisions) {
                writeln!(out, "    {}", decides.sentence)?;
            }
            writeln!(out, "    {}", command(&job.id.to_string(), missing))?;
        }
    }
    Ok(())
}

fn object(inspection: &Inspection, assessment: &Assessment, decisions: &[Deciding]) -> Json {
    let groups: Vec<Json> = Gap::ALL
        .into_iter()
        .map(|gap| {
            let own = assessment.missing.iter().filter(|missing| missing.what == gap);
            let all: Vec<Json> = own.map(|missing| one(missing, decisions)).collect();
            json!({"what": gap.word(), "count": all.len(), "missing": all})
        })
        .collect();
    json!({
        "job": inspection.job.number,
        "count": assessment.missing.len(),
        "groups": groups,
    })
}

/// One gap with its place to go.
pub(crate) fn one(missing: &Missing, decisions: &[Deciding]) -> Json {
    let (kind, id) = place_to_go(missing);
    let decides = decided_by(missing, decisions).map(|one| {
        json!({
            "value": one.value,
            "bound": one.bound,
            "unit": one.unit.map(|unit| unit.symbol()),
            "expanded_uncertainty": one.now,
            "needed": one.needed,
            "verdict": one.verdict.words(None),
            "reading": one.better.as_ref().map(|better| json!({
                "point": better.point.as_str(),
                "name": better.name,
                "position": better.position,
                "unit": better.unit.map(|unit| unit.symbol()),
                "expanded_uncertainty": better.now,
                "needed": better.needed,
            })),
            "instruments": one.instruments.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
            "sentence": one.sentence,
        })
    });
    json!({
        "what": missing.what.word(),
        "point": missing.point.as_ref().map(|point| point.as_str()),
        "go_to": {kind: id},
        "sentence": missing.sentence,
        "decides": decides,
    })
}

/// What a person opens to close the gap.
fn place_to_go(missing: &Missing) -> (&'static str, String) {
    match &missing.about {
        About::Finding(key) => ("finding", key.clone()),
        About::Photo(id) => ("photo", id.to_string()),
        About::Instrument(id) => ("instrument", id.to_string()),
        About::Agreement => ("agreement", String::new()),
        About::Wait(_) | About::Point | About::Value { .. } => {
            ("point", missing.point.as_ref().map_or_else(String::new, ToString::to_string))
        }
    }
}

fn decided_by<'d>(missing: &Missing, decisions: &'d [Deciding]) -> Option<&'d Deciding> {
    let About::Value { name, position, limit } = &missing.about else { return None };
    decisions.iter().find(|one| {
        missing.what == Gap::Undecided
            && missing.point.as_ref() == Some(&one.point)
            && one.name == *name
            && one.position == *position
            && one.limit == *limit
    })
}

/// The command that leads there.
fn command(job: &str, missing: &Missing) -> String {
    let (kind, id) = place_to_go(missing);
    match (kind, missing.what) {
        ("finding", Gap::NotRechecked) => {
            format!("nearside finding {job} recheck {id} corrected|not-corrected|not-seen")
        }
        ("finding", _) => format!("nearside finding {job} show {id}"),
        ("agreement", _) => format!("nearside agreement show {job}"),
        ("photo", _) => format!("nearside finding {job} attach KEY --photo {}", short(&id)),
        ("instrument", _) => format!("instrument {id}, on the sheet: nearside job sheet {job}"),
        (_, Gap::NoReading | Gap::Undecided) => match &missing.about {
            About::Value { name, position, .. } if !position.is_empty() => {
                format!("nearside read {job} {id} {name} --position {position}")
            }
            About::Value { name, .. } => format!("nearside read {job} {id} {name}"),
            _ => format!("nearside point {job} {id}"),
        },
        (_, Gap::NoPhoto) => format!("nearside photo {job} FILE --point {id}"),
        _ => format!("nearside point {job} {id}"),
    }
}

fn short(id: &str) -> &str {
    id.get(..12).unwrap_or(id)
}

fn heading(gap: Gap) -> &'static str {
    match gap {
        Gap::NotSettled => "points with nothing entered",
        Gap::NoReason => "points not examined, without a reason",
        Gap::NoReading => "readings that are missing",
        Gap::NoPhoto => "photos that are missing",
        Gap::Undecided => "verdicts that are undecided",
        Gap::WaitRunning => "waits that still run",
        Gap::NoEvidence => "findings without evidence",
        Gap::PhotoNotPlaced => "photos of no point",
        Gap::NotRechecked => "carried findings of which nothing is said",
        Gap::CorrectedButFound => "findings said to be corrected, and found again",
        Gap::Calibration => "instruments",
        Gap::NotAgreed => "agreement that waits for the client's consent",
        Gap::AgreedOtherwise => "agreement that needs a new consent",
    }
}
