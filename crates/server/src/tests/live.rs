//! Parts of a report: who may ask, and what comes of what is asked.

use axum::http::StatusCode;
use serde_json::json;

use super::{World, ask, new_job};

async fn with_job() -> (World, String) {
    let world = World::new();
    let key = world.device("a");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    let pushed = world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&key).json(push)).await;
    assert_eq!(pushed.status, StatusCode::OK);
    (world, key)
}

#[tokio::test]
async fn a_part_is_laid_out_with_what_is_typed() {
    let (world, key) = with_job().await;
    let wanted = json!({
        "part": "finding", "about": "k", "paper": "a4",
        "finding": {"key": "k", "title": "Loose", "statement": "It is loose.", "who": ""},
    });
    let asked = ask("POST", "/v1/jobs/2026-041/pages").key(&key).json(wanted.to_string());
    let answer = world.send(asked).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text());
    assert_eq!(answer.json()["pages"][0], "<svg>2026-041 finding k Loose a4</svg>");
}

#[tokio::test]
async fn what_cannot_be_laid_out_is_said() {
    let (world, key) = with_job().await;
    let tries = [
        ("2026-041", r#"{"part": "wings"}"#, 404, "no_such_part"),
        ("2026-041", r#"{"part": "broken"}"#, 422, "no_pages"),
        ("2026-041", r#"{"about": "front"}"#, 400, "unreadable"),
        ("2026-041", r#"{"part": "front", "colour": "red"}"#, 400, "unreadable"),
        ("2026-099", r#"{"part": "front"}"#, 404, "no_such_job"),
    ];
    for (job, body, status, reason) in tries {
        let path = format!("/v1/jobs/{job}/pages");
        let answer = world.send(ask("POST", &path).key(&key).json(body)).await;
        assert_eq!(answer.status, status, "{body}: {}", answer.text());
        assert_eq!(answer.reason(), reason, "{body}");
    }
    let other = world.device_for("b", "2026-041");
    let elsewhere = ask("POST", "/v1/jobs/2026-042/pages").key(&other).json(r#"{"part":"front"}"#);
    assert_eq!(world.send(elsewhere).await.reason(), "no_such_job");
}
