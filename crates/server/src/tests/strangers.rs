//! A stranger's phone gets nothing: every address without pairing, with a removed device, with a key that never
//! was, across jobs.

use axum::http::StatusCode;
use futures_util::StreamExt as _;
use serde_json::Value;

use super::{Answer, Ask, World, ask, new_job, one_more};
use crate::{
    addresses::{ADDRESSES, Access, Address},
    openapi,
};

/// What a stranger does to a request.
type Trick<'a> = Box<dyn Fn(Ask) -> Ask + 'a>;

/// A request to an address of the description, made as the description says.
fn described(method: &str, path: &str, operation: &Value) -> Ask {
    let path = path
        .replace("{job}", "2026-041")
        .replace("{sha256}", &"ab".repeat(32))
        .replace("{secret}", &"5c".repeat(24))
        .replace("{file}", "x.js")
        .replace("{number}", "1")
        .replace("{link}", "5c5c5c5c5c5c");
    let mut query = String::new();
    let mut headers = Vec::new();
    for parameter in operation["parameters"].as_array().into_iter().flatten() {
        let name = parameter["name"].as_str().unwrap();
        let value =
            if parameter["schema"].get("$ref").is_some() { "0".repeat(64) } else { "5".into() };
        match parameter["in"].as_str().unwrap() {
            "query" => query
                .push_str(&format!("{}{name}={value}", if query.is_empty() { "?" } else { "&" })),
            "header" => headers.push((name.to_owned(), value)),
            "path" => {}
            other => panic!("{other}"),
        }
    }
    let mut request = ask(&method.to_ascii_uppercase(), &(path + &query));
    for (name, value) in headers {
        request = request.header(&name, &value);
    }
    match operation["requestBody"]["content"].as_object().and_then(|content| content.keys().next())
    {
        Some(kind) if kind == "application/json" => request.json("{}"),
        Some(kind) => request.header("content-type", kind).body(b"piece"),
        None => request,
    }
}

/// Every address of the description, with its method and what is said of it.
fn addresses() -> Vec<(String, String, Value)> {
    let document = openapi::document();
    let mut all = Vec::new();
    for (path, methods) in document["paths"].as_object().unwrap() {
        for (method, operation) in methods.as_object().unwrap() {
            all.push((method.clone(), path.clone(), operation.clone()));
        }
    }
    all
}

fn needs_a_device(operation: &Value) -> bool {
    operation["security"].as_array().unwrap().iter().any(|one| one.get("device").is_some())
}

#[tokio::test]
async fn every_address_of_the_description_refuses_strangers_and_removed_devices() {
    let world = World::new();
    let (_, _, changes) = new_job(1);
    let member = world.device("member");
    let push = sync::wire::Push { changes }.to_json();
    let pushed = world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&member).json(push)).await;
    assert_eq!(pushed.status, StatusCode::OK, "{pushed:?}");
    let removed = world.device("removed");
    world.store.remove_device("removed", 5).unwrap();

    let never = "f".repeat(64);
    let mut walked = 0;
    let attempts: [(&str, Trick<'_>, &str); 6] = [
        ("no key", Box::new(|ask| ask), "not_paired"),
        ("a key that never was", Box::new(|ask| ask.key(&never)), "not_paired"),
        ("no real key", Box::new(|ask| ask.key("' or 1=1 --")), "not_paired"),
        (
            "another scheme",
            Box::new(|ask| ask.header("authorization", &format!("Basic {member}"))),
            "not_paired",
        ),
        (
            "in the query",
            Box::new(|ask| ask.header("cookie", &format!("key={member}"))),
            "not_paired",
        ),
        ("a removed device", Box::new(|ask| ask.key(&removed)), "device_removed"),
    ];
    for (at, (what, with, reason)) in attempts.iter().enumerate() {
        for (method, path, operation) in addresses() {
            // Each from another house, or the server asks for patience.
            let peer = format!("192.0.2.{}", at + 1);
            let answer = world.send(with(described(&method, &path, &operation)).from(&peer)).await;
            if needs_a_device(&operation) {
                assert_eq!(answer.reason(), *reason, "{what}: {method} {path}");
                let status = if *reason == "not_paired" { 401 } else { 403 };
                assert_eq!(answer.status, status, "{what}: {method} {path}");
                walked += 1;
            } else {
                assert!(!tells_of_the_job(&answer), "{what}: {method} {path}: {}", answer.text());
            }
        }
    }
    assert!(walked >= 6 * 9, "{walked}");
    for (method, path, operation) in
        addresses().iter().filter(|(_, _, operation)| needs_a_device(operation))
    {
        // The same with a paired device gets past the gate: the refusals above are not of something else.
        let (status, ..) = world.head_of(described(method, path, operation).key(&member)).await;
        assert!(status != 401 && status != 403, "{method} {path}: {status}");
    }
}

