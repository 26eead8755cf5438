//! `nearside finding JOB show` and `check`: one finding with its evidence, and remarks on the job's texts.

use std::io::Write;

use field::UnitSystem;
use field::view::{FindingCard, FindingStanding, PhotoEvidence, ReadingEvidence, Remark};
use inspection::Inspection;
use serde_json::{Value as Json, json};

use super::change::visit;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::other_jobs;

/// Remarks on a job's own texts, in sentences.
pub(crate) fn remarks(job: &OpenJob, inspection: &Inspection) -> Result<Vec<String>, Failure> {
    let others = other_jobs::facts(&job.store, &job.id)?;
    let plan = &job.plan;
    let promises = findings::promises(plan, inspection);
    let left = findings::left_over(plan, inspection, &others);
    let promises = promises.iter().map(|one| one.sentence(plan, inspection));
    Ok(promises.chain(left.iter().map(|one| one.sentence(plan, inspection))).collect())
}

pub(super) fn check(job: &OpenJob, inspection: &Inspection, json: bool) -> Result<(), Failure> {
    let remarks = remarks(job, inspection)?;
    let mut out = std::io::stdout().lock();
    if json {
        writeln!(out, "{}", json!(remarks))?;
        return Ok(());
    }
    if remarks.is_empty() {
        writeln!(out, "no remarks on the texts of job {}", job.id)?;
    }
    for remark in remarks {
        writeln!(out, "{remark}")?;
    }
    Ok(())
}

pub(super) fn run(job: &OpenJob, key: &str, json: bool) -> Result<(), Failure> {
    let others = other_jobs::facts(&job.store, &job.id)?;
    let visit = visit(job)?;
    let card = visit.finding_card(key, &others, UnitSystem::Us);
    let card = card.ok_or_else(|| {
        let rows = visit.findings(UnitSystem::Us);
        let keys: Vec<&str> = rows.iter().map(|row| row.key.as_str()).collect();
        Failure::input(format!("no finding has the key `{key}`"))
            .hint(crate::commands::near_hint(key, keys))
    })?;
    let mut out = std::io::stdout().lock();
    if json {
        writeln!(out, "{}", object(&card))?;
        return Ok(());
    }
    print(&mut out, &card)
}

fn print(out: &mut impl Write, card: &FindingCard) -> Result<(), Failure> {
    let row = &card.row;
    let number = row.number.map_or_else(String::new, |number| format!("{number}. "));
    writeln!(out, "{number}{}", row.title)?;
    writeln!(out, "  {}", standing(&row.standing))?;
    if !row.point_title.is_empty() {
        let place =
            if row.position.is_empty() { String::new() } else { format!(", {}", row.position) };
        writeln!(out, "  at: {}{place}", row.point_title)?;
    }
    let stops: Vec<&str> = row.stops.iter().map(|one| one.word()).collect();
    let stops = if stops.is_empty() { "no use".to_owned() } else { stops.join(", ") };
    writeln!(out, "  stops {stops}; {}; {}", row.when.words(), row.who)?;
    writeln!(out, "  statement: {}", row.statement)?;
    if let Some(drafted) = card.drafted.as_ref().filter(|_| !card.own_statement.is_empty()) {
        writeln!(out, "  drafted as: {}", drafted.statement)?;
    }
    for reading in &card.readings {
        let own = if reading.brought_up { ", which brought it up" } else { "" };
        writeln!(out, "  reading: {}: {}{own} ({})", reading.title, reading.value, reading.id)?;
    }
    for photo in &card.photos {
        writeln!(out, "  photo: {} ({})", photo.title, short(photo.id.as_str()))?;
    }
    if card.no_evidence {
        writeln!(out, "  neither reading nor photo shows it; add one with `attach`")?;
    }
    for (key, title) in &card.parts {
        writeln!(out, "  part: {title} ({key})")?;
    }
    for remark in &card.remarks {
        writeln!(out, "  remark: {}: {}", remark.place, remark.what)?;
    }
    Ok(())
}

fn standing(standing: &FindingStanding) -> String {
    match standing {
        FindingStanding::Drafted => "drafted; nobody decided yet".to_owned(),
        FindingStanding::Confirmed => "confirmed".to_owned(),
        FindingStanding::Withdrawn(reason) => format!("withdrawn: {reason}"),
        FindingStanding::Merged(into) => format!("a part of {into}"),
        FindingStanding::Corrected => "corrected since the earlier job".to_owned(),
    }
}

fn object(card: &FindingCard) -> Json {
    let row = &card.row;
    let reading = |one: &ReadingEvidence| json!({"reading": one.id.as_str(), "title": one.title, "value": one.value, "brought_up": one.brought_up});
    let photo = |one: &PhotoEvidence| json!({"photo": one.id.as_str(), "title": one.title, "at_point": one.at_point});
    let remark =
        |one: &Remark| json!({"place": one.place.to_string(), "remark": one.what.to_string()});
    let part = |(key, title): &(String, String)| json!({"key": key, "title": title});
    json!({
        "number": row.number,
        "key": row.key,
        "standing": standing(&row.standing),
        "point": row.point.as_ref().map(|point| point.as_str()),
        "position": row.position,
        "title": row.title,
        "statement": row.statement,
        "own_statement": card.own_statement,
        "drafted_statement": card.drafted.as_ref().map(|drafted| &drafted.statement),
        "stops": row.stops.iter().map(|one| one.word()).collect::<Vec<_>>(),
        "when": row.when.words(),
        "who": row.who,
        "readings": card.readings.iter().map(reading).collect::<Vec<_>>(),
        "photos": card.photos.iter().map(photo).collect::<Vec<_>>(),
        "further_readings": card.further_readings.iter().map(reading).collect::<Vec<_>>(),
        "further_photos": card.further_photos.iter().map(photo).collect::<Vec<_>>(),
        "parts": card.parts.iter().map(part).collect::<Vec<_>>(),
        "remarks": card.remarks.iter().map(remark).collect::<Vec<_>>(),
        "no_evidence": card.no_evidence,
    })
}

fn short(id: &str) -> &str {
    id.get(..12).unwrap_or(id)
}
