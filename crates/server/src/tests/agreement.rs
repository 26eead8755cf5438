//! The agreement's addresses: for whoever has the secret, within limits; what stands there is said by the office.

use std::sync::Mutex;

use axum::http::StatusCode;
use store::{JobId, LeadsTo, NewClientLink, Store};

use super::{Answer, Ask, World, ask, desk_words::WORDS};
use crate::{
    agreement::{GivenConsent, Office, OfficeFile, agreement_address},
    client_secret_sha256, clock,
    engagement::{EngagementAnswer, EngagementAsked, OfficeRefused, SellerNamed},
};

const SECRET: [u8; 24] = [0x5c; 24];
const DAY_MS: i64 = 86_400_000;

/// What the office of these tests was given; a test looks for its own job in it.
static GIVEN: Mutex<Vec<(String, GivenConsent)>> = Mutex::new(Vec::new());

fn file(_: &Store, job: &JobId, name: &str) -> Result<Option<OfficeFile>, String> {
    match name {
        "index.html" => {
            let bytes = format!("agreement of {job}").into_bytes();
            Ok(Some(OfficeFile { media_type: "text/html; charset=utf-8", bytes }))
        }
        "broken.pdf" => Err("the typesetter failed".into()),
        _ => Ok(None),
    }
}

fn agree(_: &Store, job: &JobId, given: &GivenConsent) -> Result<(bool, OfficeFile), String> {
    GIVEN.lock().unwrap().push((job.to_string(), given.clone()));
    let page = |text: &str| OfficeFile { media_type: "text/html", bytes: text.as_bytes().to_vec() };
    match given.text_sha256.as_str() {
        "fails" => Err("the disk is full".into()),
        "old" => Ok((false, page("read it again"))),
        _ => Ok((true, page("you have agreed"))),
    }
}

fn engagement(
    _: &Store,
    job: &JobId,
    _: &str,
    _: &EngagementAsked,
) -> Result<EngagementAnswer, OfficeRefused> {
    Err(OfficeRefused::Failed(format!("nobody asks that of {job} here")))
}

fn name_seller(_: &Store, _: &SellerNamed) -> Result<SellerNamed, OfficeRefused> {
    Err(OfficeRefused::Failed("nobody asks that here".into()))
}

pub(super) fn office() -> Office {
    let releases = super::releases::office();
    let again = super::again::OFFICE;
    Office { file, agree, engagement, name_seller, releases, again, words: WORDS }
}

fn given_to(job: &str) -> Vec<GivenConsent> {
    let given = GIVEN.lock().unwrap();
    given.iter().filter(|(known, _)| known == job).map(|(_, given)| given.clone()).collect()
}

fn world_of(job: &str) -> World {
    let world = World::with_office(Some(office()));
    let job = JobId::new(job).unwrap();
    world.store.create_job(&job, "a trailer").unwrap();
    let link = NewClientLink {
        secret_sha256: client_secret_sha256(SECRET),
        job: &job,
        leads_to: LeadsTo::Agreement,
        now_ms: clock::unix_ms(),
        expires_ms: clock::unix_ms() + DAY_MS,
        files: &[],
    };
    world.store.add_client_link(link).unwrap();
    world
}

fn path(file: &str) -> String {
    agreement_address("", SECRET) + file
}

fn form(path: &str, body: &str) -> Ask {
    ask("POST", path)
        .header("content-type", "application/x-www-form-urlencoded")
        .body(body.as_bytes())
}

async fn get(world: &World, path: &str) -> Answer {
    world.send(ask("GET", path)).await
}

