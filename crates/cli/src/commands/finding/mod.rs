//! `nearside finding`: list, add, word, confirm, merge and withdraw findings, and their evidence.

mod add;
mod change;
mod show;

pub(crate) use show::remarks;

use std::io::Write;

use clap::{Args, Subcommand};
use field::Act;
use findings::Assessment;
use inspection::{FindingState, Inspection};
use record::Edit;
use serde_json::json;

use crate::commands::near_hint;
use crate::counting::at_position;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::sheet::apply;
use crate::today;

/// Lists a job's findings; adds one of your own; words, confirms, merges or withdraws one; gives it evidence.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside finding 2026-001 list\n  \
        nearside finding 2026-001 show regulator_lockup/lockup_high\n  \
        nearside finding 2026-001 confirm regulator_lockup/lockup_high\n  \
        nearside finding 2026-001 edit regulator_lockup/lockup_high --when \"before use\" --sentence gas-off\n  \
        nearside finding 2026-001 merge cladding/puncture cladding/dent\n  \
        nearside finding 2026-001 withdraw cladding/puncture --reason \"a sticker, not a hole\"\n  \
        nearside finding 2026-001 add --title \"Wasps in the vent\" --stops gas --when \"before use\" --who owner")]
pub(crate) struct FindingArguments {
    /// The job's number
    job: String,
    #[command(subcommand)]
    command: Option<FindingCommand>,
    /// Print JSON
    #[arg(long, global = true)]
    json: bool,
}

#[derive(Subcommand, Debug)]
enum FindingCommand {
    /// Lists the findings that stand, and those that were withdrawn
    #[command(after_help = "Example:\n  nearside finding 2026-001 list")]
    List,
    /// Shows one finding with its evidence, its parts, and remarks on its texts
    #[command(
        after_help = "Example:\n  nearside finding 2026-001 show regulator_lockup/lockup_high"
    )]
    Show {
        /// The finding's key, as `list` shows it
        key: String,
    },
    Add(add::AddArguments),
    Edit(change::EditArguments),
    /// Confirms a finding: it stands in the report
    #[command(
        after_help = "Example:\n  nearside finding 2026-001 confirm regulator_lockup/lockup_high"
    )]
    Confirm {
        /// The finding's key, as `list` shows it
        key: String,
    },
    /// Withdraws a finding; it stays in the record with the reason
    #[command(
        after_help = "Example:\n  nearside finding 2026-001 withdraw cladding/puncture --reason \"a sticker, not a hole\""
    )]
    Withdraw {
        /// The finding's key, as `list` shows it
        key: String,
        /// Why
        #[arg(long, value_name = "TEXT")]
        reason: String,
    },
    /// Makes a finding a part of another, which speaks for both: evidence, places and uses are united
    #[command(
        after_help = "Example:\n  nearside finding 2026-001 merge cladding/puncture cladding/dent"
    )]
    Merge {
        /// The key of the one that becomes a part
        key: String,
        /// The key of the other
        into: String,
    },
    /// Takes a finding out of the one that it is a part of: it stands by itself again
    #[command(after_help = "Example:\n  nearside finding 2026-001 unmerge cladding/puncture")]
    Unmerge {
        /// Its key, as `list` shows it
        key: String,
    },
    /// Says that a photo or a reading shows a finding
    #[command(
        after_help = "Examples:\n  nearside finding 2026-001 attach cladding/dent --photo IMG_0012.jpg\n  nearside finding 2026-001 attach cladding/dent --reading panel_moisture.meter@left"
    )]
    Attach(change::EvidenceArguments),
    /// Says that a photo or a reading does not show a finding
    #[command(
        after_help = "Example:\n  nearside finding 2026-001 detach cladding/dent --photo IMG_0012.jpg"
    )]
    Detach(change::EvidenceArguments),
    /// Says what became of a finding that was carried from the job that this one inspects again
    #[command(
        after_help = "Examples:\n  nearside finding 2026-009 recheck carried-3 corrected\n  nearside finding 2026-009 recheck carried-4 not-seen --reason \"the compartment was locked\""
    )]
    Recheck(change::RecheckArguments),
    /// Remarks on the job's own texts: words that promise too much, and what is left over from another job
    #[command(after_help = "Example:\n  nearside finding 2026-001 check")]
    Check,
}

