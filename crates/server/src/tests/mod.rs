//! The addresses without a network: requests given to the router as they would come from a connection.

mod again;
mod agreement;
mod archived;
mod client_page;
mod desk_words;
mod engagement;
mod live;
mod pairing;
mod releases;
mod strangers;
mod watched;
mod wire;

use std::{net::SocketAddr, sync::Arc};

use axum::{
    Router,
    body::Body,
    extract::ConnectInfo,
    http::{HeaderMap, Request, StatusCode},
};
use inspection::{Dwelling, DwellingKind, Job, Reading};
use record::{Author, Edit, Record};
use serde_json::Value;
use sha2::{Digest, Sha256};
use store::{NewDevice, Store};
use tokio::sync::{broadcast, watch};
use tower::ServiceExt as _;

use crate::{
    Live, LivePages, PagesRefused, PagesWanted, keeping::Keeping, pool::Pool, run, shared::Shared,
};

const NOON: i64 = 1_781_265_600;

/// A server without a network, on a store of its own.
pub(super) struct World {
    pub(super) router: Router,
    pub(super) store: Store,
    stop: watch::Sender<bool>,
    folder: tempfile::TempDir,
}

/// What came back.
#[derive(Debug)]
pub(super) struct Answer {
    pub(super) status: StatusCode,
    pub(super) headers: HeaderMap,
    pub(super) bytes: Vec<u8>,
}

impl Answer {
    pub(super) fn json(&self) -> Value {
        serde_json::from_slice(&self.bytes)
            .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&self.bytes)))
    }

    pub(super) fn reason(&self) -> String {
        let kind = self.headers.get("content-type").expect("a problem has a type");
        assert_eq!(kind, "application/problem+json");
        self.json()["reason"].as_str().expect("a problem has a reason").to_owned()
    }

    pub(super) fn text(&self) -> String {
        String::from_utf8(self.bytes.clone()).expect("text")
    }
}

/// A request to make.
pub(super) struct Ask {
    request: axum::http::request::Builder,
    body: Vec<u8>,
    peer: SocketAddr,
}

pub(super) fn ask(method: &str, path: &str) -> Ask {
    let request = Request::builder().method(method).uri(path).header("host", "localhost:8470");
    Ask { request, body: Vec::new(), peer: "192.168.1.30:50000".parse().unwrap() }
}

impl Ask {
    pub(super) fn key(self, key: &str) -> Self {
        self.header("authorization", &format!("Bearer {key}"))
    }

    pub(super) fn header(mut self, name: &str, value: &str) -> Self {
        self.request = self.request.header(name, value);
        self
    }

    pub(super) fn json(mut self, body: impl Into<Vec<u8>>) -> Self {
        self.body = body.into();
        self.header("content-type", "application/json")
    }

    pub(super) fn body(mut self, body: &[u8]) -> Self {
        self.body = body.to_vec();
        self
    }

    pub(super) fn from(mut self, peer: &str) -> Self {
        self.peer = SocketAddr::new(peer.parse().unwrap(), 50_000);
        self
    }
}

impl World {
    pub(super) fn new() -> Self {
        Self::with_office(None)
    }

    pub(super) fn with_office(office: Option<crate::Office>) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let pool = Pool::open(folder.path()).unwrap();
        let (pokes, _) = broadcast::channel(16);
        let (stop, stopping) = watch::channel(false);
        let keeping = Keeping::start(folder.path(), pokes.clone()).unwrap();
        let shared = Shared {
            names: Some(vec!["desk.local".into()]),
            address: "http://127.0.0.1:8470/".into(),
            live: Some(Live(Arc::new(laid_out))),
            office,
            ..Shared::new(pool, keeping, pokes, "The desk".into(), false, stopping)
        };
        let router = run::router(Arc::new(shared));
        let store = Store::open(folder.path()).unwrap();
        Self { router, store, stop, folder }
    }

    pub(super) async fn send(&self, ask: Ask) -> Answer {
        let mut request = ask.request.body(Body::from(ask.body)).unwrap();
        request.extensions_mut().insert(ConnectInfo(ask.peer));
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = axum::body::to_bytes(body, usize::MAX).await.unwrap().to_vec();
        Answer { status: parts.status, headers: parts.headers, bytes }
    }

    /// Only the head of an answer whose body does not end.
    pub(super) async fn head_of(&self, ask: Ask) -> (StatusCode, HeaderMap, Body) {
        let mut request = ask.request.body(Body::from(ask.body)).unwrap();
        request.extensions_mut().insert(ConnectInfo(ask.peer));
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        (parts.status, parts.headers, body)
    }

    /// Lets a device in without a code; its key.
    pub(super) fn device(&self, id: &str) -> String {
        let key =
            format!("{:0>64}", id.bytes().map(|byte| format!("{byte:02x}")).collect::<String>());
        let device = NewDevice {
            id: id.into(),
            name: format!("Phone {id}"),
            person: "inspector".into(),
            key: Sha256::digest(&key).to_vec(),
        };
        self.store.add_device(0, &device).unwrap();
        key
    }

    /// Lets a device in for one job.
    pub(super) fn device_for(&self, id: &str, job: &str) -> String {
        let key =
            format!("{:0>64}", id.bytes().map(|byte| format!("{byte:02x}")).collect::<String>());
        let device = NewDevice {
            id: id.into(),
            name: format!("Phone {id}"),
            person: "inspector".into(),
            key: Sha256::digest(&key).to_vec(),
        };
        let code = Sha256::digest(id).into();
        let job = store::JobId::new(job).unwrap();
        self.store.add_pairing_code(code, 0, 10, Some(&job)).unwrap();
        assert_eq!(self.store.pair(code, 1, &device).unwrap(), store::Pairing::Paired);
        key
    }
}

/// What stands in for the typesetter.
fn laid_out(job: &str, wanted: &PagesWanted) -> Result<LivePages, PagesRefused> {
    let PagesWanted { part, about, paper, finding, .. } = wanted;
    let title = finding.as_ref().map_or("", |finding| finding.title.as_str());
    match part.as_str() {
        "wings" => Err(PagesRefused::NoSuchPart("there are no wings".into())),
        "broken" => Err(PagesRefused::Failed("it is broken".into())),
        _ => {
            let page = format!("<svg>{job} {part} {about} {title} {paper}</svg>");
            Ok(LivePages { pages: vec![page], ..LivePages::default() })
        }
    }
}

/// A new job's record and its beginning, as raw changes.
pub(crate) fn new_job(device: u8) -> (Record, Author, Vec<Vec<u8>>) {
    let author = Author::new([device; 16], "A. Inspector");
    let job = Job { number: "2026-041".into(), purpose: "purchase".into(), ..Job::default() };
    let dwelling = Dwelling { kind: DwellingKind::TravelTrailer, ..Dwelling::default() };
    let record = Record::create(&author, NOON, &job, &dwelling, "id = \"purchase\"\n").unwrap();
    let changes = record.changes_after(&[]).into_iter().map(|change| change.bytes).collect();
    (record, author, changes)
}

/// One more reading, as a raw change.
pub(crate) fn one_more(record: &mut Record, author: &Author) -> Vec<u8> {
    let edit = Edit::AddReading {
        id: record.fresh_id(author, 0).into(),
        reading: Reading {
            point: "shore_power".into(),
            name: "voltage".into(),
            entry: "121 V".into(),
            position: String::new(),
            instrument: None,
            at: None,
            by: author.person.clone(),
            struck_out: None,
        },
    };
    record.edit(author, NOON, edit).unwrap().unwrap().bytes
}
