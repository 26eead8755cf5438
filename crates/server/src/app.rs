//! The app's files, built into the program; where it was built without them, a page that says so.

use axum::{
    body::Body,
    extract::Path,
    http::{HeaderMap, HeaderValue, StatusCode, header},
    response::{IntoResponse, Response},
};
use rust_embed::RustEmbed;

use crate::page;

/// What `cargo xtask web` made. A debug build reads the folder as it is, a release build carries it.
#[derive(RustEmbed)]
#[folder = "$CARGO_MANIFEST_DIR/../../target/app"]
#[allow_missing = true]
struct Files;

// `cargo xtask demo` sets it to what it has just built: the compiler then builds this file again, also where the folder
// was not there the last time.
const _: Option<&str> = option_env!("NEARSIDE_APP");

/// The name is the content's: it may be kept for good.
const FOR_GOOD: &str = "public, max-age=31536000, immutable";
/// Ask each time whether it is still so.
const ASK_AGAIN: &str = "no-cache";

/// `GET /`
pub(crate) async fn index(headers: HeaderMap) -> Response {
    send("index.html", &headers, ASK_AGAIN).unwrap_or_else(|| {
        let text = "<p>The app is not built into this program. Whoever builds it runs</p>\n<p><code>cargo xtask \
                    web</code></p>\n<p>first, then builds <code>nearside</code> again. Everything else works: the \
                    command line, copying, pairing.</p>";
        page::page("The app is not here", text).into_response()
    })
}

/// `GET /sw.js`
pub(crate) async fn service_worker(headers: HeaderMap) -> Response {
    send("sw.js", &headers, ASK_AGAIN).unwrap_or_else(not_found)
}

/// `GET /app/…`
pub(crate) async fn file(Path(file): Path<String>, headers: HeaderMap) -> Response {
    // These two are the app's way in, and have addresses of their own.
    if file == "index.html" || file == "sw.js" || file.split('/').any(|part| part == "..") {
        return not_found();
    }
    send(&file, &headers, FOR_GOOD).unwrap_or_else(not_found)
}

/// `GET /pages.css`
pub(crate) async fn pages_css() -> Response {
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], page::CSS).into_response()
}

/// What is at no address.
pub(crate) fn not_found() -> Response {
    let text =
        "<p>There is nothing at this address. The app is at <a href=\"/\">the beginning</a>.</p>";
    (StatusCode::NOT_FOUND, page::page("Nothing here", text)).into_response()
}

/// A file, compressed if it lies there compressed in a way that the browser takes; `None` if it is not there.
fn send(name: &str, asked: &HeaderMap, keep: &'static str) -> Option<Response> {
    let whole = Files::get(name)?;
    let takes = |coding: &str| {
        let text = asked.get(header::ACCEPT_ENCODING).and_then(|value| value.to_str().ok());
        text.is_some_and(|text| text.split(',').any(|one| accepts(one, coding)))
    };
    let compressed = [("br", "br"), ("gzip", "gz")].into_iter().find_map(|(coding, ending)| {
        let file = Files::get(&format!("{name}.{ending}"))?;
        takes(coding).then_some((file, coding))
    });
    let (file, coding) = compressed.map_or((whole, None), |(file, coding)| (file, Some(coding)));
    let hash = file.metadata.sha256_hash();
    let tag: String = hash.iter().take(16).map(|byte| format!("{byte:02x}")).collect();
    let tag = format!("\"{tag}\"");
    let known = asked.get(header::IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    let mut response = if known.is_some_and(|known| known.split(',').any(|one| one.trim() == tag)) {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        Response::new(Body::from(file.data.into_owned()))
    };
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind(name)));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(keep));
    headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    headers.insert(header::ETAG, HeaderValue::try_from(tag).ok()?);
    if let Some(coding) = coding {
        headers.insert(header::CONTENT_ENCODING, HeaderValue::from_static(coding));
    }
    Some(response)
}

/// Whether one entry of `Accept-Encoding` names this coding and does not shut it out.
fn accepts(entry: &str, coding: &str) -> bool {
    let mut parts = entry.split(';').map(str::trim);
    let named = parts.next().is_some_and(|name| name.eq_ignore_ascii_case(coding));
    named && !parts.any(|weight| matches!(weight, "q=0" | "q=0.0" | "q=0.00" | "q=0.000"))
}

/// What a file is, by its name's end.
fn kind(name: &str) -> &'static str {
    match name.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "json" | "map" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "woff2" => "font/woff2",
        "txt" | "ftl" => "text/plain; charset=utf-8",
        "mp3" => "audio/mpeg",
        "ogg" => "audio/ogg",
        _ => "application/octet-stream",
    }
}
