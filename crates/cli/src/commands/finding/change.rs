//! `nearside finding JOB edit`, `attach`, `detach`: a finding worded anew, and its evidence.

use clap::{Args, ValueEnum};
use field::{Act, Evidence, FindingChange, Visit};
use inspection::{Inspection, PointId, ReadingId, Recheck};

use super::add::{WeightArguments, time_to_act, uses};
use crate::commands::{mark, near_hint};
use crate::counting::counting;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::sentences;

/// Words a finding anew, or changes its uses, when and who; a drafted one stays drafted until it is confirmed
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside finding 2026-001 edit regulator_lockup/lockup_high --when \"before use\" --stops gas,stay\n  nearside finding 2026-001 edit regulator_lockup/lockup_high --sentence gas-off\n  nearside finding 2026-001 edit regulator_lockup/lockup_high --statement \"\""
)]
pub(super) struct EditArguments {
    /// The finding's key, as `list` shows it
    pub(super) key: String,
    /// Short heading; empty for the drafted one
    #[arg(long)]
    title: Option<String>,
    /// The statement for the report; empty for the drafted one, which follows the readings
    #[arg(long)]
    statement: Option<String>,
    #[command(flatten)]
    weight: WeightArguments,
    /// Whom to call; empty for whom the draft names
    #[arg(long)]
    who: Option<String>,
    /// The point of a finding of your own; `none` for no point
    #[arg(long)]
    point: Option<String>,
}

/// What shows a finding
#[derive(Args, Debug)]
pub(super) struct EvidenceArguments {
    /// The finding's key, as `list` shows it
    pub(super) key: String,
    /// A photo, by its file's name or the beginning of its SHA-256
    #[arg(long, value_name = "PHOTO", required_unless_present = "reading")]
    photo: Vec<String>,
    /// A reading: POINT.READING or POINT.READING@POSITION for the one that counts there, or its id
    #[arg(long, value_name = "READING")]
    reading: Vec<String>,
}

/// What became of a carried finding
#[derive(Args, Debug)]
pub(super) struct RecheckArguments {
    /// The finding's key, as `list` shows it: carried-3 for finding 3 of the earlier report
    pub(super) key: String,
    /// What became of it
    #[arg(value_enum)]
    outcome: Became,
    /// Why it was not seen
    #[arg(long, value_name = "TEXT")]
    reason: Option<String>,
    /// What was seen of it, corrected or not, in words for the report
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

/// What can become of a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Became {
    /// It was looked at, and is there no more
    Corrected,
    /// It was looked at, and is there still
    NotCorrected,
    /// It was not looked at; --reason says why
    NotSeen,
    /// Takes back what was said
    Open,
}

/// What was done.
pub(super) fn recheck(
    job: &mut OpenJob,
    arguments: &RecheckArguments,
) -> Result<&'static str, Failure> {
    let reason = arguments.reason.as_deref().map(str::trim).unwrap_or_default();
    if arguments.outcome != Became::NotSeen && !reason.is_empty() {
        return Err(Failure::input("--reason says why a finding was not seen, and this one was"));
    }
    if arguments.outcome == Became::NotSeen && reason.is_empty() {
        return Err(Failure::input("why was it not seen?").hint("add --reason \"…\""));
    }
    let note = arguments.note.clone().unwrap_or_default();
    let looked_at = matches!(arguments.outcome, Became::Corrected | Became::NotCorrected);
    if !looked_at && !note.trim().is_empty() {
        return Err(Failure::input("--note says what was seen of a finding, and this one was not"));
    }
    let (recheck, done) = match arguments.outcome {
        Became::Corrected => (Some(Recheck::Corrected), "corrected"),
        Became::NotCorrected => (Some(Recheck::NotCorrected), "not corrected"),
        Became::NotSeen => (Some(Recheck::NotSeen { reason: reason.to_owned() }), "not seen"),
        Became::Open => (None, "not yet said"),
    };
    job.act(Act::Recheck { key: arguments.key.clone(), recheck, note })?;
    Ok(done)
}

/// What was done.
pub(super) fn edit(
    place: &Place,
    job: &mut OpenJob,
    edit: &EditArguments,
) -> Result<&'static str, Failure> {
    // What could be refused is looked at before anything is changed.
    let mut changes = Vec::new();
    changes.extend(edit.title.clone().map(FindingChange::Title));
    changes.extend(edit.statement.clone().map(FindingChange::Statement));
    if let Some(words) = &edit.weight.stops {
        changes.push(FindingChange::Stops(uses(words)?));
    }
    if let Some(words) = &edit.weight.when {
        changes.push(FindingChange::When(time_to_act(words)?));
    }
    changes.extend(edit.who.clone().map(FindingChange::Who));
    if let Some(id) = &edit.point {
        let point = Some(id.as_str()).filter(|id| *id != "none").map(PointId::from);
        changes.push(FindingChange::Point(point));
    }
    if let Some(name) = &edit.weight.sentence {
        let text = sentence(place, job, name, &edit.weight.with, Some(&edit.key), None)?;
        let before = match &edit.statement {
            Some(statement) => statement.clone(),
            None => statement_of(job, &edit.key)?,
        };
        let whole = [before.trim(), &text].join(" ");
        changes.retain(|change| !matches!(change, FindingChange::Statement(_)));
        changes.push(FindingChange::Statement(whole.trim().to_owned()));
    }
    if changes.is_empty() {
        return Err(Failure::input("nothing is to be changed")
            .hint("name --title, --statement, --sentence, --stops, --when, --who or --point"));
    }
    let mut made = false;
    for change in changes {
        made |= job.act(Act::EditFinding { key: edit.key.clone(), change })?;
    }
    Ok(if made { "changed" } else { "says so already" })
}

