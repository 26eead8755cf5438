//! Words in any job that a device may see, found in what the archive has worked out.

use archive::{Archive, ArchiveError};
use axum::{
    Extension,
    extract::{Query, rejection::QueryRejection},
    response::Response,
};
use serde::Deserialize;
use serde_json::json;
use sync::Refusal;

use crate::{
    changes,
    problem::Problem,
    shared::{Device, State, store_id},
};

/// Jobs of one answer, if the device does not say how many.
const USUAL: usize = 20;
/// Jobs of one answer at most.
const MOST: usize = 100;

/// What is searched for.
#[derive(Deserialize)]
pub(crate) struct Asked {
    q: String,
    most: Option<usize>,
}

/// `GET /v1/search?q=…`
pub(crate) async fn search(
    shared: State,
    Extension(device): Extension<Device>,
    asked: Result<Query<Asked>, QueryRejection>,
) -> Result<Response, Problem> {
    let unreadable = |why: String| Problem::from(Refusal::Unreadable { why });
    let Query(Asked { q, most }) = asked.map_err(|rejection| unreadable(rejection.body_text()))?;
    let only = device.job.as_ref().map(store_id).transpose()?;
    let answer = shared
        .pool
        .with(move |store| {
            let archive = Archive::open(store)?;
            let most = most.unwrap_or(USUAL).min(MOST);
            let mut answer = archive.search(&q, most, only.as_ref())?.json();
            answer["behind"] = json!(archive.behind(store, only.as_ref())?);
            Ok(answer)
        })
        .await?;
    Ok(changes::json(answer.to_string().into_bytes()))
}

impl From<ArchiveError> for Problem {
    fn from(error: ArchiveError) -> Self {
        match error {
            ArchiveError::NoWords | ArchiveError::TooManyWords { found: _, most: _ } => {
                Refusal::Unreadable { why: error.to_string() }.into()
            }
            ArchiveError::Damaged { what: _ } | ArchiveError::Disk(_) => {
                tracing::error!(%error, "the archive cannot be read");
                Refusal::Other.into()
            }
            ArchiveError::Store(error) => error.into(),
        }
    }
}
