//! What goes over the line: byte for byte as `docs/sync.md` says, and as the description says.

use axum::http::StatusCode;
use serde_json::{Value, json};
use store::Sha256Hex;
use sync::{Cursor, Hash, Link};

use super::{World, ask, new_job, one_more};
use crate::{addresses::ADDRESSES, openapi};

#[test]
fn the_description_names_every_address_and_no_other() {
    let document = openapi::document();
    let mut described: Vec<(String, String)> = Vec::new();
    for (path, methods) in document["paths"].as_object().unwrap() {
        for method in methods.as_object().unwrap().keys() {
            described.push((method.to_uppercase(), path.clone()));
        }
    }
    described.sort();
    let mut there: Vec<(String, String)> = ADDRESSES
        .iter()
        .map(|address| (address.method.to_owned(), address.path.replace("{*", "{")))
        .collect();
    there.sort();
    assert_eq!(described, there);

    let text = document.to_string();
    for reference in text.split("#/components/schemas/").skip(1) {
        let name = reference.split('"').next().unwrap();
        assert!(document["components"]["schemas"].get(name).is_some(), "{name}");
    }
    let mut ids: Vec<&str> = document["paths"]
        .as_object()
        .unwrap()
        .values()
        .flat_map(|methods| methods.as_object().unwrap().values())
        .map(|operation| operation["operationId"].as_str().unwrap())
        .collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "{ids:?}");
}

/// Every address takes the method that it is listed with, and no other of these.
#[tokio::test]
async fn the_router_takes_what_is_described() {
    let world = World::new();
    let key = world.device("a");
    for method in ["GET", "POST", "PATCH", "PUT", "DELETE"] {
        for address in ADDRESSES {
            let path = address
                .path
                .replace("{job}", "2026-041")
                .replace("{sha256}", &"ab".repeat(32))
                .replace("{*file}", "x.js");
            let listed =
                ADDRESSES.iter().any(|one| one.path == address.path && one.method == method);
            let (status, ..) = world.head_of(ask(method, &path).key(&key).from("127.0.0.1")).await;
            assert_eq!(
                status != StatusCode::METHOD_NOT_ALLOWED,
                listed,
                "{method} {path}: {status}"
            );
        }
    }
}

/// Whether a value is as a schema of the description says: kinds, required fields, patterns of hashes.
pub(super) fn fits(value: &Value, schema: &Value, document: &Value) -> Result<(), String> {
    if let Some(reference) = schema.get("$ref").and_then(Value::as_str) {
        let name = reference.rsplit('/').next().unwrap();
        return fits(value, &document["components"]["schemas"][name], document);
    }
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(number) if number.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    let kinds = match &schema["type"] {
        Value::Array(kinds) => kinds.clone(),
        one => vec![one.clone()],
    };
    // A whole number is a number, too.
    let whole = kind == "integer" && kinds.contains(&json!("number"));
    if !whole && !kinds.contains(&json!(kind)) {
        return Err(format!("{value} is no {kinds:?}"));
    }
    if schema.get("pattern").is_some_and(|pattern| pattern == "^[0-9a-f]{64}$") {
        let text = value.as_str().unwrap();
        if text.len() != 64 || !text.bytes().all(|byte| b"0123456789abcdef".contains(&byte)) {
            return Err(format!("{text} is no hash"));
        }
    }
    for item in value.as_array().into_iter().flatten() {
        fits(item, &schema["items"], document)?;
    }
    if let Some(fields) = value.as_object() {
        for name in schema["required"].as_array().into_iter().flatten() {
            if !fields.contains_key(name.as_str().unwrap()) {
                return Err(format!("{name} is missing in {value}"));
            }
        }
        for (name, field) in fields {
            let inner = schema["properties"].get(name).ok_or(format!("{name} is not described"))?;
            fits(field, inner, document)?;
        }
    }
    Ok(())
}

