//! Inspecting a unit again from the desk: who may ask, what reaches the office, and what comes of what it says.

use axum::http::StatusCode;
use serde_json::json;

use super::wire::fits;
use super::{Ask, World, agreement, ask, new_job};
use crate::{AgainMade, AgainOffered, AgainOffice, AgainWanted, OfficeRefused, openapi};

/// What stands in for the office: it says back what it was asked.
pub(super) const OFFICE: AgainOffice = AgainOffice {
    offer: |_, _, person| {
        let inspector = format!("asked by {person}");
        Ok(AgainOffered { number: "2026-009".into(), inspector, findings: 3 })
    },
    make: |_, job, _, wanted| {
        let AgainWanted { number, visit, .. } = wanted.clone();
        match number.as_str() {
            "2026-001" => Err(OfficeRefused::Refused {
                reason: "number_taken",
                detail: "there is a job 2026-001 already".into(),
            }),
            "fails" => Err(OfficeRefused::Failed("the disk is full".into())),
            _ => Ok(AgainMade {
                job: number,
                earlier: job.to_string(),
                visit,
                ..AgainMade::default()
            }),
        }
    },
};

const PATH: &str = "/v1/jobs/2026-041/again";

async fn world() -> (World, String) {
    let world = World::with_office(Some(agreement::office()));
    let key = world.device("desk");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    let pushed = world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&key).json(push)).await;
    assert_eq!(pushed.status, StatusCode::OK);
    (world, key)
}

fn both() -> [Ask; 2] {
    [ask("GET", PATH), ask("POST", PATH).json(r#"{"number": "2026-009"}"#)]
}

#[tokio::test]
async fn what_would_be_carried_is_told_and_the_job_is_made() {
    let (world, key) = world().await;
    let document = openapi::document();
    let schema = |name: &str| document["components"]["schemas"][name].clone();
    let offered = world.send(ask("GET", PATH).key(&key)).await.json();
    assert_eq!(
        offered,
        json!({"number": "2026-009", "inspector": "asked by inspector", "findings": 3})
    );
    fits(&offered, &schema("AgainOffered"), &document).unwrap();
    let wanted = json!({"number": "2026-009", "visit": "2026-08-03", "inspector": "B. Inspector"});
    fits(&wanted, &schema("AgainWanted"), &document).unwrap();
    let made = world.send(ask("POST", PATH).key(&key).json(wanted.to_string())).await.json();
    assert_eq!((&made["job"], &made["earlier"]), (&json!("2026-009"), &json!("2026-041")));
    assert_eq!(made["visit"], "2026-08-03");
    fits(&made, &schema("AgainMade"), &document).unwrap();
    for (body, status, reason) in [
        (r#"{"number": "2026-001"}"#, 422, "number_taken"),
        (r#"{"number": "fails"}"#, 500, "other"),
        (r#"{"client": "Somebody"}"#, 400, "unreadable"),
        ("", 400, "unreadable"),
    ] {
        let refused = world.send(ask("POST", PATH).key(&key).json(body)).await;
        assert_eq!(
            (refused.status.as_u16(), refused.reason().as_str()),
            (status, reason),
            "{body}"
        );
    }
    let untyped = ask("POST", PATH).key(&key).body(b"{}");
    assert_eq!(world.send(untyped).await.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    let nowhere = ask("GET", "/v1/jobs/2026-099/again").key(&key);
    assert_eq!(world.send(nowhere).await.reason(), "no_such_job");
}

#[tokio::test]
async fn nobody_makes_a_job_who_was_not_let_in_for_all_of_them() {
    let (world, _) = world().await;
    let one = world.device_for("one", "2026-041");
    let removed = world.device("removed");
    world.store.remove_device("removed", 5).unwrap();
    for (key, reason) in
        [(None, "not_paired"), (Some(removed), "device_removed"), (Some(one), "one_job")]
    {
        for asked in both() {
            let asked = match &key {
                Some(key) => asked.key(key),
                None => asked,
            };
            assert_eq!(world.send(asked).await.reason(), reason);
        }
    }
}

#[tokio::test]
async fn a_server_without_an_office_makes_none() {
    let world = World::new();
    let key = world.device("a");
    let push = sync::wire::Push { changes: new_job(1).2 }.to_json();
    world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&key).json(push)).await;
    for asked in both() {
        assert_eq!(world.send(asked.key(&key)).await.reason(), "no_office");
    }
}
