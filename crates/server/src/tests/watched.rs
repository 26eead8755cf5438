//! What watches over a server is told the truth: that it runs, that it can work, and how much it did.

use std::{collections::BTreeMap, fs::OpenOptions, io::Write as _};

use axum::http::StatusCode;

use super::{World, ask, new_job};
use crate::pairing::make_code;

#[tokio::test]
async fn a_server_that_stops_is_alive_and_no_longer_ready() {
    let world = World::new();
    for (path, ready) in [("/healthz", "ok\n"), ("/readyz", "ok\n")] {
        let answer = world.send(ask("GET", path)).await;
        assert_eq!((answer.status, answer.text().as_str()), (StatusCode::OK, ready), "{path}");
    }
    world.stop.send_replace(true);
    let ready = world.send(ask("GET", "/readyz")).await;
    assert_eq!(ready.status, StatusCode::SERVICE_UNAVAILABLE);
    assert_eq!(ready.text(), "stopping\n");
    assert_eq!(world.send(ask("GET", "/healthz")).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_server_whose_store_cannot_be_read_is_alive_and_not_ready() {
    let world = World::new();
    // What the handles remember is older than this, so that they read anew.
    world.store.set_setting("server.address", "http://127.0.0.1:8470/").unwrap();
    for name in ["store.sqlite", "store.sqlite-wal"] {
        let path = world.folder.path().join(name);
        let length = usize::try_from(std::fs::metadata(&path).unwrap().len()).unwrap();
        // In place: a file that is put in its stead would be another one to whoever has this one open.
        let mut file = OpenOptions::new().write(true).open(&path).unwrap();
        file.write_all(&vec![0xa5; length]).unwrap();
    }
    let ready = world.send(ask("GET", "/readyz")).await;
    assert_eq!(ready.status, StatusCode::SERVICE_UNAVAILABLE);
    assert_eq!(ready.text(), "the store cannot be read\n");
    assert_eq!(world.send(ask("GET", "/healthz")).await.text(), "ok\n");
}

/// The counts, by name and labels.
async fn counts(world: &World) -> BTreeMap<String, String> {
    let answer = world.send(ask("GET", "/metrics").from("127.0.0.1")).await;
    assert_eq!(answer.headers["content-type"], "text/plain; version=0.0.4; charset=utf-8");
    let text = answer.text();
    for told in ["2026-041", "member", "192.168"] {
        assert!(!text.contains(told), "the counts tell of {told}: {text}");
    }
    let mut families = Vec::new();
    let mut counts = BTreeMap::new();
    for line in text.lines() {
        if let Some(help) = line.strip_prefix("# HELP ") {
            let (name, words) = help.split_once(' ').expect("a family has words");
            assert!(words.ends_with('.'), "{line}");
            families.push(name.to_owned());
        } else if let Some(kind) = line.strip_prefix("# TYPE ") {
            let (name, kind) = kind.split_once(' ').unwrap();
            assert_eq!(families.last().map(String::as_str), Some(name));
            assert!(["counter", "gauge", "histogram"].contains(&kind), "{line}");
        } else {
            let (name, value) = line.rsplit_once(' ').unwrap();
            assert!(name.starts_with(families.last().unwrap()), "{line}");
            counts.insert(name.to_owned(), value.to_owned());
        }
    }
    assert_eq!(families.len(), 9, "{families:?}");
    counts
}

#[tokio::test]
async fn what_is_counted_is_what_happened() {
    let world = World::new();
    let before = counts(&world).await;
    assert!(before.values().all(|count| ["0", "0.000000"].contains(&count.as_str())), "{before:?}");

    let key = world.device("member");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    let pushed = world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&key).json(push)).await;
    assert_eq!(pushed.status, StatusCode::OK, "{pushed:?}");
    let photo = b"thirteen byte";
    let hash = store::Sha256Hex::of(photo);
    let piece = ask("PATCH", &format!("/v1/jobs/2026-041/blobs/{hash}"))
        .key(&key)
        .header("content-type", "application/partial-upload")
        .header("upload-length", "13")
        .header("upload-offset", "0")
        .body(photo);
    assert_eq!(world.send(piece).await.json()["stored"], true);
    // One code is wrong, one is right; a stranger asks; an address that is nowhere.
    let pairing = |code: &str| {
        let body = serde_json::json!({ "code": code, "name": "Kitchen phone" }).to_string();
        ask("POST", "/v1/pair").json(body)
    };
    assert_eq!(world.send(pairing("0000-0000")).await.status, StatusCode::FORBIDDEN);
    let code = make_code(&world.store, None).unwrap().to_string();
    assert_eq!(world.send(pairing(&code)).await.status, StatusCode::OK);
    assert_eq!(world.send(ask("GET", "/v1/jobs")).await.status, StatusCode::UNAUTHORIZED);
    assert_eq!(world.send(ask("GET", "/nowhere")).await.status, StatusCode::NOT_FOUND);
    let (status, _, pokes) = world.head_of(ask("GET", "/v1/pokes").key(&key)).await;
    assert_eq!(status, StatusCode::OK);

    let after = counts(&world).await;
    let of = |name: &str| after[&format!("nearside_{name}")].as_str();
    // The counts themselves are asked for twice; the second answer does not know of itself.
    assert_eq!(of("requests_total{class=\"2xx\"}"), "5", "{after:?}");
    assert_eq!(of("requests_total{class=\"4xx\"}"), "3", "{after:?}");
    assert_eq!(of("requests_total{class=\"5xx\"}"), "0");
    assert_eq!(of("request_seconds_count"), "8");
    assert_eq!(of("request_seconds_bucket{le=\"+Inf\"}"), "8");
    assert_ne!(of("request_seconds_sum"), "0.000000");
    assert_eq!(of("changes_acknowledged_total"), "1");
    assert_eq!(of("photo_bytes_received_total"), "13");
    assert_eq!(of("pairings_total"), "1");
    assert_eq!(of("pairings_refused_total"), "1");
    assert_eq!(of("gate_refused_total"), "1");
    assert_eq!(of("bodies_turned_away_total"), "0");
    assert_eq!(of("listening_devices"), "1");
    drop(pokes);
    assert_eq!(counts(&world).await["nearside_listening_devices"], "0");
}
