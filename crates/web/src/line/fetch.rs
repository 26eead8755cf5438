//! What the replica sends, and a photo that lies only on the server.

use js_sys::ArrayBuffer;
use sync::{
    BlobHash, JobId, Refusal, limits,
    wire::{Body, Request, Response},
};
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::AbortSignal;

use super::address::{Asking, ask, body};
use crate::browser::sha256;

/// Sends a request; no answer is a line that is down.
pub(crate) async fn send(key: &str, request: &Request) -> Option<Result<Response, Refusal>> {
    let http = request.to_http();
    let bytes = match &http.body {
        Body::Empty => None,
        Body::Bytes(bytes) => Some(bytes.as_slice()),
    };
    let give_up = AbortSignal::timeout_with_u32(patience(bytes.map_or(0, <[u8]>::len)));
    let asking = Asking {
        method: http.method,
        path: &http.path,
        key: Some(key),
        headers: http.headers,
        body: bytes,
        give_up: Some(&give_up),
    };
    let response = ask(&asking).await.ok()?;
    let bytes = body(&response).await.ok()?;
    Some(Response::from_http(request, response.status(), &bytes))
}

/// The bytes of a photo from the server, checked against its name. `None` if it cannot be had.
pub(crate) async fn download(key: &str, job: &JobId, hash: BlobHash) -> Option<web_sys::Blob> {
    let path = format!("/v1/jobs/{job}/blobs/{hash}");
    let give_up = AbortSignal::timeout_with_u32(patience(4 << 20));
    let asking = Asking {
        method: "GET",
        path: &path,
        key: Some(key),
        headers: Vec::new(),
        body: None,
        give_up: Some(&give_up),
    };
    let response = ask(&asking).await.ok().filter(web_sys::Response::ok)?;
    let blob: web_sys::Blob = JsFuture::from(response.blob().ok()?).await.ok()?.dyn_into().ok()?;
    let bytes: ArrayBuffer = JsFuture::from(blob.array_buffer()).await.ok()?.dyn_into().ok()?;
    (sha256(&bytes).await.ok()? == hash.0).then_some(blob)
}

/// Milliseconds that are waited at most when so many bytes travel: a little longer than the replica waits, which
/// gives up first.
fn patience(bytes: usize) -> u32 {
    let slow = u64::try_from(bytes).unwrap_or(u64::MAX).saturating_mul(1_000)
        / limits::SLOW_BYTES_A_SECOND;
    u32::try_from(limits::ANSWER_MS.saturating_add(slow).saturating_add(30_000)).unwrap_or(u32::MAX)
}
