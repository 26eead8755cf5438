//! An answer in JSON, or why there is none.

use serde::{Deserialize, de::DeserializeOwned};
use web_sys::AbortSignal;

use super::address::{Asking, ask, body};

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NoAnswer {
    /// The server cannot be reached.
    NoLine,
    /// It refused. Its reason, a word, and why, in its words.
    Refused(String, String),
}

#[derive(Default, Deserialize)]
pub(super) struct Refused {
    #[serde(default)]
    reason: String,
    #[serde(default)]
    detail: String,
}

impl Refused {
    /// Why there is no answer, as the server said it with this status.
    pub(super) fn read(bytes: &[u8], status: u16) -> NoAnswer {
        let Self { reason, detail } = serde_json::from_slice(bytes).unwrap_or_default();
        let detail = if detail.is_empty() { status.to_string() } else { detail };
        NoAnswer::Refused(reason, detail)
    }
}

/// Asks for something.
pub(super) async fn fetched<T: DeserializeOwned>(
    key: &str,
    path: &str,
    give_up: &AbortSignal,
) -> Result<T, NoAnswer> {
    let headers = Vec::new();
    answered(&Asking {
        method: "GET",
        path,
        key: Some(key),
        headers,
        body: None,
        give_up: Some(give_up),
    })
    .await
}

/// Sends a request and reads its answer.
pub(super) async fn answered<T: DeserializeOwned>(asking: &Asking<'_>) -> Result<T, NoAnswer> {
    let response = ask(asking).await.map_err(|_| NoAnswer::NoLine)?;
    let bytes = body(&response).await.map_err(|_| NoAnswer::NoLine)?;
    if response.ok() {
        return serde_json::from_slice(&bytes)
            .map_err(|error| NoAnswer::Refused(String::new(), error.to_string()));
    }
    Err(Refused::read(&bytes, response.status()))
}