#[tokio::test]
async fn whoever_has_the_address_reads_and_agrees() {
    let world = world_of("read-and-agree");
    let page = get(&world, &path("")).await;
    assert_eq!(
        (page.status, page.text().as_str()),
        (StatusCode::OK, "agreement of read-and-agree")
    );
    let policy = page.headers["content-security-policy"].to_str().unwrap();
    assert!(policy.contains("form-action 'self'") && !policy.contains("unsafe"), "{policy}");
    assert_eq!(page.headers["cache-control"], "private, no-store");
    assert_eq!(page.headers["x-robots-tag"], "noindex, nofollow, noarchive");
    let without_slash = get(&world, path("").trim_end_matches('/')).await;
    assert_eq!(without_slash.headers["location"], path(""));

    let sent = "name=Jos%C3%A9+Buyer&agree=yes&text=abc&drawn=1%2C2+3%2C4%3B5%2C6&odd=x";
    let agreed = world.send(form(&path(""), sent).from("198.51.100.7")).await;
    assert_eq!((agreed.status, agreed.text().as_str()), (StatusCode::OK, "you have agreed"));
    let expected = GivenConsent {
        name: "José Buyer".into(),
        ticked: true,
        drawn: "1,2 3,4;5,6".into(),
        text_sha256: "abc".into(),
        address: "198.51.100.7".into(),
    };
    assert_eq!(given_to("read-and-agree"), [expected]);
    assert_eq!(world.store.client_links().unwrap()[0].views_unix_ms.len(), 1);
}

#[tokio::test]
async fn what_the_office_does_not_take_is_no_consent() {
    let world = world_of("not-taken");
    let outdated = world.send(form(&path(""), "name=A&agree=yes&text=old")).await;
    assert_eq!(outdated.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(outdated.text(), "read it again");
    for answer in [
        world.send(form(&path(""), "name=A&agree=yes&text=fails")).await,
        get(&world, &path("broken.pdf")).await,
    ] {
        assert_eq!(answer.status, StatusCode::INTERNAL_SERVER_ERROR);
        // The reason is for the log.
        let text = answer.text();
        assert!(
            text.contains("nothing was agreed")
                && !text.contains("disk")
                && !text.contains("typesetter"),
            "{text}"
        );
    }
    let json = ask("POST", &path("")).json("{}");
    assert_eq!(world.send(json).await.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    let long = format!("name=A&drawn={}", "1".repeat(100_000));
    assert_eq!(world.send(form(&path(""), &long)).await.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert_eq!(given_to("not-taken").len(), 2);
}

#[tokio::test]
async fn a_guess_and_an_address_that_is_revoked_or_of_another_kind_get_nothing() {
    let world = world_of("guessed");
    let nothing = get(&world, "/nowhere").await;
    let guess = agreement_address("", [0x5d; 24]);
    // The secret of an agreement opens no page of a report, and is known under its own name alone.
    let asked = [
        guess.clone(),
        guess + "agreement.pdf",
        path("other.pdf"),
        path("").replace("/a/", "/c/"),
        "/a/short/".into(),
    ];
    for path in &asked {
        let answer = get(&world, path).await;
        assert_eq!(
            (answer.status, answer.bytes),
            (StatusCode::NOT_FOUND, nothing.bytes.clone()),
            "{path}"
        );
    }
    let sent = "name=Mallory&agree=yes&text=abc";
    let guessed = agreement_address("", [0x5d; 24]);
    assert_eq!(world.send(form(&guessed, sent)).await.status, StatusCode::NOT_FOUND);
    let id = world.store.client_links().unwrap()[0].id.clone();
    world.store.revoke_client_link(&id, clock::unix_ms()).unwrap();
    assert_eq!(get(&world, &path("")).await.bytes, nothing.bytes);
    assert_eq!(world.send(form(&path(""), sent)).await.status, StatusCode::NOT_FOUND);
    assert_eq!(given_to("guessed"), []);
    let without = World::new();
    assert_eq!(get(&without, &path("")).await.bytes, nothing.bytes);
}

#[tokio::test]
async fn one_connection_has_a_few_tries_and_others_are_not_held_up() {
    let world = world_of("tries");
    let sent = |peer: &str| form(&path(""), "name=A&agree=yes&text=old").from(peer);
    for _ in 0..10 {
        assert_eq!(world.send(sent("192.0.2.9")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    }
    let patience = world.send(sent("192.0.2.9")).await;
    assert_eq!(patience.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(patience.headers["retry-after"].to_str().unwrap().parse::<u64>().unwrap() > 1);
    assert!(patience.text().contains("Nothing was agreed"));
    assert_eq!(world.send(sent("192.0.2.10")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(given_to("tries").len(), 11);
}
