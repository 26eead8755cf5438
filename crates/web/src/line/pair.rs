//! Pairing: a one-time code from the server against a key of this device's own.

use serde::{Deserialize, Serialize};
use web_sys::AbortSignal;

use super::address::{Asking, ask, body};

/// What the server gave this device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Paired {
    /// The device's id, 32 hexadecimal digits: it stands in every change that this device makes.
    pub(crate) device: String,
    /// Its key.
    pub(crate) key: String,
    /// What the server calls itself.
    #[serde(default)]
    pub(crate) server: String,
}

/// Why it did not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum PairingRefused {
    /// The server does not know the code.
    Unknown,
    /// It has run out.
    Expired,
    /// It was used before.
    Used,
    /// Too many attempts: later.
    Busy,
    /// The server cannot be reached.
    NoLine,
    /// Anything else, in the server's words.
    Other(String),
}

#[derive(Serialize)]
struct Offer<'a> {
    code: &'a str,
    name: &'a str,
}

#[derive(Deserialize)]
struct Refused {
    #[serde(default)]
    reason: String,
    #[serde(default)]
    detail: String,
    #[serde(default)]
    why: String,
}

/// Pairs this device.
pub(crate) async fn pair(code: &str, name: &str) -> Result<Paired, PairingRefused> {
    let json = serde_json::to_vec(&Offer { code, name })
        .map_err(|error| PairingRefused::Other(error.to_string()))?;
    let give_up = AbortSignal::timeout_with_u32(30_000);
    let asking = Asking {
        method: "POST",
        path: "/v1/pair",
        key: None,
        headers: vec![("content-type", "application/json".to_owned())],
        body: Some(&json),
        give_up: Some(&give_up),
    };
    let response = ask(&asking).await.map_err(|_| PairingRefused::NoLine)?;
    let bytes = body(&response).await.map_err(|_| PairingRefused::NoLine)?;
    if response.ok() {
        let paired: Paired = serde_json::from_slice(&bytes)
            .map_err(|error| PairingRefused::Other(error.to_string()))?;
        return Ok(paired);
    }
    let Ok(refused) = serde_json::from_slice::<Refused>(&bytes) else {
        return Err(PairingRefused::Other(format!(
            "{} {}",
            response.status(),
            response.status_text()
        )));
    };
    Err(match refused.reason.as_str() {
        "code_unknown" => PairingRefused::Unknown,
        "code_expired" => PairingRefused::Expired,
        "code_used" => PairingRefused::Used,
        "busy" => PairingRefused::Busy,
        _ if refused.detail.is_empty() => PairingRefused::Other(refused.why),
        _ => PairingRefused::Other(refused.detail),
    })
}

/// The code in the part of an address after `#`, as in the link under a QR code.
pub(crate) fn code_in(fragment: &str) -> Option<String> {
    let code = fragment.trim_start_matches('#').strip_prefix("pair=")?;
    let wanted = |letter: &char| letter.is_ascii_alphanumeric() || *letter == '-';
    let code: String = code.chars().filter(wanted).take(40).collect();
    (!code.is_empty()).then_some(code)
}
