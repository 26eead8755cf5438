//! The one line that stands for a job in lists: written by the server for jobs that phones began, from the record.
//!
//! This is the only place where the server opens a job's document. Nothing rests on it: where the record cannot be
//! read, the line stays as it was.

use inspection::{Dwelling, Job};
use record::Record;
use store::{JobId, Store};

/// The line for lists: unit and client.
#[must_use]
pub fn summary(job: &Job, dwelling: &Dwelling) -> String {
    let unit = unit_in_words(dwelling);
    if job.client.name.is_empty() { unit } else { format!("{unit}, for {}", job.client.name) }
}

/// `2019 travel trailer, Maker Model`.
#[must_use]
pub fn unit_in_words(dwelling: &Dwelling) -> String {
    let mut words = match dwelling.model_year {
        Some(year) => format!("{year} {}", dwelling.kind.title()),
        None => dwelling.kind.title().to_owned(),
    };
    let named = [dwelling.maker.as_str(), dwelling.model.as_str()].join(" ");
    if !named.trim().is_empty() {
        words.push_str(", ");
        words.push_str(named.trim());
    }
    words
}

/// Brings a job's line up to date with its record.
pub(crate) fn name(store: &Store, job: &JobId, known: &str) {
    let Ok(changes) = store.changes(job, 0, usize::MAX) else { return };
    let Ok(record) = Record::load(changes.iter().map(|change| change.bytes.as_slice())) else {
        tracing::warn!(%job, "the record cannot be read; the job's line in lists stays as it is");
        return;
    };
    let (inspection, _) = record.inspection();
    let line = summary(&inspection.job, &inspection.dwelling);
    if line != known
        && let Err(error) = store.set_summary(job, &line)
    {
        tracing::warn!(%job, %error, "the job's line in lists was not written");
    }
}
