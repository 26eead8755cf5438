//! Stock sentences and what is left over from other jobs: who is told, and what comes of what is asked.

use axum::http::StatusCode;
use serde_json::json;

use super::{World, agreement, ask, new_job};
use crate::DeskWords;

/// What stands in for the office: it says back what it was asked.
pub(super) const WORDS: DeskWords = DeskWords {
    sentences: |_| Ok(json!({"sentences": [{"name": "gas", "text": "Shut the gas."}]})),
    keep_sentence: |_, name, text| {
        Ok(match name {
            "" => Err("a name is missing".to_owned()),
            _ => Ok(json!({"sentences": [{"name": name, "text": text}]})),
        })
    },
    left_over: |_, job| match job.as_str() {
        "2026-041" => Ok(json!([{"word": "Quillfeather", "job": "2026-007"}])),
        _ => Err("it cannot be read".to_owned()),
    },
};

async fn world() -> (World, String) {
    let world = World::with_office(Some(agreement::office()));
    let key = world.device("a");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    let pushed = world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&key).json(push)).await;
    assert_eq!(pushed.status, StatusCode::OK);
    (world, key)
}

#[tokio::test]
async fn a_sentence_is_kept_and_all_of_them_are_given() {
    let (world, key) = world().await;
    let all = world.send(ask("GET", "/v1/sentences").key(&key)).await;
    assert_eq!(all.json()["sentences"][0]["text"], "Shut the gas.");
    let keep = |body: &str| ask("POST", "/v1/sentences").key(&key).json(body);
    let kept = world.send(keep(r#"{"name": "dry", "text": "It was dry."}"#)).await;
    assert_eq!(kept.json()["sentences"][0]["name"], "dry");
    for (body, status, reason) in [
        (r#"{"name": "", "text": "x"}"#, 422, "no_sentence"),
        (r#"{"name": "dry"}"#, 400, "unreadable"),
        (r#"{"name": "dry", "text": "x", "for": "all"}"#, 400, "unreadable"),
    ] {
        let refused = world.send(keep(body)).await;
        assert_eq!(
            (refused.status.as_u16(), refused.reason().as_str()),
            (status, reason),
            "{body}"
        );
    }
    let large = format!(r#"{{"name": "dry", "text": "{}"}}"#, "x".repeat(17 << 10));
    assert_eq!(world.send(keep(&large)).await.reason(), "too_large");
    let untyped = ask("POST", "/v1/sentences").key(&key).body(b"{}");
    assert_eq!(world.send(untyped).await.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
}

#[tokio::test]
async fn a_device_of_one_job_learns_nothing_of_others() {
    let (world, key) = world().await;
    let path = "/v1/jobs/2026-041/left-over";
    let told = world.send(ask("GET", path).key(&key)).await.json();
    assert_eq!(
        told,
        json!({"told": true, "left_over": [{"word": "Quillfeather", "job": "2026-007"}]})
    );
    let one = world.device_for("one", "2026-041");
    let not_told = world.send(ask("GET", path).key(&one)).await;
    assert_eq!(not_told.json(), json!({"told": false, "left_over": []}));
    for (method, path) in [("GET", "/v1/sentences"), ("POST", "/v1/sentences")] {
        let asked = ask(method, path).key(&one).json(r#"{"name": "a", "text": "b"}"#);
        assert_eq!(world.send(asked).await.reason(), "one_job", "{method}");
    }
    let elsewhere = ask("GET", "/v1/jobs/2026-042/left-over").key(&one);
    assert_eq!(world.send(elsewhere).await.reason(), "no_such_job");
    let nowhere = ask("GET", "/v1/jobs/2026-099/left-over").key(&key);
    assert_eq!(world.send(nowhere).await.reason(), "no_such_job");
}

#[tokio::test]
async fn a_server_without_an_office_has_no_words() {
    let world = World::new();
    let key = world.device("a");
    assert_eq!(world.send(ask("GET", "/v1/sentences").key(&key)).await.reason(), "no_words");
}
