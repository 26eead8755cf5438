//! The log: what matters to people, or one JSON object a request, on standard error. Keys, codes and what jobs hold are
//! never in it.

use std::time::Instant;

use axum::{
    body::Body,
    extract::{MatchedPath, Request},
    middleware::Next,
    response::Response,
};
use tracing::{Instrument as _, Level};

use crate::{gate, settings::LogFormat, shared::State};

/// Sets the log up for the whole program. A second call is without effect.
pub(crate) fn set_up(format: LogFormat) {
    let lines = tracing_subscriber::fmt()
        .with_max_level(Level::INFO)
        .with_target(false)
        .with_writer(std::io::stderr);
    let _already = match format {
        LogFormat::Off => return,
        LogFormat::Text => lines.with_ansi(false).try_init(),
        LogFormat::Json => lines.json().flatten_event(true).try_init(),
    };
}

/// Counts and logs a request.
pub(crate) async fn log(shared: State, request: Request<Body>, next: Next) -> Response {
    let start = Instant::now();
    let (method, peer) = (request.method().clone(), gate::peer(&request));
    // The pattern of the path: ids of jobs and photos say something about people's work.
    let path = request.extensions().get::<MatchedPath>().map(|path| path.as_str().to_owned());
    let path = path.unwrap_or_else(|| "elsewhere".into());
    let span = tracing::info_span!("request", device = tracing::field::Empty);
    let response = next.run(request).instrument(span.clone()).await;
    let (status, took) = (response.status().as_u16(), start.elapsed());
    shared.metrics.answered(status, took);
    let ms = u64::try_from(took.as_millis()).unwrap_or(u64::MAX);
    let _inside = span.enter();
    if status >= 500 {
        tracing::warn!(%method, path, status, ms, %peer, "answered");
    } else if shared.log_requests {
        tracing::info!(%method, path, status, ms, %peer, "answered");
    }
    response
}
