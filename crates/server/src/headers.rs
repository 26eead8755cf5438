//! What every answer says to browsers: what the page may load, and that nobody may frame or guess.

use axum::{
    body::Body,
    extract::Request,
    http::{HeaderValue, header},
    middleware::Next,
    response::Response,
};

use crate::shared::State;

/// What pages of ours may load and do (Content Security Policy Level 3).
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; connect-src 'self'; \
    worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; \
    frame-ancestors 'none'";

/// The same for what people upload: it is shown, and does nothing.
pub(crate) const UPLOADED_POLICY: &str = "sandbox; default-src 'none'";

const ALWAYS: [(&str, &str); 5] = [
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    (
        "permissions-policy",
        "camera=(self), microphone=(self), geolocation=(self), fullscreen=(self), \
         screen-wake-lock=(self), payment=(), usb=(), serial=()",
    ),
];

/// Adds them to an answer.
pub(crate) async fn secure(shared: State, request: Request<Body>, next: Next) -> Response {
    let mut response = next.run(request).await;
    add(&mut response, shared.secure);
    response
}

/// The same for an answer at hand.
pub(crate) fn add(response: &mut Response, over_tls: bool) {
    let headers = response.headers_mut();
    for (name, value) in ALWAYS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(header::CONTENT_SECURITY_POLICY).or_insert(HeaderValue::from_static(POLICY));
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    if over_tls {
        let year = HeaderValue::from_static("max-age=31536000");
        headers.insert(header::STRICT_TRANSPORT_SECURITY, year);
    }
}
