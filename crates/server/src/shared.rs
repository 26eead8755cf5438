//! What all requests share: the store, the keeper, the counts and the limits.

use std::{
    collections::BTreeMap,
    net::IpAddr,
    sync::{Arc, Mutex, atomic::Ordering},
    time::{Duration, Instant},
};

use axum::{
    body::{Body, Bytes, HttpBody},
    http::{HeaderMap, header},
};
use serde::de::DeserializeOwned;
use sync::{JobId, Refusal, limits, wire::Poke};
use tokio::sync::{Semaphore, broadcast, watch};

use crate::{
    agreement::Office,
    certificate::Authority,
    changes::takes_json,
    clock,
    keeping::Keeping,
    live::Live,
    metrics::Metrics,
    pool::Pool,
    problem::Problem,
    rates::{self, Rates},
    releases::UnderWay,
};

/// Kibibytes of bodies that are held at once, for all requests together.
const BODIES_KIB: usize = 96 << 10;
/// So many bags are sent at once: each is read from the disk as fast as its line takes it.
const BAGS: usize = 2;
/// So many tables of the archive are written at once: each reads all of them.
const EXPORTS: usize = 1;
/// When a device spoke is not noted more often than this.
const NOTED_AGAIN_MS: i64 = 3_600_000;

/// What all requests share.
#[derive(Debug)]
pub(crate) struct Shared {
    pub(crate) pool: Arc<Pool>,
    pub(crate) keeping: Keeping,
    pub(crate) pokes: broadcast::Sender<Poke>,
    pub(crate) name: String,
    /// Names in the `Host` header that are ours, beside IP addresses and `localhost`; any, if `None`.
    pub(crate) names: Option<Vec<String>>,
    /// Whether this is spoken over TLS.
    pub(crate) secure: bool,
    /// The server's own authority, if it has one.
    pub(crate) authority: Option<Authority>,
    /// Where the app is, for people and phones.
    pub(crate) address: String,
    /// Whether each request is a line in the log.
    pub(crate) log_requests: bool,
    pub(crate) metrics: Metrics,
    /// True once the server is told to stop.
    pub(crate) stopping: watch::Receiver<bool>,
    pub(crate) device_rates: Rates<String>,
    pub(crate) stranger_rates: Rates<IpAddr>,
    pub(crate) pairing_rates: Rates<IpAddr>,
    pub(crate) pairing_overall: Rates<()>,
    /// Reading agreements, by who asks: each is made when it is asked for.
    pub(crate) reading_rates: Rates<IpAddr>,
    /// Agreeing to them.
    pub(crate) agreeing_rates: Rates<IpAddr>,
    /// Releasing jobs, by device and of all devices together: each is a try at a passphrase.
    pub(crate) passphrase_rates: Rates<String>,
    pub(crate) passphrase_overall: Rates<()>,
    /// The release or client's page that is being made.
    pub(crate) releasing: Arc<UnderWay>,
    /// Bags that are sent at once.
    pub(crate) bags: Arc<Semaphore>,
    /// Tables of the archive that are written at once.
    pub(crate) exports: Arc<Semaphore>,
    /// Who makes the agreement's pages, and releases jobs.
    pub(crate) office: Option<Office>,
    pub(crate) bodies: Semaphore,
    /// What lays out a part of a report, and whose turn it is: one at a time.
    pub(crate) live: Option<Live>,
    pub(crate) laying_out: Semaphore,
    /// Devices that spoke and when, to be noted by and by: nobody waits for that.
    pub(crate) heard: Mutex<BTreeMap<String, i64>>,
}

pub(crate) type State = axum::extract::State<Arc<Shared>>;

impl Shared {
    pub(crate) fn new(
        pool: Pool,
        keeping: Keeping,
        pokes: broadcast::Sender<Poke>,
        name: String,
        secure: bool,
        stopping: watch::Receiver<bool>,
    ) -> Self {
        Self {
            pool: Arc::new(pool),
            keeping,
            pokes,
            name,
            names: None,
            secure,
            authority: None,
            address: String::new(),
            log_requests: false,
            metrics: Metrics::default(),
            stopping,
            device_rates: Rates::new(rates::DEVICE),
            stranger_rates: Rates::new(rates::STRANGER),
            pairing_rates: Rates::new(rates::PAIRING),
            pairing_overall: Rates::new(rates::PAIRING_OVERALL),
            reading_rates: Rates::new(rates::READING),
            agreeing_rates: Rates::new(rates::AGREEING),
            passphrase_rates: Rates::new(rates::PASSPHRASE),
            passphrase_overall: Rates::new(rates::PASSPHRASE_OVERALL),
            releasing: Arc::default(),
            bags: Arc::new(Semaphore::new(BAGS)),
            exports: Arc::new(Semaphore::new(EXPORTS)),
            office: None,
            bodies: Semaphore::new(BODIES_KIB),
            live: None,
            laying_out: Semaphore::new(1),
            heard: Mutex::default(),
        }
    }

