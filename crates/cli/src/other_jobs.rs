//! What of other jobs in the data folder must not stand in a job's texts.

use findings::OtherJob;
use store::{JobId, Store};

use crate::failure::Failure;
use crate::open_job;

/// How many other jobs are looked at: the newest. Who starts from an old text starts from a recent one.
const JOBS_MOST: usize = 50;

/// Facts of the newest other jobs. A job that cannot be read has none.
pub(crate) fn facts(store: &Store, own: &JobId) -> Result<Vec<OtherJob>, Failure> {
    let mut jobs = store.jobs()?;
    jobs.retain(|job| job.id != *own);
    jobs.sort_by_key(|job| std::cmp::Reverse(job.created_unix_ms));
    let read = jobs.iter().take(JOBS_MOST).filter_map(|job| {
        let record = open_job::record_of(store, &job.id).ok()?;
        Some(OtherJob::of(&record.inspection().0))
    });
    Ok(read.collect())
}
