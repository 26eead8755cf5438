//! Words in all jobs of the server that this device may see.

use serde::Deserialize;
use web_sys::AbortSignal;

use super::json::{NoAnswer, fetched};

/// What the server found.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Found {
    /// Jobs in which all words stand.
    pub(crate) jobs: usize,
    /// The best of them.
    pub(crate) hits: Vec<Hit>,
    /// Jobs that have changed since they were looked through.
    pub(crate) behind: usize,
}

/// A job in which all words stand.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub(crate) struct Hit {
    /// Its id.
    pub(crate) job: String,
    /// It in one line.
    pub(crate) line: String,
    /// Where in it.
    pub(crate) places: Vec<Place>,
    /// How many more places there are.
    pub(crate) more_places: usize,
}

/// A place in a job.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub(crate) struct Place {
    pub(crate) kind: String,
    pub(crate) point: String,
    pub(crate) title: String,
    pub(crate) reference: String,
    pub(crate) snippet: Vec<Part>,
}

/// A part of a text: found, or around.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub(crate) struct Part {
    pub(crate) text: String,
    pub(crate) found: bool,
}

/// Jobs of one answer.
const MOST: usize = 50;

/// Searches for words; given up when something newer is wanted.
pub(crate) async fn search(
    key: &str,
    words: &str,
    give_up: &AbortSignal,
) -> Result<Found, NoAnswer> {
    let words = String::from(js_sys::encode_uri_component(words));
    fetched(key, &format!("/v1/search?q={words}&most={MOST}"), give_up).await
}
