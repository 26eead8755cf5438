//! Pokes: a stream that stays open and says "job X is at number N", so that a device asks for what is new at
//! once. It carries nothing else, and its loss is harmless: devices ask by themselves now and then.
//!
//! The form is that of server-sent events (WHATWG HTML, section 9.2), read with `fetch`, since an
//! `EventSource` cannot send the device's key.

use std::{
    sync::{Arc, atomic::Ordering},
    time::Duration,
};

use axum::{
    Extension,
    body::{Body, Bytes},
    http::{HeaderMap, HeaderValue, header},
    response::Response,
};
use sync::wire::Poke;
use tokio::sync::{broadcast, broadcast::error::RecvError, watch};

use crate::{
    gate,
    problem::Problem,
    shared::{Device, Shared, State},
};

/// A line that says nothing is sent this often, so that nobody in between cuts a quiet line.
const QUIET: Duration = Duration::from_secs(20);

/// `GET /v1/pokes`
pub(crate) async fn pokes(
    shared: State,
    Extension(device): Extension<Device>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let shared = Arc::clone(&shared);
    let listener = Listener {
        pokes: shared.pokes.subscribe(),
        stopping: shared.stopping.clone(),
        key: gate::key(&headers),
        greeted: false,
        device,
        shared,
    };
    listener.shared.metrics.listening.fetch_add(1, Ordering::Relaxed);
    let lines = futures_util::stream::unfold(listener, |mut listener| async move {
        let line = listener.next().await?;
        Some((Ok::<_, std::convert::Infallible>(Bytes::from(line)), listener))
    });
    let mut response = Response::new(Body::from_stream(lines));
    let kind = HeaderValue::from_static("text/event-stream");
    response.headers_mut().insert(header::CONTENT_TYPE, kind);
    Ok(response)
}

struct Listener {
    pokes: broadcast::Receiver<Poke>,
    stopping: watch::Receiver<bool>,
    key: Option<[u8; 32]>,
    greeted: bool,
    device: Device,
    shared: Arc<Shared>,
}

impl Listener {
    /// What to send next; nothing more once the server stops or the device is removed.
    async fn next(&mut self) -> Option<String> {
        if !self.greeted {
            self.greeted = true;
            return Some(": here\n\n".into());
        }
        let line = loop {
            let poked = tokio::select! {
                _stop = self.stopping.wait_for(|stopping| *stopping) => return None,
                poked = tokio::time::timeout(QUIET, self.pokes.recv()) => poked,
            };
            match poked {
                Err(_quiet) => break ": here\n\n".to_owned(),
                Ok(Ok(poke)) if self.device.may_see(poke.job.as_str()).is_ok() => {
                    let json = poke.to_json();
                    break format!("data: {}\n\n", String::from_utf8_lossy(&json));
                }
                Ok(Ok(_of_another_job)) => {}
                // Some pokes were missed: the device asks by itself.
                Ok(Err(RecvError::Lagged(_))) => {}
                Ok(Err(RecvError::Closed)) => return None,
            }
        };
        self.is_still_in().await.then_some(line)
    }

    /// Whether the device was not removed meanwhile. A store that cannot be asked counts as no.
    async fn is_still_in(&self) -> bool {
        let Some(key) = self.key else { return false };
        let found = self.shared.pool.with(move |store| Ok(store.device_by_key(&key)?)).await;
        matches!(found.map(|found| found.map(gate::device)), Ok(Some(Ok(_))))
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        self.shared.metrics.listening.fetch_sub(1, Ordering::Relaxed);
    }
}
