//! Letting a device in: once, in time, and not by trying.

use axum::http::StatusCode;
use serde_json::json;

use super::{World, ask};
use crate::{clock, code::Code, pairing::make_code};

fn body(code: &str) -> String {
    json!({ "code": code, "name": "Kitchen phone" }).to_string()
}

#[tokio::test]
async fn a_code_gives_one_device_its_own_key_and_nobody_a_second_one() {
    let world = World::new();
    let code = make_code(&world.store, None).unwrap();
    let typed = code.to_string().to_lowercase().replace('-', " ");
    let answer = world.send(ask("POST", "/v1/pair").json(body(&typed))).await;
    assert_eq!(answer.status, StatusCode::OK, "{answer:?}");
    assert_eq!(answer.headers["cache-control"], "no-store");
    let paired = answer.json();
    assert_eq!(paired["server"], "The desk");
    let key = paired["key"].as_str().unwrap();
    assert_eq!(key.len(), 64);

    let me = world.send(ask("GET", "/v1/me").key(key)).await.json();
    assert_eq!(me["device"], paired["device"]);
    assert_eq!(
        (&me["name"], &me["role"], &me["job"]),
        (&json!("Kitchen phone"), &json!("inspector"), &json!(null))
    );

    let again = world.send(ask("POST", "/v1/pair").json(body(&code.to_string()))).await;
    assert_eq!((again.status, again.reason()), (StatusCode::FORBIDDEN, "code_used".into()));
    // The store has only the key's hash.
    let devices = world.store.devices().unwrap();
    assert_eq!(devices.len(), 1);
    assert!(!format!("{devices:?}").contains(key));
}

#[tokio::test]
async fn a_code_that_is_wrong_or_too_old_is_refused_with_a_sentence() {
    let world = World::new();
    let old = Code::from_random([7; 5]);
    let now = clock::unix_ms();
    world.store.add_pairing_code(old.sha256(), now - 600_001, now - 1, None).unwrap();
    for (sent, status, reason) in [
        (body(&old.to_string()), 403, "code_expired"),
        (body("0000-0000"), 403, "code_unknown"),
        (body("123"), 400, "unreadable"),
        (body("UUUU-UUUU"), 400, "unreadable"),
        (json!({ "code": "0000-0000", "name": " " }).to_string(), 400, "unreadable"),
        (json!({ "code": "0000-0000", "name": "x".repeat(61) }).to_string(), 400, "unreadable"),
        ("{".into(), 400, "unreadable"),
    ] {
        let answer = world.send(ask("POST", "/v1/pair").json(sent.clone())).await;
        assert_eq!((answer.status.as_u16(), answer.reason().as_str()), (status, reason), "{sent}");
        assert!(answer.json()["detail"].as_str().unwrap().len() > 10);
    }
    assert_eq!(world.store.devices().unwrap(), []);
}

#[tokio::test]
async fn codes_cannot_be_tried_one_after_the_other() {
    let world = World::new();
    let mut tried = 0;
    // From many houses at once: at most a hundred or so tries get through before patience is asked for.
    for house in 0..40 {
        for _ in 0..12 {
            let peer = format!("203.0.113.{house}");
            let answer =
                world.send(ask("POST", "/v1/pair").json(body("0000-0000")).from(&peer)).await;
            match answer.status {
                StatusCode::FORBIDDEN => tried += 1,
                StatusCode::TOO_MANY_REQUESTS => {}
                other => panic!("{other}"),
            }
        }
    }
    assert!((10..=105).contains(&tried), "{tried}");
}

#[tokio::test]
async fn a_page_of_another_site_cannot_pair_by_a_form() {
    let world = World::new();
    let code = make_code(&world.store, None).unwrap();
    for kind in ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"] {
        let sent = ask("POST", "/v1/pair")
            .header("content-type", kind)
            .body(body(&code.to_string()).as_bytes());
        assert_eq!(world.send(sent).await.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    }
    assert_eq!(world.store.devices().unwrap(), []);
}

#[tokio::test]
async fn the_page_on_the_servers_own_machine_shows_a_code_that_works() {
    let world = World::new();
    let page = world.send(ask("GET", "/pair").from("127.0.0.1")).await.text();
    let code =
        page.split("class=\"code\">").nth(1).and_then(|rest| rest.split('<').next()).unwrap();
    assert!(page.contains("<svg"), "{page}");
    let paired = world.send(ask("POST", "/v1/pair").json(body(code))).await;
    assert_eq!(paired.status, StatusCode::OK);
}
