//! `nearside finding`: list, add, confirm and withdraw findings.

use std::io::Write;

use clap::{Args, Subcommand};
use findings::Assessment;
use inspection::{FindingState, Inspection, PointId, TimeToAct, Use};
use record::Edit;
use serde_json::json;

use crate::commands::{near_hint, point_of};
use crate::counting::at_position;
use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::OpenJob;
use crate::sheet::{FilledFinding, apply};
use crate::today;

/// Lists a job's findings; adds one of your own; confirms or withdraws a drafted one.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside finding 2026-001 list\n  \
        nearside finding 2026-001 confirm regulator_lockup/lockup_high\n  \
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
    Add(AddArguments),
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
}

/// Adds a finding that no point's list has
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  nearside finding 2026-001 add --title \"Wasps in the vent\" --statement \"…\" --stops gas --who owner"
)]
struct AddArguments {
    /// The point it belongs to
    #[arg(long)]
    point: Option<String>,
    /// Short heading
    #[arg(long)]
    title: String,
    /// The statement for the report
    #[arg(long, default_value = "")]
    statement: String,
    /// Uses that it stops, separated by commas: tow, power, gas, water, stay
    #[arg(long, value_delimiter = ',')]
    stops: Vec<String>,
    /// How soon to act: before use, soon, in time
    #[arg(long, default_value = "soon")]
    when: String,
    /// Whom to call
    #[arg(long, default_value = "")]
    who: String,
}

pub(crate) fn run(place: &Place, arguments: &FindingArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let assessment = findings::assess(&job.plan, &inspection);
    match &arguments.command {
        None | Some(FindingCommand::List) => list(&inspection, &assessment, arguments.json),
        Some(FindingCommand::Add(add)) => {
            let finding = own(&job, &inspection, add)?;
            let made = job.edit(|record, author| {
                let inspection = record.inspection().0;
                apply::finding_edit(&finding, &[], &inspection, record, author, today::now())
                    .into_iter()
                    .collect()
            })?;
            let done = if made { "added" } else { "was there already" };
            tell(&finding.title, done, arguments.json)
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
    for (id, finding) in &inspection.findings {
        if let FindingState::Withdrawn { reason } = &finding.state {
            let key = finding.draft.as_deref().unwrap_or(id.as_str());
            writeln!(out, "withdrawn: {} ({key}): {reason}", finding.title)?;
        }
    }
    Ok(())
}

fn own(
    job: &OpenJob,
    inspection: &Inspection,
    add: &AddArguments,
) -> Result<FilledFinding, Failure> {
    let point = match &add.point {
        None => None,
        Some(id) => {
            point_of(&job.plan, &inspection.dwelling, id)?;
            Some(PointId::from(id.as_str()))
        }
    };
    if add.title.trim().is_empty() {
        return Err(Failure::input("the finding has no title").hint("write --title \"…\""));
    }
    let mut stops = Vec::new();
    for word in add.stops.iter().map(|word| word.trim()).filter(|word| !word.is_empty()) {
        let one = Use::from_word(word).ok_or_else(|| {
            Failure::input(format!("no use is called `{word}`"))
                .hint(near_hint(word, Use::ALL.map(Use::word)))
        })?;
        if !stops.contains(&one) {
            stops.push(one);
        }
    }
    let when = TimeToAct::from_words(&add.when).ok_or_else(|| {
        Failure::input(format!("`{}` is no time to act", add.when))
            .hint("write \"before use\", \"soon\" or \"in time\"")
    })?;
    Ok(FilledFinding {
        id: None,
        point,
        title: add.title.trim().to_owned(),
        statement: add.statement.trim().to_owned(),
        stops,
        when,
        who: add.who.trim().to_owned(),
        photos: Vec::new(),
    })
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
    if draft.is_none() && own.is_none() && apply::decided(inspection, key).is_none() {
        let keys = assessment.findings.iter().map(|finding| finding.key.as_str());
        return Err(
            Failure::input(format!("no finding has the key `{key}`")).hint(near_hint(key, keys))
        );
    }
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