/// The statement as it stands in the report.
fn statement_of(job: &OpenJob, key: &str) -> Result<String, Failure> {
    let visit = visit(job)?;
    let rows = visit.findings(field::UnitSystem::Us);
    let row = rows.into_iter().find(|row| row.key == key);
    Ok(row.map_or_else(String::new, |row| row.own_words().to_owned()))
}

/// A stock sentence with its gaps filled in: by `--with`, else by what the finding or the point says.
pub(super) fn sentence(
    place: &Place,
    job: &OpenJob,
    name: &str,
    with: &[String],
    key: Option<&str>,
    point: Option<&PointId>,
) -> Result<String, Failure> {
    let list = sentences::load(place)?;
    let sentence = list.find(name).ok_or_else(|| {
        let known = list.all().iter().map(|one| one.name.as_str());
        Failure::input(format!("no sentence of yours is called `{name}`"))
            .hint(near_hint(name, known))
    })?;
    let mut words = Vec::new();
    for pair in with {
        let (gap, text) = pair.split_once('=').ok_or_else(|| {
            Failure::input(format!("--with: `{pair}` fills no gap")).hint("write --with WORD=TEXT")
        })?;
        if !sentence.gaps().contains(&gap.trim()) {
            return Err(Failure::input(format!("the sentence `{name}` has no gap `{gap}`"))
                .hint(near_hint(gap, sentence.gaps())));
        }
        words.push((gap.trim().to_owned(), text.trim().to_owned()));
    }
    words.extend(visit(job)?.sentence_words(key, point));
    sentence.fill(&words).map_err(|gaps| {
        let wanted: Vec<String> = gaps.iter().map(|gap| format!("--with {gap}=\"…\"")).collect();
        Failure::input(format!("the sentence `{name}` has gaps left: {}", gaps.join(", ")))
            .hint(format!("add {}", wanted.join(" ")))
    })
}

pub(super) fn visit(job: &OpenJob) -> Result<Visit, Failure> {
    Visit::of(job.record.clone(), job.author.clone()).map_err(Failure::failed)
}

pub(super) fn attach(
    job: &mut OpenJob,
    inspection: &Inspection,
    arguments: &EvidenceArguments,
) -> Result<&'static str, Failure> {
    let attached =
        of_evidence(job, inspection, arguments, |key, evidence| Act::Attach { key, evidence });
    Ok(if attached? { "shown by it now" } else { "shown by it already" })
}

pub(super) fn detach(
    job: &mut OpenJob,
    inspection: &Inspection,
    arguments: &EvidenceArguments,
) -> Result<&'static str, Failure> {
    let detached =
        of_evidence(job, inspection, arguments, |key, evidence| Act::Detach { key, evidence });
    Ok(if detached? { "not shown by it any more" } else { "was not shown by it" })
}

/// Acts for each piece of evidence that is named; whether any changed the record.
fn of_evidence(
    job: &mut OpenJob,
    inspection: &Inspection,
    arguments: &EvidenceArguments,
    act: fn(String, Evidence) -> Act,
) -> Result<bool, Failure> {
    let mut made = false;
    for evidence in evidence(inspection, arguments)? {
        made |= job.act(act(arguments.key.clone(), evidence))?;
    }
    Ok(made)
}

fn evidence(
    inspection: &Inspection,
    arguments: &EvidenceArguments,
) -> Result<Vec<Evidence>, Failure> {
    let mut all = Vec::new();
    for word in &arguments.photo {
        all.push(Evidence::Photo(mark::find(inspection, word)?.0.clone()));
    }
    for word in &arguments.reading {
        all.push(Evidence::Reading(reading(inspection, word)?));
    }
    Ok(all)
}

/// A reading by its id, or the one that counts at `point.name@position`.
fn reading(inspection: &Inspection, word: &str) -> Result<ReadingId, Failure> {
    if let Some((id, _)) = inspection.readings.get_key_value(word) {
        return Ok(id.clone());
    }
    let (place, position) = word.split_once('@').unwrap_or((word, ""));
    let found = place.split_once('.').and_then(|(point, name)| {
        counting(inspection, point, name)
            .into_iter()
            .find(|(_, reading)| reading.position == position)
    });
    found.map(|(id, _)| id.clone()).ok_or_else(|| {
        let known: Vec<String> = inspection
            .readings
            .values()
            .filter(|reading| reading.struck_out.is_none())
            .map(|reading| match reading.position.as_str() {
                "" => format!("{}.{}", reading.point, reading.name),
                position => format!("{}.{}@{position}", reading.point, reading.name),
            })
            .collect();
        Failure::input(format!("the job has no reading `{word}`"))
            .hint(near_hint(word, known.iter().map(String::as_str)))
    })
}
