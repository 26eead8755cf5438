//! Refusals as problem details (RFC 9457), with the reason that devices act on.

use axum::{
    body::Body,
    http::{HeaderValue, Response, StatusCode, header},
    response::IntoResponse,
};
use serde_json::{Map, Value, json};
use store::StoreError;
use sync::{Refusal, limits};

/// Why a request was not carried out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Problem {
    status: StatusCode,
    /// `reason` and what belongs to it.
    fields: Map<String, Value>,
    /// The sentence for people.
    detail: String,
    retry_after_ms: Option<u64>,
}

impl Problem {
    /// One that is not among sync's refusals; devices show its sentence and try again later.
    pub(crate) fn new(status: StatusCode, reason: &str, detail: impl Into<String>) -> Self {
        let fields = Map::from_iter([("reason".to_owned(), json!(reason))]);
        Self { status, fields, detail: detail.into(), retry_after_ms: None }
    }

    /// Too many requests, or too many bytes at once.
    pub(crate) fn too_many(wait: std::time::Duration) -> Self {
        let ms = u64::try_from(wait.as_millis()).unwrap_or(u64::MAX).saturating_add(1);
        let busy = Refusal::Busy { retry_after_ms: ms };
        Self {
            status: StatusCode::TOO_MANY_REQUESTS,
            detail: "too many requests; this is tried again by itself".into(),
            ..Self::from(busy)
        }
    }

    /// Too many tries; nothing is tried again by itself.
    pub(crate) fn patience(wait: std::time::Duration, detail: String) -> Self {
        Self { detail, ..Self::too_many(wait) }
    }

    /// The same with something more for the device to act on.
    pub(crate) fn with(mut self, name: &str, value: Value) -> Self {
        self.fields.insert(name.to_owned(), value);
        self
    }

    /// The body's kind is not the one the address takes.
    pub(crate) fn wrong_kind(accepted: &str) -> Self {
        let refusal = Refusal::Unreadable { why: format!("the content type must be {accepted}") };
        Self { status: StatusCode::UNSUPPORTED_MEDIA_TYPE, ..Self::from(refusal) }
    }

    /// The body did not come in time.
    pub(crate) fn too_slow() -> Self {
        let detail = "the body did not come in time; it is sent again by itself";
        Self::new(StatusCode::REQUEST_TIMEOUT, "other", detail)
    }
}

impl From<Refusal> for Problem {
    fn from(refusal: Refusal) -> Self {
        let status =
            StatusCode::from_u16(refusal.status()).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let fields = match serde_json::from_slice(&refusal.to_json()) {
            Ok(Value::Object(fields)) => fields,
            _ => Map::new(),
        };
        let retry_after_ms = match &refusal {
            Refusal::Busy { retry_after_ms } => Some(*retry_after_ms),
            _ => None,
        };
        Self { status, fields, detail: refusal.to_string(), retry_after_ms }
    }
}

impl From<StoreError> for Problem {
    fn from(error: StoreError) -> Self {
        Self::from(refusal(&error))
    }
}

/// What a device is told of a failure of the store; the whole story goes into the log.
pub(crate) fn refusal(error: &StoreError) -> Refusal {
    match error {
        StoreError::Full { doing: _ } => {
            tracing::error!(%error, "the disk is full");
            Refusal::ServerFull
        }
        StoreError::Busy { doing: _ } => Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS },
        StoreError::NoSuchJob { job: _ } => Refusal::NoSuchJob,
        StoreError::CursorAhead { job: _, after_seq: _, head_seq } => {
            Refusal::OtherLog { head: *head_seq }
        }
        StoreError::Refused { what } => Refusal::Unreadable { why: what.clone() },
        StoreError::Damaged { what: _ }
        | StoreError::NotOurs { folder: _, why: _ }
        | StoreError::Newer { folder: _, found: _, known: _ }
        | StoreError::Io { doing: _, source: _ } => {
            let cause = std::error::Error::source(error).map(ToString::to_string);
            tracing::error!(%error, cause, "the store failed");
            Refusal::Other
        }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response<Body> {
        let mut object = self.fields;
        object.insert("type".into(), json!("about:blank"));
        object.insert("title".into(), json!(self.status.canonical_reason().unwrap_or_default()));
        object.insert("status".into(), json!(self.status.as_u16()));
        object.insert("detail".into(), json!(self.detail));
        let mut response = Response::new(Body::from(Value::Object(object).to_string()));
        *response.status_mut() = self.status;
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
        if self.status == StatusCode::UNAUTHORIZED {
            headers.insert(header::WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
        }
        if let Some(ms) = self.retry_after_ms {
            headers.insert(header::RETRY_AFTER, HeaderValue::from(ms.div_ceil(1_000)));
        }
        response
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_is_read_back_by_a_device_from_the_problem_it_became() {
        for refusal in [
            Refusal::NotPaired,
            Refusal::OtherLog { head: 7 },
            Refusal::WrongOffset { offset: 262_144 },
            Refusal::Busy { retry_after_ms: 1_500 },
            Refusal::Unreadable { why: "no changes were sent".into() },
        ] {
            let problem = Problem::from(refusal.clone());
            assert_eq!(problem.status.as_u16(), refusal.status());
            let body = Value::Object(problem.fields).to_string();
            assert_eq!(Refusal::from_json(body.as_bytes()).unwrap(), refusal);
        }
    }
}
