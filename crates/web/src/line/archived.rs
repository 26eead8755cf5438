//! All jobs of the server together: the list, how often what was found, and tables to be saved.

use serde::Deserialize;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortSignal, Blob};

use super::address::{Asking, ask, body};
use super::json::{NoAnswer, Refused, fetched};

/// Milliseconds until an answer is given up: for what is looked up, and for a table of everything.
const SOON: u32 = 60_000;
const LONG: u32 = 1_800_000;

/// What jobs can be told apart by, and which points there are.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ArchiveChoices {
    pub(crate) jobs: usize,
    pub(crate) regions: Vec<String>,
    pub(crate) purposes: Vec<String>,
    pub(crate) points: Vec<ArchivePoint>,
}

/// A point.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ArchivePoint {
    pub(crate) point: String,
    pub(crate) title: String,
}

/// A part of the list of jobs.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ArchivedJobs {
    pub(crate) jobs: usize,
    pub(crate) listed: Vec<ArchivedJob>,
    pub(crate) behind: usize,
}

/// A job of the list.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ArchivedJob {
    pub(crate) job: String,
    pub(crate) line: String,
    pub(crate) visited: Option<String>,
    pub(crate) region: String,
    pub(crate) findings: u32,
    pub(crate) trouble: Option<String>,
}

/// A part of the lines of an answer.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
pub(crate) struct ArchiveFigures {
    pub(crate) too_few_below: u32,
    pub(crate) axis: Axis,
    pub(crate) figures: Vec<FigureLine>,
    pub(crate) lines: usize,
    pub(crate) never_examined: usize,
    pub(crate) behind: usize,
}

/// The axis of a drawing: where it ends, and in how many steps.
#[derive(Debug, Clone, Copy, Default, PartialEq, Deserialize)]
pub(crate) struct Axis {
    pub(crate) end: f64,
    pub(crate) steps: u32,
}

/// A line: so many of so many, and what share that is.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
pub(crate) struct FigureLine {
    pub(crate) point: String,
    pub(crate) title: Option<String>,
    pub(crate) kind: Option<String>,
    pub(crate) age: Option<String>,
    pub(crate) region: Option<String>,
    pub(crate) examined: u32,
    pub(crate) not_examined: u32,
    pub(crate) part: u32,
    pub(crate) share: Option<f64>,
    pub(crate) low: Option<f64>,
    pub(crate) high: Option<f64>,
    /// Share and both ends of its interval as they are written; none of too few.
    pub(crate) percent: Option<[String; 3]>,
}

/// A paired device that looks at all jobs.
#[derive(Debug, Clone)]
pub(crate) struct ArchiveLine {
    /// The device's key.
    pub(crate) key: String,
}

/// Names and values behind the `?` of an address.
pub(crate) type Query = Vec<(&'static str, String)>;

impl ArchiveLine {
    /// What there is to choose from.
    pub(crate) async fn choices(&self) -> Result<ArchiveChoices, NoAnswer> {
        fetched(&self.key, "/v1/archive", &AbortSignal::timeout_with_u32(SOON)).await
    }

    /// The jobs, from so many on.
    pub(crate) async fn jobs(&self, query: &Query, after: usize) -> Result<ArchivedJobs, NoAnswer> {
        let path = format!("/v1/archive/jobs?{}after={after}", written(query));
        fetched(&self.key, &path, &AbortSignal::timeout_with_u32(SOON)).await
    }

    /// The lines, so many at most.
    pub(crate) async fn figures(
        &self,
        query: &Query,
        most: usize,
    ) -> Result<ArchiveFigures, NoAnswer> {
        let path = format!("/v1/archive/figures?{}most={most}", written(query));
        fetched(&self.key, &path, &AbortSignal::timeout_with_u32(SOON)).await
    }

    /// A table: `jobs.csv`, `figures.parquet` and so on.
    pub(crate) async fn table(&self, name: &str, query: &Query) -> Result<Blob, NoAnswer> {
        let give_up = AbortSignal::timeout_with_u32(LONG);
        let path = format!("/v1/archive/export/{name}?{}", written(query));
        let asking = Asking {
            method: "GET",
            path: path.trim_end_matches(['&', '?']),
            key: Some(&self.key),
            headers: Vec::new(),
            body: None,
            give_up: Some(&give_up),
        };
        let response = ask(&asking).await.map_err(|_| NoAnswer::NoLine)?;
        if response.ok() {
            let blob = response.blob().map_err(|_| NoAnswer::NoLine)?;
            let blob = JsFuture::from(blob).await.map_err(|_| NoAnswer::NoLine)?;
            return blob.dyn_into().map_err(|_| NoAnswer::NoLine);
        }
        let bytes = body(&response).await.map_err(|_| NoAnswer::NoLine)?;
        Err(Refused::read(&bytes, response.status()))
    }
}

/// Each with `&` behind it; what is empty is left out.
fn written(query: &Query) -> String {
    let given = query.iter().filter(|(_, value)| !value.is_empty());
    given
        .map(|(name, value)| {
            format!("{name}={}&", String::from(js_sys::encode_uri_component(value)))
        })
        .collect()
}
