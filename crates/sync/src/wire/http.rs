//! Requests as HTTP, and answers from it.

use super::{BlobList, Heads, Page, Pushed, Request, Response, UploadState};
use crate::Refusal;

/// A request, ready for whatever speaks HTTP.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HttpRequest {
    /// `GET`, `POST` or `PATCH`.
    pub method: &'static str,
    /// Path and query, beginning with `/v1/`.
    pub path: String,
    /// Headers, beside those of the connection and the device's key.
    pub headers: Vec<(&'static str, String)>,
    /// The body.
    pub body: Body,
}

/// A request's body; its content type is among the headers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Body {
    /// None.
    Empty,
    /// These bytes.
    Bytes(Vec<u8>),
}

impl Request {
    /// The request as HTTP.
    #[must_use]
    pub fn to_http(&self) -> HttpRequest {
        let json = ("content-type", "application/json".to_owned());
        match self {
            Self::Push { job, push } => HttpRequest {
                method: "POST",
                path: format!("/v1/jobs/{job}/changes"),
                headers: vec![json],
                body: Body::Bytes(push.to_json()),
            },
            Self::Pull { job, after } => HttpRequest {
                method: "GET",
                path: format!("/v1/jobs/{job}/changes?after={}&at={}", after.seq, after.chain),
                headers: Vec::new(),
                body: Body::Empty,
            },
            Self::Heads => HttpRequest {
                method: "GET",
                path: "/v1/jobs".into(),
                headers: Vec::new(),
                body: Body::Empty,
            },
            Self::OpenUpload { job, blob, size } => HttpRequest {
                method: "POST",
                path: format!("/v1/jobs/{job}/blobs/{blob}"),
                headers: vec![
                    ("upload-length", size.to_string()),
                    ("upload-complete", "?0".into()),
                ],
                body: Body::Empty,
            },
            Self::MissingBlobs { job, list } => HttpRequest {
                method: "POST",
                path: format!("/v1/jobs/{job}/missing-blobs"),
                headers: vec![json],
                body: Body::Bytes(list.to_json()),
            },
            Self::Piece { job, blob, size, offset, bytes } => {
                let end = u64::try_from(bytes.len()).ok().and_then(|len| offset.checked_add(len));
                let complete = if end == Some(*size) { "?1" } else { "?0" };
                HttpRequest {
                    method: "PATCH",
                    path: format!("/v1/jobs/{job}/blobs/{blob}"),
                    headers: vec![
                        ("content-type", "application/partial-upload".into()),
                        ("upload-length", size.to_string()),
                        ("upload-offset", offset.to_string()),
                        ("upload-complete", complete.into()),
                    ],
                    body: Body::Bytes(bytes.clone()),
                }
            }
        }
    }

    /// Roughly how many bytes it sends, to know how long to wait for an answer.
    pub(crate) fn weight(&self) -> u64 {
        let bytes = match self {
            Self::Push { job: _, push } => push.changes.iter().map(Vec::len).sum(),
            Self::Piece { job: _, blob: _, size: _, offset: _, bytes } => bytes.len(),
            Self::Pull { job: _, after: _ } => crate::limits::PAGE_BYTES,
            Self::MissingBlobs { job: _, list } => 67 * list.blobs.len(),
            Self::Heads | Self::OpenUpload { job: _, blob: _, size: _ } => 0,
        };
        u64::try_from(bytes).unwrap_or(u64::MAX)
    }
}

impl Response {
    /// What a status and a body say in answer to `request`. A body that cannot be read counts as a
    /// failure that passes.
    pub fn from_http(request: &Request, status: u16, body: &[u8]) -> Result<Self, Refusal> {
        if !(200..300).contains(&status) {
            return Err(match Refusal::from_json(body) {
                Ok(refusal) => refusal,
                // From something in between that does not speak our language.
                Err(_) => match status {
                    401 => Refusal::NotPaired,
                    413 => Refusal::TooLarge { why: "on the way to the server".into() },
                    429 | 502..=504 => {
                        Refusal::Busy { retry_after_ms: crate::limits::BUSY_RETRY_MS }
                    }
                    507 => Refusal::ServerFull,
                    _ => Refusal::Other,
                },
            });
        }
        Ok(match request {
            Request::Push { job: _, push: _ } => Self::Pushed(Pushed::from_json(body)?),
            Request::Pull { job: _, after: _ } => Self::Page(Page::from_json(body)?),
            Request::Heads => Self::Heads(Heads::from_json(body)?),
            Request::MissingBlobs { job: _, list: _ } => {
                Self::MissingBlobs(BlobList::from_json(body)?)
            }
            Request::OpenUpload { job: _, blob: _, size: _ }
            | Request::Piece { job: _, blob: _, size: _, offset: _, bytes: _ } => {
                Self::Upload(UploadState::from_json(body)?)
            }
        })
    }

    /// The body that says this.
    #[must_use]
    pub fn to_json(&self) -> Vec<u8> {
        match self {
            Self::Pushed(pushed) => pushed.to_json(),
            Self::Page(page) => page.to_json(),
            Self::Heads(heads) => heads.to_json(),
            Self::MissingBlobs(list) => list.to_json(),
            Self::Upload(state) => state.to_json(),
        }
    }
}