    /// A device spoke, which is noted if the last note is older than an hour.
    pub(crate) fn heard(&self, device: &str, noted: Option<i64>) {
        let now = clock::unix_ms();
        let lately = |at: i64| (now - NOTED_AGAIN_MS..=now).contains(&at);
        if !noted.is_some_and(lately)
            && let Ok(mut heard) = self.heard.lock()
        {
            heard.insert(device.to_owned(), now);
        }
    }

    /// What a JSON body of at most `most` bytes says; what cannot be read is told with the place and the reason.
    pub(crate) async fn message<T: DeserializeOwned>(
        &self,
        headers: &HeaderMap,
        body: Body,
        most: usize,
    ) -> Result<T, Problem> {
        takes_json(headers)?;
        let body = self.body(headers, body, most).await?;
        serde_json::from_slice(&body)
            .map_err(|error| Refusal::Unreadable { why: error.to_string() }.into())
    }

    /// Reads a body of at most `most` bytes, if there is room for it now, in the time that the slowest
    /// line needs for it.
    pub(crate) async fn body(
        &self,
        headers: &HeaderMap,
        body: Body,
        most: usize,
    ) -> Result<Bytes, Problem> {
        let too_large = |bytes: u64| {
            let why = format!("a body of {bytes} bytes; at most {most} are accepted here");
            Problem::from(Refusal::TooLarge { why })
        };
        let said = headers.get(header::CONTENT_LENGTH).and_then(|value| value.to_str().ok());
        let said = said.and_then(|text| text.parse::<u64>().ok()).or(body.size_hint().exact());
        let most_bytes = u64::try_from(most).unwrap_or(u64::MAX);
        if let Some(bytes) = said.filter(|bytes| *bytes > most_bytes) {
            return Err(too_large(bytes));
        }
        let expected = said.unwrap_or(most_bytes);
        let kib = u32::try_from(expected.div_ceil(1 << 10)).unwrap_or(u32::MAX);
        let Ok(_room) = self.bodies.try_acquire_many(kib) else {
            self.metrics.turned_away.fetch_add(1, Ordering::Relaxed);
            return Err(Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS }.into());
        };
        let patience = limits::ANSWER_MS + 1_000 * (expected / limits::SLOW_BYTES_A_SECOND);
        let reading = axum::body::to_bytes(body, most);
        match tokio::time::timeout(Duration::from_millis(patience), reading).await {
            Ok(Ok(bytes)) => Ok(bytes),
            Ok(Err(error)) => {
                // Of what was announced as short enough, only the line can have failed.
                if said.is_none() && error.to_string().contains("length limit") {
                    return Err(too_large(most_bytes.saturating_add(1)));
                }
                Err(Refusal::Unreadable { why: format!("the body broke off: {error}") }.into())
            }
            Err(_late) => Err(Problem::too_slow()),
        }
    }

    /// Which devices spoke since this was asked last, and when.
    pub(crate) fn take_heard(&self) -> BTreeMap<String, i64> {
        self.heard.lock().map(|mut heard| std::mem::take(&mut *heard)).unwrap_or_default()
    }

    /// Takes one from the tries that an address has.
    pub(crate) fn try_to_pair(&self, address: IpAddr) -> Result<(), Problem> {
        let now = Instant::now();
        let asker = rates::asker(address);
        self.pairing_rates
            .take(asker, now)
            .and_then(|()| self.pairing_overall.take((), now))
            .map_err(Problem::too_many)
    }
}

/// A paired device, as the gate found it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Device {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) person: String,
    pub(crate) role: String,
    /// The only job that it may see.
    pub(crate) job: Option<JobId>,
}

impl Device {
    /// The job with this id, if the device may see it. Whether it exists is not told to others.
    pub(crate) fn may_see(&self, id: &str) -> Result<JobId, Problem> {
        let job = JobId::new(id).map_err(|_| Refusal::NoSuchJob)?;
        if self.job.as_ref().is_none_or(|only| *only == job) {
            return Ok(job);
        }
        Err(Refusal::NoSuchJob.into())
    }
}

/// A job's id as the store's.
pub(crate) fn store_id(job: &JobId) -> Result<store::JobId, Problem> {
    store::JobId::new(job.as_str()).map_err(|_| Refusal::NoSuchJob.into())
}
