//! The client's page at an address that nobody can guess, as long as it is good.
//!
//! What it shows was given when the link was made (`nearside share`); the server reads no job for it. A page that waits for
//! payment shows what says so in its place, and nothing else. A guess, an
//! address that is over or revoked, and a file that is not there get the same answer.

use axum::{
    extract::Path,
    http::{HeaderName, HeaderValue, header},
    response::{IntoResponse, Redirect, Response},
};
use sha2::{Digest, Sha256};

use crate::{app::not_found, clock, problem::Problem, shared::State};

/// The page's first file: opening it is a view.
const FIRST: &str = "index.html";
/// The secret: 192 bits in hexadecimal digits.
const SECRET_LETTERS: usize = 48;

/// What the page may load: what lies beside it.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; base-uri 'none'; \
                      form-action 'none'; frame-ancestors 'none'";

/// The address of a client's page at this server.
#[must_use]
pub fn client_address(server: &str, secret: [u8; 24]) -> String {
    format!("{}/c/{}/", server.trim_end_matches('/'), secret_in_letters(secret))
}

/// A secret as it stands in an address.
pub(crate) fn secret_in_letters(secret: [u8; 24]) -> String {
    secret.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What the store knows a secret by.
#[must_use]
pub fn client_secret_sha256(secret: [u8; 24]) -> [u8; 32] {
    Sha256::digest(secret).into()
}

/// `GET /c/{secret}`: the page's files lie below the address.
pub(crate) async fn without_slash(Path(secret): Path<String>) -> Response {
    if read_secret(&secret).is_none() {
        return not_found();
    }
    Redirect::permanent(&format!("/c/{secret}/")).into_response()
}

/// `GET /c/{secret}/`
pub(crate) async fn first(shared: State, Path(secret): Path<String>) -> Result<Response, Problem> {
    send(&shared, &secret, FIRST.to_owned()).await
}

/// `GET /c/{secret}/{*file}`
pub(crate) async fn file(
    shared: State,
    Path((secret, file)): Path<(String, String)>,
) -> Result<Response, Problem> {
    send(&shared, &secret, file).await
}

async fn send(shared: &State, secret: &str, name: String) -> Result<Response, Problem> {
    let Some(secret) = read_secret(secret) else { return Ok(not_found()) };
    let hash = client_secret_sha256(secret);
    let found = shared
        .pool
        .with(move |store| {
            let now = clock::unix_ms();
            let Some(file) = store.client_file(hash, &name, now)? else { return Ok(None) };
            let Some(bytes) = store.blob(&file.blob)? else { return Ok(None) };
            // What stands for a page that waits for payment is no view of it.
            if file.name == FIRST {
                store.client_viewed(hash, now)?;
            }
            Ok(Some((file.media_type, bytes)))
        })
        .await?;
    let Some((media_type, bytes)) = found else { return Ok(not_found()) };
    let mut response = bytes.into_response();
    let headers = response.headers_mut();
    let media_type = HeaderValue::try_from(media_type)
        .unwrap_or(HeaderValue::from_static("application/octet-stream"));
    headers.insert(header::CONTENT_TYPE, media_type);
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    // Kept by nobody: a link that is revoked shows nothing from then on.
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("private, no-store"));
    headers.insert(
        HeaderName::from_static("x-robots-tag"),
        HeaderValue::from_static("noindex, nofollow, noarchive"),
    );
    Ok(response)
}

/// A secret from an address.
pub(crate) fn read_secret(secret: &str) -> Option<[u8; 24]> {
    if secret.len() != SECRET_LETTERS || !secret.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return None;
    }
    let mut bytes = [0; 24];
    for (at, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(secret.get(2 * at..2 * at + 2)?, 16).ok()?;
    }
    Some(bytes)
}
