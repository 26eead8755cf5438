//! Whether the client's pages of a job wait until its invoices are paid: said once a job, for the addresses there are and for
//! those to come.

use store::{JobId, Store};

use crate::failure::Failure;

/// Whether the pages of the job wait; they do not unless it was said.
pub(crate) fn pages_wait(store: &Store, job: &JobId) -> Result<bool, Failure> {
    Ok(store.setting(&key(job))?.as_deref() == Some(YES))
}

/// Says whether they wait, from now on and for the addresses that were given already.
pub(crate) fn set_pages_wait(store: &Store, job: &JobId, wait: bool) -> Result<(), Failure> {
    store.set_setting(&key(job), if wait { YES } else { NO })?;
    Ok(store.set_pages_wait(job, wait)?)
}

const YES: &str = "yes";
const NO: &str = "no";

fn key(job: &JobId) -> String {
    format!("office.pages_wait.{job}")
}
