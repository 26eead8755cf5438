//! The client's page of a release, given an address from the desk: what was signed lies beside it.

use ::report::Options;
use bag::place;
use quantity::UnitSystem;
use server::{NotReleased, ReleaseStep, ShareMade, ShareWanted};
use store::{JobId, Store};

use super::releases::{heads, look, refused};
use super::waiting::pages_wait;
use crate::bags::releases;
use crate::commands::share::{Terms, give, invoiced};
use crate::failure::Failure;
use crate::report_pages::{OfRelease, Pages};
use crate::speaking::Speaking;

/// Makes the page in the language and units of the release's report, with that report beside it.
pub(super) fn share(
    store: &Store,
    job: &JobId,
    wanted: &ShareWanted,
    at: &dyn Fn(ReleaseStep),
) -> Result<ShareMade, NotReleased> {
    made(store, job, wanted, at).unwrap_or_else(|failure| Err(refused(&failure)))
}

fn made(
    store: &Store,
    job: &JobId,
    wanted: &ShareWanted,
    at: &dyn Fn(ReleaseStep),
) -> Result<Result<ShareMade, NotReleased>, Failure> {
    let (place, job) = look(store, job)?;
    let known = releases::list(&job.store, &job.id)?;
    let kept = known.iter().find(|one| one.number == wanted.release).ok_or_else(|| {
        Failure::input(format!("job {} has no release {}", job.id, wanted.release))
    })?;
    let bag = releases::bag(&job.store, kept)?;
    let state = releases::state(&job.store, &bag)?;
    if state.record_heads != heads(&job) {
        // The page is made from the record: the client would read what nobody signed.
        let why = format!(
            "the job has changed since release {}; release it again, and give the client that one",
            wanted.release
        );
        return Ok(Err(NotReleased::Changed(why)));
    }
    if wanted.after_payment && !invoiced(&job)? {
        return Err(Failure::input(format!("job {} has no invoice that could be paid", job.id))
            .hint("make it first"));
    }
    let pdf = releases::content(&job.store, &bag, place::REPORT)?;
    let units = if state.report.units == "si" { UnitSystem::Si } else { UnitSystem::Us };
    let language = state.report.language.as_deref().unwrap_or("en");
    let spoken = Speaking::in_language(language).of(&place, &job.plan)?;
    at(ReleaseStep::Photos);
    let options = Options { units, ..Options::default() };
    let after_payment = wanted.after_payment || pages_wait(&job.store, &job.id)?;
    let terms = Terms { days: wanted.days, after_payment };
    let of_release = state.release.as_ref().map(|it| OfRelease::new(it, String::new()));
    let pages = Pages::of(&job, &spoken, options, of_release.unwrap_or_default());
    let shared = give(&job, &spoken, &pages, Some(&pdf), terms)?;
    Ok(Ok(ShareMade {
        address: shared.address.address,
        until_unix_ms: shared.address.expires_ms,
        remarks: shared.remarks,
    }))
}