fn tells_of_the_job(answer: &Answer) -> bool {
    // The app's own page and this description name no job.
    String::from_utf8_lossy(&answer.bytes).contains("2026-041")
}

#[tokio::test]
async fn what_is_not_there_is_not_told_to_strangers_either() {
    let world = World::new();
    let key = world.device("a");
    for (method, path) in [
        ("GET", "/v1"),
        ("GET", "/v1/"),
        ("GET", "/v1/jobs/2026-041"),
        ("DELETE", "/v1/jobs"),
        ("GET", "/v1/pair"),
        ("POST", "/v1/openapi.json"),
        ("GET", "/v1/jobs/../pair"),
        ("GET", "/v1/%70air"),
        ("OPTIONS", "/v1/jobs"),
        ("TRACE", "/v1/jobs"),
    ] {
        let answer = world.send(ask(method, path)).await;
        assert_eq!(answer.reason(), "not_paired", "{method} {path}");
        let answer = world.send(ask(method, path).key(&key)).await;
        let expected: &[u16] = &[404, 405];
        assert!(expected.contains(&answer.status.as_u16()), "{method} {path}: {answer:?}");
    }
}

#[tokio::test]
async fn a_device_of_one_job_sees_no_other() {
    let world = World::new();
    let all = world.device("all");
    for (job, number) in [("2026-041", 1), ("2026-042", 2)] {
        let push = sync::wire::Push { changes: new_job(number).2 }.to_json();
        let path = format!("/v1/jobs/{job}/changes");
        assert_eq!(
            world.send(ask("POST", &path).key(&all).json(push)).await.status,
            StatusCode::OK
        );
        let photo = format!("photo of {job}");
        let hash = store::Sha256Hex::of(photo.as_bytes());
        let path = format!("/v1/jobs/{job}/blobs/{hash}");
        let piece = ask("PATCH", &path)
            .key(&all)
            .header("content-type", "application/partial-upload")
            .header("upload-length", &photo.len().to_string())
            .header("upload-offset", "0")
            .body(photo.as_bytes());
        assert_eq!(world.send(piece).await.json()["stored"], true);
    }
    let one = world.device_for("one", "2026-041");
    let jobs = world.send(ask("GET", "/v1/jobs").key(&one)).await.json();
    assert_eq!(jobs["jobs"].as_array().unwrap().len(), 1);
    assert_eq!(jobs["jobs"][0]["job"], "2026-041");

    let photo = |job: &str| store::Sha256Hex::of(format!("photo of {job}").as_bytes()).to_string();
    let own = ask("GET", &format!("/v1/jobs/2026-041/blobs/{}", photo("2026-041"))).key(&one);
    assert_eq!(world.send(own).await.text(), "photo of 2026-041");
    // Neither under its own job nor under the other one.
    for job in ["2026-041", "2026-042"] {
        let other = ask("GET", &format!("/v1/jobs/{job}/blobs/{}", photo("2026-042"))).key(&one);
        assert_eq!(world.send(other).await.status, StatusCode::NOT_FOUND);
    }
    let list = serde_json::json!({ "blobs": [photo("2026-041"), photo("2026-042")] }).to_string();
    let missing = ask("POST", "/v1/jobs/2026-041/missing-blobs").key(&one).json(list);
    assert_eq!(world.send(missing).await.json()["blobs"], serde_json::json!([photo("2026-042")]));

    let mut walked = 0;
    for (method, path, operation) in addresses() {
        if !path.contains("{job}") {
            continue;
        }
        let path = path.replace("{job}", "2026-042");
        let answer = world.send(described(&method, &path, &operation).key(&one)).await;
        assert_eq!(answer.reason(), "no_such_job", "{method} {path}");
        // A job that is not there at all is refused in the same words.
        let path = path.replace("2026-042", "nothing");
        let absent = world.send(described(&method, &path, &operation).key(&one)).await;
        assert_eq!(absent.bytes, answer.bytes, "{method} {path}");
        walked += 1;
    }
    assert_eq!(walked, 28);
}

