//! `nearside job list`: all jobs.

use std::io::Write;

use clap::Args;
use serde_json::json;

use crate::data_folder::Place;
use crate::failure::Failure;

/// Lists all jobs: number, unit, client.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside job list\n  nearside job list --json")]
pub(crate) struct ListArguments {
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ListArguments) -> Result<(), Failure> {
    let jobs = place.store()?.jobs()?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let all: Vec<_> = jobs
            .iter()
            .map(|job| {
                json!({
                    "job": job.id.as_str(),
                    "summary": job.summary,
                    "changes": job.head_seq,
                    "created_unix_ms": job.created_unix_ms,
                })
            })
            .collect();
        writeln!(out, "{}", serde_json::Value::from(all))?;
        return Ok(());
    }
    if jobs.is_empty() {
        writeln!(out, "no jobs yet; `nearside job new` makes one")?;
    }
    for job in jobs {
        writeln!(out, "{:<12} {}", job.id.as_str(), job.summary)?;
    }
    Ok(())
}
