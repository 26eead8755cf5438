//! The desk's words: stock sentences, and what is left over from other jobs.

use serde::Deserialize;
use serde_json::{Value, json};
use sync::JobId;
use web_sys::AbortSignal;

use super::address::Asking;
use super::json::{NoAnswer, answered, fetched};

/// So long an answer is waited for, milliseconds.
const PATIENCE: u32 = 30_000;

/// The inspector's stock sentences, as the text of their file.
pub(crate) async fn sentences(key: &str) -> Result<String, NoAnswer> {
    let give_up = AbortSignal::timeout_with_u32(PATIENCE);
    fetched::<Value>(key, "/v1/sentences", &give_up).await.map(|all| all.to_string())
}

/// Keeps one at the server; all of them.
pub(crate) async fn keep_sentence(key: &str, name: &str, text: &str) -> Result<String, NoAnswer> {
    let give_up = AbortSignal::timeout_with_u32(PATIENCE);
    let body = json!({"name": name, "text": text}).to_string();
    let asking = Asking {
        method: "POST",
        path: "/v1/sentences",
        key: Some(key),
        headers: vec![("content-type", "application/json".to_owned())],
        body: Some(body.as_bytes()),
        give_up: Some(&give_up),
    };
    answered::<Value>(&asking).await.map(|all| all.to_string())
}

/// What of other jobs stands in a job's texts, as far as this device may be told.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
pub(crate) struct LeftOvers {
    /// Whether the device may be told.
    pub(crate) told: bool,
    /// Each as the server says it.
    pub(crate) left_over: Vec<Value>,
}

/// Asks for them; given up when the record has changed.
pub(crate) async fn left_over(
    key: &str,
    job: &JobId,
    give_up: &AbortSignal,
) -> Result<LeftOvers, NoAnswer> {
    fetched(key, &format!("/v1/jobs/{job}/left-over"), give_up).await
}
