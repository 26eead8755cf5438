//! What of other jobs in the data folder must not stand in a job's texts.

use findings::OtherJob;
use store::{JobId, Store, StoredJob};

use crate::failure::Failure;
use crate::open_job;

/// How many other jobs are looked at: the newest. Who starts from an old text starts from a recent one.
const JOBS_MOST: usize = 50;

/// Facts of the newest other jobs. A job that cannot be read has none.
pub(crate) fn facts(store: &Store, own: &JobId) -> Result<Vec<OtherJob>, Failure> {
    let jobs = newest(store, own)?;
    Ok(jobs.iter().filter_map(|job| facts_of(store, &job.id)).collect())
}

/// The newest other jobs.
pub(crate) fn newest(store: &Store, own: &JobId) -> Result<Vec<StoredJob>, Failure> {
    let mut jobs = store.jobs()?;
    jobs.retain(|job| job.id != *own);
    jobs.sort_by_key(|job| std::cmp::Reverse(job.created_unix_ms));
    jobs.truncate(JOBS_MOST);
    Ok(jobs)
}

/// Facts of a job; none if it cannot be read.
pub(crate) fn facts_of(store: &Store, job: &JobId) -> Option<OtherJob> {
    let record = open_job::record_of(store, job).ok()?;
    Some(OtherJob::of(&record.inspection().0))
}