pub(crate) fn run(place: &Place, arguments: &FindingArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let assessment = findings::assess(&job.plan, &inspection);
    match &arguments.command {
        None | Some(FindingCommand::List) => list(&inspection, &assessment, arguments.json),
        Some(FindingCommand::Show { key }) => show::run(&job, key, arguments.json),
        Some(FindingCommand::Check) => show::check(&job, &inspection, arguments.json),
        Some(FindingCommand::Add(add)) => {
            let (title, done) = add::run(place, &mut job, &inspection, add)?;
            tell(&title, done, arguments.json)
        }
        Some(FindingCommand::Edit(edit)) => {
            known(&inspection, &assessment, &edit.key)?;
            let done = change::edit(place, &mut job, edit)?;
            tell(&edit.key, done, arguments.json)
        }
        Some(FindingCommand::Recheck(recheck)) => {
            known(&inspection, &assessment, &recheck.key)?;
            let done = change::recheck(&mut job, recheck)?;
            tell(&recheck.key, done, arguments.json)
        }
        Some(FindingCommand::Merge { key, into }) => {
            known(&inspection, &assessment, key)?;
            known(&inspection, &assessment, into)?;
            job.act(Act::Merge { key: key.clone(), into: into.clone() })?;
            tell(key, &format!("a part of {into} now"), arguments.json)
        }
        Some(FindingCommand::Unmerge { key }) => {
            known(&inspection, &assessment, key)?;
            job.act(Act::Unmerge { key: key.clone() })?;
            tell(key, "stands by itself again", arguments.json)
        }
        Some(FindingCommand::Attach(evidence)) => {
            known(&inspection, &assessment, &evidence.key)?;
            let done = change::attach(&mut job, &inspection, evidence)?;
            tell(&evidence.key, done, arguments.json)
        }
        Some(FindingCommand::Detach(evidence)) => {
            known(&inspection, &assessment, &evidence.key)?;
            let done = change::detach(&mut job, &inspection, evidence)?;
            tell(&evidence.key, done, arguments.json)
        }
        Some(FindingCommand::Confirm { key }) => {
            decide(&mut job, &inspection, &assessment, key, None)?;
            tell(key, "confirmed", arguments.json)
        }
        Some(FindingCommand::Withdraw { key, reason }) => {
            decide(&mut job, &inspection, &assessment, key, Some(reason))?;
            tell(key, "withdrawn", arguments.json)
        }
    }
}

fn tell(key: &str, done: &str, json: bool) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    if json {
        writeln!(out, "{}", json!({"finding": key, "done": done}))?;
    } else {
        writeln!(out, "{key}: {done}")?;
    }
    Ok(())
}

fn list(inspection: &Inspection, assessment: &Assessment, json: bool) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    if json {
        let all: Vec<_> = assessment.findings.iter().map(crate::json::finding).collect();
        writeln!(out, "{}", serde_json::Value::from(all))?;
        return Ok(());
    }
    if assessment.findings.is_empty() {
        writeln!(out, "no findings")?;
    }
    for finding in &assessment.findings {
        let state = if finding.confirmed { "confirmed" } else { "drafted" };
        let stops: Vec<&str> = finding.stops.iter().map(|one| one.word()).collect();
        let stops =
            if stops.is_empty() { String::new() } else { format!(", stops {}", stops.join(", ")) };
        writeln!(
            out,
            "{}. {}{} ({state}, {}{stops})\n   {}",
            finding.number,
            finding.title,
            at_position(&finding.position),
            finding.when.words(),
            finding.key
        )?;
    }
    for one in &assessment.carried {
        let reason =
            if one.reason.is_empty() { String::new() } else { format!(": {}", one.reason) };
        writeln!(
            out,
            "carried: {} of the earlier job ({}), {}{reason}: {}",
            one.number_then,
            one.finding,
            one.state.words(),
            one.title
        )?;
    }
    for (id, finding) in &inspection.findings {
        let key = finding.draft.as_deref().unwrap_or(id.as_str());
        match &finding.state {
            FindingState::Withdrawn { reason } => {
                writeln!(out, "withdrawn: {} ({key}): {reason}", finding.title)?;
            }
            FindingState::Merged { into } => {
                writeln!(out, "merged: {} ({key}), a part of {into}", finding.title)?;
            }
            FindingState::Draft | FindingState::Confirmed => {}
        }
    }
    Ok(())
}

/// Refuses a key that no finding has.
fn known(inspection: &Inspection, assessment: &Assessment, key: &str) -> Result<(), Failure> {
    let stands = assessment.findings.iter().any(|finding| finding.key == key);
    let recorded = inspection.findings.contains_key(key);
    if stands || recorded || apply::decided(inspection, key).is_some() {
        return Ok(());
    }
    let keys = assessment.findings.iter().map(|finding| finding.key.as_str());
    Err(Failure::input(format!("no finding has the key `{key}`")).hint(near_hint(key, keys)))
}

/// Records a decision on a drafted finding, or on one that a person wrote.
fn decide(
    job: &mut OpenJob,
    inspection: &Inspection,
    assessment: &Assessment,
    key: &str,
    withdraw: Option<&str>,
) -> Result<(), Failure> {
    let draft = assessment.findings.iter().find(|finding| finding.key == key);
    let own = inspection.findings.get_key_value(key);
    known(inspection, assessment, key)?;
    if withdraw.is_some_and(|reason| reason.trim().is_empty()) {
        return Err(Failure::input("--reason is empty; say why the finding is withdrawn"));
    }
    if let Some((id, before)) = own {
        let state = match withdraw {
            None => FindingState::Confirmed,
            Some(reason) => FindingState::Withdrawn { reason: reason.to_owned() },
        };
        let after = inspection::RecordedFinding { state, ..before.clone() };
        let edit = Edit::ChangeFinding {
            id: id.clone(),
            before: Box::new(before.clone()),
            after: Box::new(after),
        };
        job.edit(|_, _| vec![edit])?;
        return Ok(());
    }
    let now = today::now();
    job.edit(|record, author| {
        let inspection = record.inspection().0;
        apply::decision_edit(key, withdraw, draft, &inspection, record, author, now)
            .into_iter()
            .collect()
    })?;
    Ok(())
}