#[tokio::test]
async fn a_device_of_one_job_gets_no_photo_by_knowing_its_name() {
    let world = World::new();
    let all = world.device("all");
    for (job, number) in [("2026-041", 1), ("2026-042", 2)] {
        let push = sync::wire::Push { changes: new_job(number).2 }.to_json();
        let path = format!("/v1/jobs/{job}/changes");
        let pushed = world.send(ask("POST", &path).key(&all).json(push)).await;
        assert_eq!(pushed.status, StatusCode::OK);
    }
    let photo = b"the client's front door";
    let hash = store::Sha256Hex::of(photo);
    let length = photo.len().to_string();
    let path = |job: &str| format!("/v1/jobs/{job}/blobs/{hash}");
    let piece = |job: &str, key: &str, offset: usize, bytes: &[u8]| {
        ask("PATCH", &path(job))
            .key(key)
            .header("content-type", "application/partial-upload")
            .header("upload-length", &length)
            .header("upload-offset", &offset.to_string())
            .body(bytes)
    };
    let given = world.send(piece("2026-042", &all, 0, photo)).await;
    assert_eq!(given.json()["stored"], true);

    // It is there, and the device of the other job knows its name and length.
    let one = world.device_for("one", "2026-041");
    let begin = || ask("POST", &path("2026-041")).key(&one).header("upload-length", &length);
    let nothing_yet = serde_json::json!({ "offset": 0, "stored": false });
    assert_eq!(world.send(begin()).await.json(), nothing_yet);
    let guess = vec![0; photo.len()];
    let refused = world.send(piece("2026-041", &one, 0, &guess)).await;
    assert!(refused.status.is_client_error(), "{refused:?}");
    for offset in [1, photo.len() - 1, photo.len()] {
        let rest = world.send(piece("2026-041", &one, offset, &photo[offset..])).await;
        assert!(rest.status.is_client_error(), "{offset}: {rest:?}");
    }
    let fetch = || ask("GET", &path("2026-041")).key(&one);
    assert_eq!(world.send(fetch()).await.status, StatusCode::NOT_FOUND);
    assert!(!world.store.job_has_blob(&store::JobId::new("2026-041").unwrap(), &hash).unwrap());

    // Who has the bytes may give them, in pieces, and then has them at this job.
    let (first, second) = photo.split_at(10);
    let half = world.send(piece("2026-041", &one, 0, first)).await.json();
    assert_eq!(half, serde_json::json!({ "offset": 10, "stored": false }));
    assert_eq!(world.send(piece("2026-041", &one, 10, second)).await.json()["stored"], true);
    assert_eq!(world.send(fetch()).await.bytes, photo);
    assert_eq!(world.send(begin()).await.json()["stored"], true);
}

#[tokio::test]
async fn a_device_hears_of_its_own_job_alone_and_nothing_once_it_is_removed() {
    let world = World::new();
    let one = world.device_for("one", "2026-041");
    let all = world.device("all");
    let (status, headers, body) = world.head_of(ask("GET", "/v1/pokes").key(&one)).await;
    assert_eq!(
        (status, headers["content-type"].to_str().unwrap()),
        (StatusCode::OK, "text/event-stream")
    );
    let mut stream = body.into_data_stream();
    let mut next = async || {
        let line = stream.next().await?.unwrap();
        Some(String::from_utf8(line.to_vec()).unwrap())
    };
    assert_eq!(next().await.unwrap(), ": here\n\n");
    for (job, number) in [("2026-042", 2), ("2026-041", 1)] {
        let push = sync::wire::Push { changes: new_job(number).2 }.to_json();
        let path = format!("/v1/jobs/{job}/changes");
        assert_eq!(
            world.send(ask("POST", &path).key(&all).json(push)).await.status,
            StatusCode::OK
        );
    }
    assert_eq!(next().await.unwrap(), "data: {\"job\":\"2026-041\",\"head\":1}\n\n");
    world.store.remove_device("one", 5).unwrap();
    let (mut record, author, _) = new_job(1);
    let push = sync::wire::Push { changes: vec![one_more(&mut record, &author)] }.to_json();
    let pushed = world.send(ask("POST", "/v1/jobs/2026-041/changes").key(&all).json(push)).await;
    assert_eq!(pushed.status, StatusCode::OK, "{pushed:?}");
    assert_eq!(next().await, None);
}

