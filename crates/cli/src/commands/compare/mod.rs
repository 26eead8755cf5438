//! `nearside compare`: what differs between two states of a job.

mod ready;
mod sections;
mod sides;
#[cfg(test)]
mod tests;
mod walk;

use std::io::Write;

use clap::Args;
use serde_json::{Value, json};

use crate::data_folder::Place;
use crate::failure::Failure;
use sides::Side;

/// Shows what differs between two releases: everything that a reader of the report sees, section by section, and what is
/// missing or open.
///
/// The whole contents of both reports are compared, down to each word and number, and what only the record knows of the photos:
/// what is blurred, cut off, where each belongs.
///
/// Each side is a bag (a folder or a zip file), `JOB@2` for a release in the data folder, or `JOB` for the job as it stands
/// now. A bag in which anything differs from what was packed is refused.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside compare 2026-001@1 2026-001@2\n  nearside compare 2026-001@1 2026-001\n  \
                        nearside compare 2026-001-release-1 2026-001-release-2.zip --json"
)]
pub(crate) struct CompareArguments {
    /// The earlier state
    earlier: String,
    /// The later state
    later: String,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// One line of a comparison.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Difference {
    /// The section: `uses`, `findings`, `photos` …
    pub(crate) what: &'static str,
    /// Which one.
    pub(crate) key: String,
    /// As it was; none where it is new.
    pub(crate) before: Option<String>,
    /// As it is; none where it has gone.
    pub(crate) after: Option<String>,
}

pub(crate) fn run(place: &Place, arguments: &CompareArguments) -> Result<(), Failure> {
    let (earlier, later) = sides::both(place, &arguments.earlier, &arguments.later)?;
    let differences = differences(&earlier, &later);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let lines: Vec<Value> = differences
            .iter()
            .map(|it| json!({"what": it.what, "key": it.key, "before": it.before, "after": it.after}))
            .collect();
        let object = json!({
            "earlier": earlier.name,
            "later": later.name,
            "same_record": earlier.heads == later.heads,
            "anew": sides::anew(&earlier, &later),
            "differences": lines,
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{} against {}", earlier.name, later.name)?;
    if let Some(because) = because(&later) {
        writeln!(out, "because: {because}")?;
    }
    for name in sides::anew(&earlier, &later) {
        writeln!(
            out,
            "what the report of {name} says was worked out anew from its record: the bag does not hold it as data"
        )?;
    }
    if differences.iter().all(|one| sections::NAMING.contains(&one.what)) {
        let record =
            if earlier.heads == later.heads { "the same record" } else { "another record" };
        let but = if differences.is_empty() { "" } else { ", but what names the two themselves" };
        writeln!(out, "nothing differs that a reader of the report would see{but} ({record})")?;
    }
    let mut heading = "";
    for difference in &differences {
        if difference.what != heading {
            heading = difference.what;
            writeln!(out, "\n{heading}")?;
        }
        match (&difference.before, &difference.after) {
            (None, Some(after)) => writeln!(out, "  + {}", with_rest(&difference.key, after))?,
            (Some(before), None) => writeln!(out, "  - {}", with_rest(&difference.key, before))?,
            (Some(before), Some(after)) => {
                writeln!(out, "  ~ {}", difference.key)?;
                writeln!(out, "      was {before}")?;
                writeln!(out, "      is  {after}")?;
            }
            (None, None) => {}
        }
    }
    Ok(())
}

fn with_rest(key: &str, rest: &str) -> String {
    if rest.is_empty() { key.to_owned() } else { format!("{key}: {rest}") }
}

fn because(later: &Side) -> Option<&str> {
    later.release()?.corrects.as_ref().map(|it| it.because.as_str())
}

/// What has changed from a release of a job to a later one, or to the job as it stands now; and whether both are of the same
/// record.
pub(crate) fn since(
    place: &Place,
    job: &str,
    release: u32,
    until: Option<u32>,
) -> Result<(bool, Vec<Difference>), Failure> {
    let (earlier, later) = sides::since(place, job, release, until)?;
    Ok((earlier.heads == later.heads, differences(&earlier, &later)))
}

/// Everything that differs: what the report says on both sides, and what is missing or open.
fn differences(earlier: &Side, later: &Side) -> Vec<Difference> {
    let mut all = walk::differences(&earlier.ready(), &later.ready());
    let open = |side: &Side| -> Value { side.missing.iter().map(String::as_str).collect() };
    let missing =
        walk::differences(&json!({"missing": open(earlier)}), &json!({"missing": open(later)}));
    all.extend(missing);
    // A job as it stands is no release and has accepted nothing yet: that says nothing of what has changed.
    if earlier.release().is_none() || later.release().is_none() {
        all.retain(|one| !["release", "accepted"].contains(&one.what));
    }
    all
}