#[tokio::test]
async fn answers_are_byte_for_byte_what_the_wire_says_and_fit_their_description() {
    let world = World::new();
    let document = openapi::document();
    let key = world.device("a");
    let (_, _, changes) = new_job(1);
    let hash = Link::read(&changes[0]).unwrap()[0].hash;
    let zeros = Cursor::START.chain;

    let check = async |request: super::Ask, golden: String, schema: &str| {
        let answer = world.send(request.key(&key)).await;
        assert_eq!(answer.text(), golden);
        assert_eq!(answer.status, StatusCode::OK);
        assert_eq!(answer.headers["content-type"], "application/json");
        let schema = json!({ "$ref": format!("#/components/schemas/{schema}") });
        fits(&answer.json(), &schema, &document).unwrap();
    };
    let push = sync::wire::Push { changes: changes.clone() }.to_json();
    check(
        ask("POST", "/v1/jobs/2026-041/changes").json(push.clone()),
        format!(r#"{{"head":1,"before":"{zeros}","kept":[{{"hash":"{hash}","seq":1}}]}}"#),
        "Pushed",
    )
    .await;
    world.store.set_summary(&store::JobId::new("2026-041").unwrap(), "a unit").unwrap();
    check(
        ask("GET", "/v1/search?q=nothing"),
        r#"{"jobs":0,"hits":[],"behind":1}"#.to_owned(),
        "Found",
    )
    .await;
    check(
        ask("GET", "/v1/jobs"),
        r#"{"jobs":[{"job":"2026-041","head":1,"summary":"a unit"}]}"#.into(),
        "Heads",
    )
    .await;
    let base64 =
        serde_json::from_slice::<Value>(&push).unwrap()["changes"][0].as_str().unwrap().to_owned();
    check(
        ask("GET", &format!("/v1/jobs/2026-041/changes?after=0&at={zeros}")),
        format!(r#"{{"after":0,"head":1,"changes":["{base64}"]}}"#),
        "Page",
    )
    .await;
    let cursor = Cursor::START.then(&hash);
    check(
        ask("GET", &format!("/v1/jobs/2026-041/changes?after=1&at={}", cursor.chain)),
        r#"{"after":1,"head":1,"changes":[]}"#.into(),
        "Page",
    )
    .await;

    let photo = [0xff, 0xd8, 0xff, 0xe0, 1, 2, 3, 4, 5];
    let name = Sha256Hex::of(&photo);
    let blob = format!("/v1/jobs/2026-041/blobs/{name}");
    let list = json!({ "blobs": [name.as_str()] }).to_string();
    check(
        ask("POST", "/v1/jobs/2026-041/missing-blobs").json(list.clone()),
        list.clone(),
        "BlobList",
    )
    .await;
    check(
        ask("POST", &blob).header("upload-length", "9").header("upload-complete", "?0"),
        r#"{"offset":0,"stored":false}"#.into(),
        "UploadState",
    )
    .await;
    let piece = |offset: usize, bytes: &[u8]| {
        ask("PATCH", &blob)
            .header("content-type", "application/partial-upload")
            .header("upload-length", "9")
            .header("upload-offset", &offset.to_string())
            .body(bytes)
    };
    check(piece(0, &photo[..4]), r#"{"offset":4,"stored":false}"#.into(), "UploadState").await;
    check(piece(4, &photo[4..]), r#"{"offset":9,"stored":true}"#.into(), "UploadState").await;
    check(
        ask("POST", "/v1/jobs/2026-041/missing-blobs").json(list),
        r#"{"blobs":[]}"#.into(),
        "BlobList",
    )
    .await;
    check(
        ask("GET", "/v1/me"),
        r#"{"device":"a","name":"Phone a","person":"inspector","role":"inspector","job":null,"server":"The desk"}"#.into(),
        "Me",
    )
    .await;

    let whole = world.send(ask("GET", &blob).key(&key)).await;
    assert_eq!((whole.status, whole.bytes.as_slice()), (StatusCode::OK, photo.as_slice()));
    assert_eq!(whole.headers["content-type"], "image/jpeg");
    assert_eq!(whole.headers["content-security-policy"], "sandbox; default-src 'none'");
    let part = world.send(ask("GET", &blob).key(&key).header("range", "bytes=2-4")).await;
    assert_eq!((part.status, part.bytes.as_slice()), (StatusCode::PARTIAL_CONTENT, &photo[2..5]));
    assert_eq!(part.headers["content-range"], "bytes 2-4/9");
    let beyond = world.send(ask("GET", &blob).key(&key).header("range", "bytes=9-")).await;
    assert_eq!(beyond.status, StatusCode::RANGE_NOT_SATISFIABLE);
}

#[tokio::test]
async fn refusals_are_problems_with_the_reason_that_devices_act_on() {
    let world = World::new();
    let document = openapi::document();
    let key = world.device("a");
    let (mut record, author, changes) = new_job(1);
    let later = one_more(&mut record, &author);
    let first = Link::read(&changes[0]).unwrap()[0].hash;
    let push = |changes: Vec<Vec<u8>>| {
        let body = sync::wire::Push { changes }.to_json();
        ask("POST", "/v1/jobs/2026-041/changes").json(body)
    };
    let zeros = Hash([0; 32]);
    let blob = format!("/v1/jobs/2026-041/blobs/{}", "ab".repeat(32));
    let too_long = (sync::limits::BLOB_BYTES + 1).to_string();
    let cases: Vec<(super::Ask, u16, &str, Value)> = vec![
        (push(vec![later]), 409, "missing_changes", json!({ "missing": [first.to_string()] })),
        (push(vec![]), 400, "unreadable", json!({})),
        (push(vec![b"no change".to_vec()]), 400, "unreadable", json!({})),
        (
            ask("GET", &format!("/v1/jobs/2026-041/changes?after=0&at={zeros}")),
            404,
            "no_such_job",
            json!({}),
        ),
        (ask("POST", &blob).header("upload-length", "9"), 404, "no_such_job", json!({})),
        (push(changes), 200, "", json!({})),
        (
            ask("GET", &format!("/v1/jobs/2026-041/changes?after=1&at={zeros}")),
            409,
            "other_log",
            json!({ "head": 1 }),
        ),
        (ask("GET", "/v1/jobs/2026-041/changes?after=1&at=x"), 400, "unreadable", json!({})),
        (ask("GET", "/v1/jobs/2026-041/changes"), 400, "unreadable", json!({})),
        (push(new_job(2).2), 422, "change_refused", json!({})),
        (ask("POST", &blob), 400, "unreadable", json!({})),
        (ask("POST", &blob).header("upload-length", &too_long), 413, "too_large", json!({})),
        (
            ask("PATCH", &blob)
                .header("content-type", "application/partial-upload")
                .header("upload-length", "9")
                .header("upload-offset", "4")
                .body(b"12345"),
            409,
            "wrong_offset",
            json!({ "offset": 0 }),
        ),
        (
            ask("PATCH", &blob)
                .header("content-type", "application/partial-upload")
                .header("upload-length", "5")
                .header("upload-offset", "0")
                .body(b"12345"),
            422,
            "blob_damaged",
            json!({}),
        ),
        (ask("GET", &blob), 404, "no_such_blob", json!({})),
        (ask("GET", "/v1/nowhere"), 404, "no_such_address", json!({})),
        (
            ask("POST", "/v1/jobs/2026-041/changes").json(vec![b' '; sync::limits::BODY_BYTES + 1]),
            413,
            "too_large",
            json!({}),
        ),
    ];
    let schema = json!({ "$ref": "#/components/schemas/Problem" });
    for (request, status, reason, said) in cases {
        let answer = world.send(request.key(&key)).await;
        assert_eq!(answer.status, status, "{reason}: {}", answer.text());
        if status == 200 {
            continue;
        }
        assert_eq!(answer.reason(), reason);
        let problem = answer.json();
        fits(&problem, &schema, &document).unwrap();
        assert_eq!(problem["status"], status);
        for (name, value) in said.as_object().unwrap() {
            assert_eq!(&problem[name], value, "{reason}");
        }
        // What sync has no word for, a device takes as "try again later".
        assert!(sync::Refusal::from_json(&answer.bytes).is_ok(), "{reason}");
    }
}
