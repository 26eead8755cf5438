//! A part of a job's report as pages for a screen, while somebody edits.
//!
//! The server does not lay out anything itself: whoever starts it passes in what does. One part is laid out at a time, and
//! who stopped waiting for its answer, because something newer was typed, loses its turn.

use std::{fmt, sync::Arc};

use axum::{
    Extension,
    body::Body,
    extract::Path,
    http::{HeaderMap, StatusCode},
    response::Response,
};
use serde::{Deserialize, Serialize};
use sync::Refusal;

use crate::{
    changes::json,
    problem::Problem,
    shared::{Device, State, store_id},
};

/// Most bytes of what is wanted: a finding's text, with room.
const MOST_BYTES: usize = 64 << 10;

/// What lays out a part of a job's report. The first argument is the job's id.
#[derive(Clone)]
pub struct Live(pub Arc<LayOut>);

type LayOut = dyn Fn(&str, &PagesWanted) -> Result<LivePages, PagesRefused> + Send + Sync;

impl fmt::Debug for Live {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("Live")
    }
}

/// Which pages are wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PagesWanted {
    /// Which part, such as `front` or `finding`.
    pub part: String,
    /// Which of several: a finding's key, a photo's id, the number of a system; empty where there is one.
    #[serde(default)]
    pub about: String,
    /// `us` or `si`.
    #[serde(default)]
    pub units: String,
    /// `letter` or `a4`; US Letter where it is not said.
    #[serde(default)]
    pub paper: String,
    /// The pages' language, such as `es`.
    #[serde(default)]
    pub language: String,
    /// A finding that is being written.
    #[serde(default)]
    pub finding: Option<FindingTyped>,
    /// A caption that is being written.
    #[serde(default)]
    pub photo: Option<CaptionTyped>,
}

/// A finding as it is typed and not entered yet.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FindingTyped {
    /// Its key; empty for a new one.
    pub key: String,
    /// Heading.
    pub title: String,
    /// The statement.
    pub statement: String,
    /// Whom to call.
    pub who: String,
    /// Uses it stops, as words; those that it stops now where they are not said.
    #[serde(default)]
    pub stops: Option<Vec<String>>,
    /// How soon to act, as words; as it stands now where it is not said.
    #[serde(default)]
    pub when: Option<String>,
    /// The point of a new one; empty for none.
    #[serde(default)]
    pub point: String,
}

/// A caption as it is typed and not entered yet.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CaptionTyped {
    /// The photo.
    pub id: String,
    /// What it shows, in words.
    pub caption: String,
}

/// Pages of a part.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct LivePages {
    /// How many changes of the job's log they show.
    pub head: u64,
    /// What the part is called.
    pub title: String,
    /// Each page as an SVG that needs nothing from elsewhere.
    pub pages: Vec<String>,
    /// What cannot be shown, in sentences.
    pub remarks: Vec<String>,
    /// The parts that the report has now, in order.
    pub parts: Vec<LivePart>,
}

/// A part of the report.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct LivePart {
    /// Which part.
    pub part: String,
    /// Which of several.
    pub about: String,
    /// What it is called.
    pub title: String,
}

/// Why there are no pages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PagesRefused {
    /// The report has no such part. Why, in a sentence.
    NoSuchPart(String),
    /// They could not be laid out. Why, in a sentence.
    Failed(String),
}

/// `POST /v1/jobs/{job}/pages`
pub(crate) async fn pages(
    shared: State,
    Extension(device): Extension<Device>,
    Path(job): Path<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<Response, Problem> {
    let job = device.may_see(&job)?;
    let wanted: PagesWanted = shared.message(&headers, body, MOST_BYTES).await?;
    let id = store_id(&job)?;
    let there = shared.pool.with(move |store| Ok(store.job_exists(&id)?)).await?;
    if !there {
        return Err(Refusal::NoSuchJob.into());
    }
    let Some(Live(lay_out)) = shared.live.clone() else {
        let detail = "this server lays out no pages";
        return Err(Problem::new(StatusCode::NOT_FOUND, "no_pages", detail));
    };
    // A device that stopped waiting is gone from here, too.
    let Ok(_turn) = shared.laying_out.acquire().await else { return Err(Refusal::Other.into()) };
    let laid_out = tokio::task::spawn_blocking(move || lay_out(job.as_str(), &wanted)).await;
    match laid_out {
        Ok(Ok(pages)) => {
            let body = serde_json::to_vec(&pages).map_err(|_| Problem::from(Refusal::Other))?;
            Ok(json(body))
        }
        Ok(Err(PagesRefused::NoSuchPart(detail))) => {
            Err(Problem::new(StatusCode::NOT_FOUND, "no_such_part", detail))
        }
        Ok(Err(PagesRefused::Failed(detail))) => {
            tracing::warn!(why = detail, "pages were not laid out");
            Err(Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "no_pages", detail))
        }
        Err(stopped) => {
            tracing::error!(%stopped, "laying out pages did not end");
            Err(Refusal::Other.into())
        }
    }
}
