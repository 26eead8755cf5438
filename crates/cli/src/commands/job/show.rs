//! `nearside job show`: where a job stands.

use std::collections::BTreeMap;
use std::io::Write;

use clap::Args;
use findings::{Agreed, agreed, calibrations_before};
use inspection::{FindingState, Inspection, Memo, MemoId, Outcome};
use serde_json::{Value as Json, json};

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::office::agreements;
use crate::open_job::{OpenJob, unit_in_words};
use crate::words;

/// Shows where a job stands: the unit, points settled and open by stop, readings, findings, photos,
/// voice memos, and the five uses.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside job show 2026-001\n  nearside job show 2026-001 --json"
)]
pub(crate) struct ShowArguments {
    /// The job's number
    job: String,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// Points of a stop.
#[derive(Default)]
struct Tally {
    settled: usize,
    open: Vec<String>,
}

pub(crate) fn run(place: &Place, arguments: &ShowArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let assessment = findings::assess(&job.plan, &inspection);
    let mut stops: BTreeMap<usize, Tally> = BTreeMap::new();
    let mut not_examined = 0;
    for result in &assessment.points {
        let Some(point) = job.plan.point(result.point.as_str()) else { continue };
        let at = job.plan.stops.iter().position(|stop| stop.id == point.stop);
        let tally = stops.entry(at.unwrap_or(usize::MAX)).or_default();
        match &result.outcome {
            Some(outcome) => {
                tally.settled += 1;
                not_examined += usize::from(matches!(outcome, Outcome::NotExamined { .. }));
            }
            None => tally.open.push(point.id.clone()),
        }
    }
    let title = |at: &usize| job.plan.stops.get(*at).map_or("elsewhere", |stop| &stop.title);
    let readings = inspection.readings.values().filter(|one| one.struck_out.is_none()).count();
    let struck_out = inspection.readings.len() - readings;
    let unplaced = inspection
        .photos
        .values()
        .filter(|photo| photo.point.is_none() && photo.earlier.is_empty())
        .count();
    let unconfirmed = assessment.findings.iter().filter(|finding| !finding.confirmed).count();
    let withdrawn = inspection
        .findings
        .values()
        .filter(|finding| matches!(finding.state, FindingState::Withdrawn { .. }))
        .count();
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let stops: Vec<_> = stops
            .iter()
            .map(|(at, tally)| {
                json!({"stop": title(at), "settled": tally.settled, "open": tally.open})
            })
            .collect();
        let object = json!({
            "job": inspection.job.number,
            "unit": unit_in_words(&inspection.dwelling),
            "client": inspection.job.client.name,
            "visits": inspection.job.visits.iter().map(ToString::to_string).collect::<Vec<_>>(),
            "stops": stops,
            "not_examined": not_examined,
            "readings": readings,
            "readings_struck_out": struck_out,
            "findings": assessment.findings.len(),
            "findings_unconfirmed": unconfirmed,
            "findings_withdrawn": withdrawn,
            "photos": inspection.photos.len(),
            "photos_unplaced": unplaced,
            "memos": memos_json(&inspection),
            "uses": crate::json::uses(&assessment),
            "agreement": agreements::state_word(&inspection.job),
            "calibrations": calibrations(&inspection),
            "problems": job.trouble(),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "job {}: {}", inspection.job.number, unit_in_words(&inspection.dwelling))?;
    if !inspection.job.client.name.is_empty() {
        writeln!(out, "for {}", inspection.job.client.name)?;
    }
    for visit in &inspection.job.visits {
        writeln!(out, "visit on {visit}")?;
    }
    if agreed(&inspection.job) != Agreed::Nothing {
        writeln!(out, "agreement: {}", agreements::state_in_words(&inspection.job))?;
    }
    for sentence in calibrations(&inspection) {
        writeln!(out, "{sentence}")?;
    }
    writeln!(out, "\npoints")?;
    for (at, tally) in &stops {
        let open = match tally.open.as_slice() {
            [] => String::new(),
            open => format!("; open: {}", open.join(", ")),
        };
        let all = tally.settled + tally.open.len();
        writeln!(out, "  {:<34} {} of {all} settled{open}", title(at), tally.settled)?;
    }
    let (photos, findings) = (inspection.photos.len(), assessment.findings.len());
    writeln!(out, "\nnot examined  {not_examined}")?;
    writeln!(out, "readings      {readings}, {struck_out} struck out")?;
    writeln!(out, "findings      {findings}, {unconfirmed} not confirmed, {withdrawn} withdrawn")?;
    writeln!(out, "photos        {photos}, {unplaced} at no point")?;
    memos(&mut out, &job, &inspection)?;
    writeln!(out, "\nuses, on that day, as far as examined")?;
    words::uses(&mut out, &job.plan, &assessment)?;
    for sentence in job.trouble() {
        writeln!(out, "problem: {sentence}")?;
    }
    Ok(())
}

/// Instruments whose calibration does not last until the first visit.
fn calibrations(inspection: &Inspection) -> Vec<String> {
    let day = inspection.job.visits.first();
    day.map_or_else(Vec::new, |day| calibrations_before(inspection, *day))
}

/// The voice memos that stand, in time.
fn standing_memos(inspection: &Inspection) -> Vec<(&MemoId, &Memo)> {
    let mut memos: Vec<(&MemoId, &Memo)> =
        inspection.memos.iter().filter(|(_, memo)| memo.struck_out.is_none()).collect();
    memos.sort_by_key(|(id, memo)| (memo.at, *id));
    memos
}

fn memos_json(inspection: &Inspection) -> Vec<Json> {
    standing_memos(inspection)
        .into_iter()
        .map(|(id, memo)| {
            json!({
                "sha256": id.as_str(),
                "point": memo.point.as_str(),
                "media_type": memo.media_type,
                "seconds": memo.seconds,
                "at": memo.at.map(|at| at.to_string()),
                "by": memo.by,
            })
        })
        .collect()
}

/// How many voice memos there are, and a line for each: where, how long, when, by whom.
fn memos(out: &mut impl Write, job: &OpenJob, inspection: &Inspection) -> Result<(), Failure> {
    let memos = standing_memos(inspection);
    let seconds = memos.iter().fold(0_u32, |sum, (_, memo)| sum.saturating_add(memo.seconds));
    if memos.is_empty() {
        return Ok(());
    }
    writeln!(out, "voice memos   {}, {} in all", memos.len(), length(seconds))?;
    for (id, memo) in memos {
        let point = memo.point.as_str();
        let title = job.plan.point(point).map_or(point, |point| &point.title);
        let at = memo.at.map_or_else(String::new, |at| format!(", {at}"));
        let by = if memo.by.is_empty() { String::new() } else { format!(", {}", memo.by) };
        let name: String = id.as_str().chars().take(12).collect();
        writeln!(out, "  {title}: {}{at}{by} ({name})", length(memo.seconds))?;
    }
    Ok(())
}

/// Seconds as a clock shows them.
fn length(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
