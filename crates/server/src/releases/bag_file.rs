//! The bag of a release as a zip file, sent while it is written: it holds every original photo, and is never in memory whole.

use std::sync::Arc;

use axum::{Extension, extract::Path, response::Response};
use sync::Refusal;

use super::{asked, busy, failed, no_release, numbered};
use crate::{
    problem::Problem,
    shared::{Device, State},
    streamed::{NotSent, file, streamed},
};

/// `GET /v1/jobs/{job}/releases/{number}/bag.zip`
pub(crate) async fn bag(
    shared: State,
    Extension(device): Extension<Device>,
    Path((job, number)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let (office, job) = asked(&shared, &device, &job).await?;
    let number = numbered(&number)?;
    let Ok(turn) = Arc::clone(&shared.bags).try_acquire_owned() else { return Err(busy()) };
    let sent = streamed(&shared.pool, turn, move |store, out| {
        // That there is no such release shows in that nothing is written.
        (office.bag)(store, &job, number, out).map(drop)
    });
    match sent.await {
        Ok(response) => Ok(file(response, "application/zip")),
        Err(NotSent::Nothing) => Err(no_release()),
        Err(NotSent::Failed(why)) => Err(failed(why)),
        Err(NotSent::Stopped) => Err(Refusal::Other.into()),
    }
}
