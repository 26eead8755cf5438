//! What is agreed with the client, from an act to the record's edit: each writes one thing, so that each can be taken back.

use inspection::{Agreement, Job};
use record::Edit;

use crate::act::EngagementChange;
use crate::fee::{self, plain};
use crate::{Said, Visit};

/// An agreement that nobody has put to the client yet.
pub(crate) fn put(visit: &Visit, language: &str, terms: &[String]) -> Result<Vec<Edit>, Said> {
    let job = &visit.inspection().job;
    if job.engagement.agreement.is_some() {
        return Err(Said::new("refusal-agreement-there"));
    }
    let dwelling = &visit.inspection().dwelling;
    let kind = dwelling.kind.title();
    let unit = dwelling.model_year.map_or_else(|| kind.to_owned(), |year| format!("{year} {kind}"));
    let name = plain(&format!("{} {}", dwelling.maker, dwelling.model));
    let unit = if name.is_empty() { unit } else { format!("{unit}, {name}") };
    let after = Agreement {
        unit,
        day: job.visits.first().copied(),
        language: coded(language),
        terms: paragraphs(&terms.join("\n\n")),
        ..Agreement::default()
    };
    Ok(vec![Edit::SetAgreement { before: None, after: Box::new(after) }])
}

/// One thing written anew.
pub(crate) fn changed(visit: &Visit, change: EngagementChange) -> Result<Vec<Edit>, Said> {
    let job = &visit.inspection().job;
    Ok(match change {
        EngagementChange::Client(text) => of_job(job, |job| job.client.name = plain(&text)),
        EngagementChange::Contact(text) => of_job(job, |job| job.client.contact = words(&text)),
        EngagementChange::Site(text) => of_job(job, |job| job.site.address = words(&text)),
        EngagementChange::Purpose(text) => of_job(job, |job| job.purpose = plain(&text)),
        EngagementChange::Scope(text) => of_job(job, |job| job.engagement.scope = words(&text)),
        EngagementChange::Limits(text) => of_job(job, |job| job.engagement.limits = words(&text)),
        EngagementChange::Unit(text) => of_agreement(job, |it| it.unit = plain(&text))?,
        EngagementChange::Payment(text) => of_agreement(job, |it| it.payment = words(&text))?,
        EngagementChange::Day(text) => {
            let text = text.trim();
            let day = match text {
                "" => None,
                text => Some(
                    text.parse().map_err(|_| Said::new("refusal-no-day").with("entry", text))?,
                ),
            };
            of_agreement(job, |it| it.day = day)?
        }
        EngagementChange::Terms { language, text } => of_agreement(job, |it| {
            it.language = coded(&language);
            it.terms = paragraphs(&text);
        })?,
        EngagementChange::Fee(typed) => {
            let charges = fee::charges(&typed)?;
            of_agreement(job, |it| it.charges = charges)?
        }
    })
}

fn of_job(before: &Job, change: impl FnOnce(&mut Job)) -> Vec<Edit> {
    let mut after = before.clone();
    change(&mut after);
    if after == *before {
        return Vec::new();
    }
    vec![Edit::ChangeJob { before: Box::new(before.clone()), after: Box::new(after) }]
}

fn of_agreement(job: &Job, change: impl FnOnce(&mut Agreement)) -> Result<Vec<Edit>, Said> {
    let Some(before) = &job.engagement.agreement else {
        return Err(Said::new("refusal-no-agreement"));
    };
    let mut after = before.clone();
    change(&mut after);
    if after == *before {
        return Ok(Vec::new());
    }
    Ok(vec![Edit::SetAgreement { before: Some(Box::new(before.clone())), after: Box::new(after) }])
}

/// The record says nothing for English.
fn coded(language: &str) -> String {
    if language == "en" { String::new() } else { language.to_owned() }
}

/// Paragraphs with an empty line between, each on one line.
fn paragraphs(text: &str) -> Vec<String> {
    let mut paragraphs = vec![String::new()];
    for row in text.lines().map(plain) {
        match paragraphs.last_mut() {
            Some(last) if row.is_empty() && !last.is_empty() => paragraphs.push(String::new()),
            Some(last) if !row.is_empty() => {
                if !last.is_empty() {
                    last.push(' ');
                }
                last.push_str(&row);
            }
            Some(_) | None => {}
        }
    }
    paragraphs.retain(|paragraph| !paragraph.is_empty());
    paragraphs
}

/// Words on as many lines as were typed.
fn words(text: &str) -> String {
    let shown = |letter: &char| !letter.is_control() || *letter == '\n';
    text.trim().chars().filter(shown).collect()
}