#[tokio::test]
async fn a_page_whose_name_was_pointed_at_this_machine_is_not_answered() {
    let world = World::new();
    for (host, status) in [
        ("127.0.0.1:8470", 200),
        ("[::1]:8470", 200),
        ("localhost", 200),
        ("Desk.local:8470", 200),
        ("192.168.1.20:8470", 200),
        ("elsewhere.example:8470", 421),
        ("localhost.elsewhere.example", 421),
        ("", 421),
    ] {
        let request = axum::http::Request::builder().uri("/healthz").header("host", host);
        let request = request.body(axum::body::Body::empty()).unwrap();
        let response = tower::ServiceExt::oneshot(world.router.clone(), request).await.unwrap();
        assert_eq!(response.status(), status, "{host}");
    }
}

#[tokio::test]
async fn what_is_for_this_machine_alone_is_refused_to_others() {
    let world = World::new();
    let loopback: Vec<&Address> =
        ADDRESSES.iter().filter(|address| address.access == Access::Loopback).collect();
    assert_eq!(loopback.len(), 2);
    for address in loopback {
        let path = address.path;
        let here = || ask("GET", path).from("127.0.0.1");
        assert_eq!(world.send(here()).await.status, StatusCode::OK, "{path}");
        let refused = [
            ask("GET", path),
            here().header("x-forwarded-for", "203.0.113.7"),
            here().header("forwarded", "for=203.0.113.7"),
            here().header("sec-fetch-site", "cross-site"),
        ];
        for request in refused {
            assert_eq!(world.send(request).await.reason(), "only_here", "{path}");
        }
    }
}

#[tokio::test]
async fn a_stranger_who_keeps_asking_is_asked_for_patience() {
    let world = World::new();
    let mut refused = 0;
    for _ in 0..80 {
        let answer = world.send(ask("GET", "/v1/jobs")).await;
        if answer.status == StatusCode::TOO_MANY_REQUESTS {
            assert_eq!(answer.reason(), "busy");
            assert!(answer.headers.contains_key("retry-after"));
            refused += 1;
        }
    }
    assert!(refused >= 10, "{refused}");
    // A paired device behind the same address is not held up by it.
    let key = world.device("a");
    assert_eq!(world.send(ask("GET", "/v1/jobs").key(&key)).await.status, StatusCode::OK);
}

#[tokio::test]
async fn every_answer_says_what_a_page_may_do() {
    let world = World::new();
    for path in ["/", "/healthz", "/v1/jobs", "/nowhere", "/app/none.js", "/v1/openapi.json"] {
        let answer = world.send(ask("GET", path)).await;
        let says =
            |name: &str| answer.headers.get(name).map(|value| value.to_str().unwrap().to_owned());
        let policy = says("content-security-policy").expect(path);
        for part in [
            "default-src 'none'",
            "frame-ancestors 'none'",
            "base-uri 'none'",
            "form-action 'none'",
        ] {
            assert!(policy.contains(part), "{path}: {policy}");
        }
        assert!(!policy.contains("unsafe-inline") && !policy.contains("'unsafe-eval'"), "{policy}");
        assert_eq!(says("x-content-type-options").as_deref(), Some("nosniff"), "{path}");
        assert_eq!(says("referrer-policy").as_deref(), Some("no-referrer"), "{path}");
        assert_eq!(says("cross-origin-opener-policy").as_deref(), Some("same-origin"), "{path}");
        assert_eq!(says("cross-origin-resource-policy").as_deref(), Some("same-origin"), "{path}");
        // Without TLS it would be ignored, or lock people out.
        assert_eq!(says("strict-transport-security"), None, "{path}");
    }
}
