//! The client's page: for whoever has its address, as long as it is good, and for nobody else.

use axum::http::StatusCode;
use store::{ClientFile, JobId, LeadsTo, NewClientLink};

use super::{Answer, World, ask};
use crate::{client_address, client_secret_sha256, clock};

const SECRET: [u8; 24] = [0x5c; 24];
const DAY_MS: i64 = 86_400_000;

fn world_with_link(expires_ms: i64) -> World {
    let world = World::new();
    let job = JobId::new("2026-041").unwrap();
    world.store.create_job(&job, "a trailer").unwrap();
    let mut files = Vec::new();
    for (name, media_type, bytes) in [
        ("index.html", "text/html; charset=utf-8", b"<h1>Page</h1>".as_slice()),
        ("photos/0001.jpg", "image/jpeg", b"\xff\xd8photo".as_slice()),
    ] {
        let blob = world.store.put_blob(bytes).unwrap();
        files.push(ClientFile { name: name.into(), media_type: media_type.into(), blob });
    }
    let hash = client_secret_sha256(SECRET);
    let link = NewClientLink {
        secret_sha256: hash,
        job: &job,
        leads_to: LeadsTo::Page { after_payment: false },
        now_ms: clock::unix_ms(),
        expires_ms,
        files: &files,
    };
    world.store.add_client_link(link).unwrap();
    world
}

fn path(file: &str) -> String {
    client_address("", SECRET) + file
}

async fn get(world: &World, path: &str) -> Answer {
    world.send(ask("GET", path)).await
}

#[tokio::test]
async fn whoever_has_the_address_sees_the_page_and_each_view_is_noted() {
    let world = world_with_link(clock::unix_ms() + DAY_MS);
    let page = get(&world, &path("")).await;
    assert_eq!((page.status, page.text().as_str()), (StatusCode::OK, "<h1>Page</h1>"));
    assert_eq!(page.headers["content-type"], "text/html; charset=utf-8");
    assert_eq!(page.headers["x-robots-tag"], "noindex, nofollow, noarchive");
    assert_eq!(page.headers["referrer-policy"], "no-referrer");
    assert_eq!(page.headers["cache-control"], "private, no-store");
    let policy = page.headers["content-security-policy"].to_str().unwrap();
    assert!(policy.starts_with("default-src 'none'") && !policy.contains("unsafe"), "{policy}");
    let photo = get(&world, &path("photos/0001.jpg")).await;
    assert_eq!(
        (photo.status, photo.bytes.as_slice()),
        (StatusCode::OK, b"\xff\xd8photo".as_slice())
    );
    get(&world, &path("index.html")).await;
    let links = world.store.client_links().unwrap();
    assert_eq!(links[0].views_unix_ms.len(), 2, "the page twice, the photo not: {links:?}");
    let without_slash = get(&world, path("").trim_end_matches('/')).await;
    assert_eq!(without_slash.status, StatusCode::PERMANENT_REDIRECT);
    assert_eq!(without_slash.headers["location"], path(""));
}

#[tokio::test]
async fn a_guess_a_wrong_file_and_a_link_that_is_over_or_revoked_are_answered_alike() {
    let over = world_with_link(clock::unix_ms());
    let good = world_with_link(clock::unix_ms() + DAY_MS);
    let revoked = world_with_link(clock::unix_ms() + DAY_MS);
    let id = revoked.store.client_links().unwrap()[0].id.clone();
    assert!(revoked.store.revoke_client_link(&id, 1).unwrap());
    assert!(!revoked.store.revoke_client_link(&id, 2).unwrap(), "it was revoked already");
    let guess = client_address("", [0x5d; 24]);
    let asked = [
        (&over, path("")),
        (&revoked, path("")),
        (&revoked, path("photos/0001.jpg")),
        (&good, path("photos/0002.jpg")),
        (&good, path("../index.html")),
        (&good, guess),
        (&good, "/c/short/".into()),
        (&good, "/c/short".into()),
        (&good, path("").to_uppercase()),
    ];
    let expected = get(&good, "/nowhere").await;
    for (world, path) in asked {
        let answer = get(world, &path).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{path}");
        assert_eq!(answer.bytes, expected.bytes, "{path}");
    }
    for world in [&over, &good, &revoked] {
        assert_eq!(world.store.client_links().unwrap()[0].views_unix_ms, [0; 0]);
    }
}
