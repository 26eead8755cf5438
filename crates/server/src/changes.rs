//! The jobs' logs: which there are, what is new in one, and what a device adds.

use axum::{
    Extension,
    body::Body,
    extract::{Path, Query, rejection::QueryRejection},
    http::{HeaderMap, header},
    response::{IntoResponse, Response},
};
use serde::Deserialize;
use store::LogPage;
use sync::{
    Hash, JobId, Link, Refusal, limits,
    wire::{Head, Heads, Page, Push},
};

use crate::{
    problem::Problem,
    shared::{Device, State, store_id},
};

/// A push with fewer bytes is read where it arrives; a larger one on a thread that may take its time.
const READ_AT_ONCE: usize = 16 << 10;

/// `GET /v1/jobs`
pub(crate) async fn jobs(
    shared: State,
    Extension(device): Extension<Device>,
) -> Result<Response, Problem> {
    let stored = shared.pool.with(|store| Ok(store.jobs()?)).await?;
    let jobs = stored.into_iter().filter_map(|job| {
        let id = device.may_see(job.id.as_str()).ok()?;
        Some(Head { job: id, head: job.head_seq, summary: job.summary })
    });
    Ok(json(Heads { jobs: jobs.collect() }.to_json()))
}

/// Where a device's reading stands.
#[derive(Deserialize)]
pub(crate) struct After {
    after: u64,
    at: String,
}

/// `GET /v1/jobs/{job}/changes?after=…&at=…`
pub(crate) async fn pull(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    after: Result<Query<After>, QueryRejection>,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let unreadable = |why: String| Problem::from(Refusal::Unreadable { why });
    let Query(After { after, at }) =
        after.map_err(|rejection| unreadable(rejection.body_text()))?;
    let chain = sync::BlobHash::new(&at).map_err(|error| unreadable(format!("at: {error}")))?;
    let page = shared
        .pool
        .with(move |store| {
            let id = store_id(&job)?;
            let (most, bytes) = (limits::PAGE_CHANGES, limits::PAGE_BYTES);
            match store.page(&id, after, chain.0, most, bytes)? {
                LogPage::Page { head_seq, changes } => {
                    let changes = changes.into_iter().map(|change| change.bytes).collect();
                    Ok(Page { after, head: head_seq, changes }.to_json())
                }
                LogPage::OtherLog { head_seq } => Err(Refusal::OtherLog { head: head_seq }.into()),
            }
        })
        .await?;
    Ok(json(page))
}

/// `POST /v1/jobs/{job}/changes`
pub(crate) async fn push(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    let job: JobId = device.may_see(&job)?;
    takes_json(&headers)?;
    let body = shared.body(&headers, body, limits::BODY_BYTES).await?;
    let read = move || -> Result<Vec<Link>, Refusal> { Push::from_json(&body)?.read() };
    let links = if body_is_short(&headers) {
        read()
    } else {
        tokio::task::spawn_blocking(read).await.unwrap_or(Err(Refusal::Other))
    }?;
    let hashes: Vec<Hash> = links.iter().map(|link| link.hash).collect();
    let pushed = shared.keeping.push(job.clone(), links).await?;
    shared.metrics.kept(hashes.len());
    tracing::debug!(%job, head = pushed.head, changes = hashes.len(), "kept");
    Ok(json(pushed.to_json()))
}

fn body_is_short(headers: &HeaderMap) -> bool {
    let length = headers.get(header::CONTENT_LENGTH).and_then(|value| value.to_str().ok());
    length.and_then(|text| text.parse::<usize>().ok()).is_some_and(|length| length <= READ_AT_ONCE)
}

/// Refuses a body that is not called JSON: a page of another site cannot send that unasked.
pub(crate) fn takes_json(headers: &HeaderMap) -> Result<(), Problem> {
    let kind = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok());
    let kind = kind.map(|kind| kind.split(';').next().unwrap_or_default().trim());
    if kind.is_some_and(|kind| kind.eq_ignore_ascii_case("application/json")) {
        return Ok(());
    }
    Err(Problem::wrong_kind("application/json"))
}

/// A JSON answer.
pub(crate) fn json(body: Vec<u8>) -> Response {
    ([(header::CONTENT_TYPE, "application/json")], body).into_response()
}
