//! `nearside agreement set`: what is put to the client.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use inspection::{Agreement, Job};
use jiff::civil::Date;
use plan::Files;
use record::Edit;
use serde_json::json;

use crate::commands::near_hint;
use crate::data_folder::{Place, read_text};
use crate::failure::Failure;
use crate::office::agreements;
use crate::office::charges::ChargeArguments;
use crate::open_job::{OpenJob, unit_in_words};

/// Says what is put to the client for consent; whatever is left out stays as it is.
///
/// The first time, the unit is taken from the job, the day from its first visit, and the terms from the plan, in your own
/// words where you have some (`nearside texts`). The terms are kept in the job word by word.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  \
    nearside agreement set 2026-001 --scope \"The whole unit\" --limits \"Nobody goes on the roof\"\n  \
    nearside agreement set 2026-001 --line \"Inspection = 425.00\" --line \"Travel, 60 miles = 40.20; untaxed\" \
    --tax \"State sales tax = 6 %\"\n  \
    nearside agreement set 2026-001 --language es --terms terminos.txt")]
pub(crate) struct SetArguments {
    /// The job's number
    job: String,
    /// What will be examined
    #[arg(long, value_name = "WORDS")]
    scope: Option<String>,
    /// What will not be examined, or only in part
    #[arg(long, value_name = "WORDS")]
    limits: Option<String>,
    /// The unit, as you and the client speak of it
    #[arg(long, value_name = "WORDS")]
    unit: Option<String>,
    /// The day agreed for the visit, such as 2026-06-12
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
    /// When and how the fee is paid
    #[arg(long, value_name = "WORDS")]
    payment: Option<String>,
    #[command(flatten)]
    charges: ChargeArguments,
    /// Terms of your own: a text file, paragraphs with an empty line between
    #[arg(long, value_name = "FILE", conflicts_with = "plan_terms")]
    terms: Option<PathBuf>,
    /// The terms of the plan again, in the agreement's language
    #[arg(long)]
    plan_terms: bool,
    /// Language of the agreement: `en`, or `es` for Spanish; what you write yourself stays as you wrote it
    #[arg(long, value_name = "CODE")]
    language: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &SetArguments) -> Result<(), Failure> {
    let mut job = OpenJob::open(place, &arguments.job)?;
    let asked = Asked::of(place, &job, arguments)?;
    let changed = job.edit(|record, _| asked.edits(record))?;
    let now = job.inspection().job;
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({
            "job": arguments.job,
            "changed": changed,
            "state": agreements::state_word(&now),
            "agreed_sha256": findings::agreed_sha256(&now),
        });
        writeln!(out, "{object}")?;
        return Ok(());
    }
    writeln!(out, "{}", if changed { "kept" } else { "nothing changed" })?;
    writeln!(out, "agreement: {}", agreements::state_in_words(&now))?;
    writeln!(
        out,
        "next: nearside agreement show {0}; then `share {0}` or `sign {0}`",
        arguments.job
    )?;
    Ok(())
}

/// What was asked for, read and checked.
struct Asked {
    scope: Option<String>,
    limits: Option<String>,
    agreement: Agreement,
}

