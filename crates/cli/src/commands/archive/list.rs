//! `nearside archive list`: all jobs, by day, filtered.

use std::io::Write;

use ::archive::ListedJob;
use clap::Args;

use super::filter::FilterArguments;
use super::up_to_date;
use crate::data_folder::Place;
use crate::failure::Failure;

/// Lists all jobs, the latest visit first: number, day, region, findings, unit and client.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
        nearside archive list\n  \
        nearside archive list --kind fifth_wheel --from 2026-01-01 --to 2026-06-30\n  \
        nearside archive list --region unknown --json")]
pub(crate) struct ListArguments {
    #[command(flatten)]
    filter: FilterArguments,
    /// Print a JSON array
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &ListArguments) -> Result<(), Failure> {
    let filter = arguments.filter.filter()?;
    let everybody = filter == ::archive::Filter::default();
    let jobs = up_to_date(place)?.jobs_like(&filter)?;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let all: Vec<_> = jobs.iter().map(ListedJob::json).collect();
        writeln!(out, "{}", serde_json::Value::Array(all))?;
        return Ok(());
    }
    if jobs.is_empty() {
        writeln!(out, "no job{}", if everybody { " yet" } else { " is like that" })?;
    }
    for job in &jobs {
        writeln!(out, "{}", line(job))?;
    }
    Ok(())
}

fn line(job: &ListedJob) -> String {
    let row = &job.row;
    if !job.trouble.is_empty() {
        return format!("{:<12} {}", row.job, job.trouble);
    }
    let day = row.visited.map_or_else(|| "no visit".to_owned(), |day| day.to_string());
    let findings = match row.findings {
        1 => "1 finding".to_owned(),
        several => format!("{several} findings"),
    };
    format!("{:<12} {day:<10}  {:<7}  {findings:>11}  {}", row.job, row.region, job.line())
}
