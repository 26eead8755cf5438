//! `nearside assess`: verdicts, findings, the five uses, and what is missing.

use std::io::Write;

use clap::Args;
use findings::Assessment;
use inspection::{Inspection, Outcome};
use quantity::UnitSystem;

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::{OpenJob, unit_in_words};
use crate::{json, words};

/// Assesses a job by its plan: the five uses, findings, every value with its limits, and what is missing.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside assess 2026-001\n  nearside assess 2026-001 --json")]
pub(crate) struct AssessArguments {
    /// The job's number
    job: String,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// The assessment of a job, with what could not be read from its record.
pub(crate) fn assessed(job: &OpenJob, inspection: &Inspection) -> Assessment {
    let mut assessment = findings::assess(&job.plan, inspection);
    assessment.problems.extend(job.trouble());
    assessment
}

pub(crate) fn run(place: &Place, arguments: &AssessArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let assessment = assessed(&job, &inspection);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", json::assessment(&job.plan, &inspection, &assessment))?;
        return Ok(());
    }
    writeln!(out, "job {}: {}", inspection.job.number, unit_in_words(&inspection.dwelling))?;
    writeln!(out, "\nuses, on that day, as far as examined; not a warranty")?;
    words::uses(&mut out, &job.plan, &assessment)?;
    writeln!(out, "\nfindings")?;
    for finding in &assessment.findings {
        words::finding(&mut out, finding)?;
    }
    writeln!(out, "\nvalues and verdicts")?;
    for result in assessment.points.iter().filter(|result| !result.values.is_empty()) {
        let title = job.plan.point(result.point.as_str()).map_or("", |point| &point.title);
        writeln!(out, "  {title}")?;
        for value in &result.values {
            words::value(&mut out, &job.plan, value, UnitSystem::Us)?;
        }
    }
    writeln!(out, "\nnot examined")?;
    for result in &assessment.points {
        if let Some(Outcome::NotExamined { reason }) = &result.outcome {
            let title = job.plan.point(result.point.as_str()).map_or("", |point| &point.title);
            let reason = if reason.is_empty() { "no reason given" } else { reason };
            writeln!(out, "  {title}: {reason}")?;
        }
    }
    writeln!(out, "\nmissing or open")?;
    for gap in &assessment.missing {
        writeln!(out, "  {}", gap.sentence)?;
    }
    for problem in &assessment.problems {
        writeln!(out, "problem: {problem}")?;
    }
    Ok(())
}