impl Asked {
    fn of(place: &Place, job: &OpenJob, arguments: &SetArguments) -> Result<Self, Failure> {
        let inspection = job.inspection();
        let known = inspection.job.engagement.agreement.as_ref();
        let mut agreement = known.cloned().unwrap_or_else(|| Agreement {
            unit: unit_in_words(&inspection.dwelling),
            day: inspection.job.visits.first().copied(),
            ..Agreement::default()
        });
        let language = language(arguments.language.as_deref(), &agreement.language)?;
        let other_language = language != agreement.language;
        agreement.language = language;
        agreement.terms = match &arguments.terms {
            Some(file) => paragraphs(&read_text(file)?).ok_or_else(|| {
                Failure::input(format!("{}: no paragraph stands in it", file.display()))
                    .hint("leave --terms out for the plan's terms")
            })?,
            None if known.is_none() || arguments.plan_terms || other_language => {
                agreements::spoken_plan(place, &job.plan, &agreement.language)?.terms
            }
            None => agreement.terms,
        };
        if other_language && arguments.terms.is_none() && known.is_some() {
            eprintln!(
                "note: the terms are now the plan's in that language; name your own with --terms FILE"
            );
        }
        for (option, given, field) in [
            ("--unit", &arguments.unit, &mut agreement.unit),
            ("--payment", &arguments.payment, &mut agreement.payment),
        ] {
            if let Some(text) = given {
                *field = words(option, text)?;
            }
        }
        if let Some(text) = &arguments.day {
            agreement.day = Some(day(text, "--day")?);
        }
        agreement.charges = arguments.charges.over(&agreement.charges)?;
        let text = |option, given: &Option<String>| {
            given.as_deref().map(|text| words(option, text)).transpose()
        };
        Ok(Self {
            scope: text("--scope", &arguments.scope)?,
            limits: text("--limits", &arguments.limits)?,
            agreement,
        })
    }

    fn edits(&self, record: &record::Record) -> Vec<Edit> {
        let (inspection, _) = record.inspection();
        let before = inspection.job;
        let mut after: Job = before.clone();
        if let Some(scope) = &self.scope {
            after.engagement.scope.clone_from(scope);
        }
        if let Some(limits) = &self.limits {
            after.engagement.limits.clone_from(limits);
        }
        let agreement = before.engagement.agreement.clone().map(Box::new);
        let mut edits = Vec::new();
        if after != before {
            edits.push(Edit::ChangeJob { before: Box::new(before), after: Box::new(after) });
        }
        if agreement.as_deref() != Some(&self.agreement) {
            let after = Box::new(self.agreement.clone());
            edits.push(Edit::SetAgreement { before: agreement, after });
        }
        edits
    }
}

/// The language that was asked for; empty is English, as in the record.
fn language(asked: Option<&str>, known: &str) -> Result<String, Failure> {
    let Some(asked) = asked else { return Ok(known.to_owned()) };
    let languages: Vec<&str> = Files::languages().collect();
    if !languages.contains(&asked) {
        return Err(Failure::input(format!("no texts are in the language `{asked}`"))
            .hint(near_hint(asked, languages)));
    }
    Ok(if asked == "en" { String::new() } else { asked.to_owned() })
}

/// Paragraphs with an empty line between, each on one line.
fn paragraphs(text: &str) -> Option<Vec<String>> {
    let mut paragraphs = vec![String::new()];
    for line in text.lines().map(str::trim) {
        match (paragraphs.last_mut(), line) {
            (Some(last), "") if !last.is_empty() => paragraphs.push(String::new()),
            (Some(last), line) => {
                if !last.is_empty() {
                    last.push(' ');
                }
                last.push_str(line);
            }
            (None, _) => {}
        }
    }
    paragraphs.retain(|paragraph| !paragraph.is_empty());
    (!paragraphs.is_empty()).then_some(paragraphs)
}

/// A text without what no page can show.
fn words(option: &str, text: &str) -> Result<String, Failure> {
    if text.chars().any(|letter| letter.is_control() && letter != '\n') {
        return Err(Failure::input(format!(
            "{option}: control characters are not accepted, except line ends"
        )));
    }
    Ok(text.trim().to_owned())
}

/// A day as it is typed.
pub(crate) fn day(text: &str, option: &str) -> Result<Date, Failure> {
    text.trim().parse().map_err(|_| {
        Failure::input(format!("{option}: `{text}` is no day; write it like 2026-06-12"))
    })
}

#[cfg(test)]
mod tests {
    use super::paragraphs;

    #[test]
    fn paragraphs_are_parted_by_empty_lines() {
        let text = "\n\nFirst\n  goes on.\r\n\n \nSecond.\n";
        assert_eq!(paragraphs(text).unwrap(), ["First goes on.", "Second."]);
        assert_eq!(paragraphs(" \n\n"), None);
    }
}
