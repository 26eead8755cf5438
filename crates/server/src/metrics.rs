//! Counts for monitoring, in Prometheus' text format (version 0.0.4).

use std::{
    fmt::Write as _,
    sync::atomic::{AtomicU64, Ordering},
    time::Duration,
};

use axum::{
    http::header,
    response::{IntoResponse, Response},
};

use crate::shared::State;

/// Upper ends of the spans that answers are sorted into, in milliseconds.
const SPANS_MS: [u64; 10] = [5, 10, 25, 50, 100, 250, 500, 1_000, 5_000, 30_000];

/// What is counted. A count wraps long after the machine is scrap.
#[derive(Debug, Default)]
pub(crate) struct Metrics {
    /// By the first digit of the status.
    statuses: [AtomicU64; 6],
    spans: [AtomicU64; SPANS_MS.len()],
    micros: AtomicU64,
    answers: AtomicU64,
    changes: AtomicU64,
    photo_bytes: AtomicU64,
    paired: AtomicU64,
    pairing_refused: AtomicU64,
    /// Requests that the gate refused.
    pub(crate) refused: AtomicU64,
    /// Bodies for which there was no room.
    pub(crate) turned_away: AtomicU64,
    /// Devices that wait for pokes now.
    pub(crate) listening: AtomicU64,
}

impl Metrics {
    /// A request was answered.
    pub(crate) fn answered(&self, status: u16, after: Duration) {
        if let Some(class) = self.statuses.get(usize::from(status / 100)) {
            class.fetch_add(1, Ordering::Relaxed);
        }
        let ms = after.as_millis();
        for (end, span) in SPANS_MS.iter().zip(&self.spans) {
            if ms <= u128::from(*end) {
                span.fetch_add(1, Ordering::Relaxed);
            }
        }
        let micros = u64::try_from(after.as_micros()).unwrap_or(u64::MAX);
        self.micros.fetch_add(micros, Ordering::Relaxed);
        self.answers.fetch_add(1, Ordering::Relaxed);
    }

    /// So many changes are on disk, repeats among them.
    pub(crate) fn kept(&self, changes: usize) {
        self.changes.fetch_add(u64::try_from(changes).unwrap_or_default(), Ordering::Relaxed);
    }

    /// So many bytes of photos came in.
    pub(crate) fn received(&self, bytes: usize) {
        self.photo_bytes.fetch_add(u64::try_from(bytes).unwrap_or_default(), Ordering::Relaxed);
    }

    /// A pairing was tried.
    pub(crate) fn pairing(&self, worked: bool) {
        let count = if worked { &self.paired } else { &self.pairing_refused };
        count.fetch_add(1, Ordering::Relaxed);
    }

    fn text(&self) -> String {
        let of = |count: &AtomicU64| count.load(Ordering::Relaxed);
        let mut text = String::new();
        let mut family = |name: &str, kind: &str, help: &str, lines: &[(String, String)]| {
            // Writing to a string does not fail.
            let _head =
                write!(text, "# HELP nearside_{name} {help}\n# TYPE nearside_{name} {kind}\n");
            for (labels, value) in lines {
                let _line = writeln!(text, "nearside_{name}{labels} {value}");
            }
        };
        let one = |count: &AtomicU64| vec![(String::new(), of(count).to_string())];
        let statuses: Vec<_> = (1..)
            .zip(&self.statuses[1..])
            .map(|(class, count)| (format!("{{class=\"{class}xx\"}}"), of(count).to_string()))
            .collect();
        family("requests_total", "counter", "Requests answered, by class of status.", &statuses);
        let mut spans: Vec<_> = SPANS_MS
            .iter()
            .zip(&self.spans)
            .map(|(end, count)| {
                let le = format!("{}.{:03}", end / 1_000, end % 1_000);
                (format!("_bucket{{le=\"{le}\"}}"), of(count).to_string())
            })
            .collect();
        spans.push(("_bucket{le=\"+Inf\"}".into(), of(&self.answers).to_string()));
        let micros = of(&self.micros);
        let seconds = format!("{}.{:06}", micros / 1_000_000, micros % 1_000_000);
        spans.push(("_sum".into(), seconds));
        spans.push(("_count".into(), of(&self.answers).to_string()));
        let help = "How long requests took until the answer began.";
        family("request_seconds", "histogram", help, &spans);
        let help = "Changes acknowledged as on disk, repeats among them.";
        family("changes_acknowledged_total", "counter", help, &one(&self.changes));
        let help = "Bytes of photos and films that came in.";
        family("photo_bytes_received_total", "counter", help, &one(&self.photo_bytes));
        family("pairings_total", "counter", "Devices let in.", &one(&self.paired));
        let help = "Tries at pairing with a code that was wrong, used or too old.";
        family("pairings_refused_total", "counter", help, &one(&self.pairing_refused));
        let help = "Requests refused before any work: strangers, other hosts, too many.";
        family("gate_refused_total", "counter", help, &one(&self.refused));
        let help = "Bodies turned away because too many bytes were held already.";
        family("bodies_turned_away_total", "counter", help, &one(&self.turned_away));
        family("listening_devices", "gauge", "Devices that wait for pokes.", &one(&self.listening));
        text
    }
}

/// `GET /metrics`
pub(crate) async fn answer(shared: State) -> Response {
    let kind = "text/plain; version=0.0.4; charset=utf-8";
    ([(header::CONTENT_TYPE, kind)], shared.metrics.text()).into_response()
}
