//! Releasing from the desk: who may, over what line, how often; what is said when nothing is released.

use std::{io::Write, sync::Mutex};

use axum::http::StatusCode;
use serde_json::{Value, json};
use store::{JobId, LeadsTo, NewClientLink, Store};

use super::{Answer, Ask, World, ask};
use crate::{
    AcceptedMatter, Differing, EngagementAnswer, EngagementAsked, GivenConsent, NotReleased,
    Office, OfficeFile, OfficeRefused, OpenMatter, ReleaseKept, ReleaseOffice, ReleaseStanding,
    ReleaseStep, ReleaseWanted, SellerNamed, ShareMade, ShareWanted, Since, client_secret_sha256,
    clock,
};

const PASSPHRASE: &str = "seven plain words in a row";
const DAY_MS: i64 = 86_400_000;

/// What the office of these tests was asked for; a test looks for its own job in it.
static WANTED: Mutex<Vec<(String, ReleaseWanted)>> = Mutex::new(Vec::new());

/// An office that has one release of every job, and one matter open.
pub(super) fn office() -> ReleaseOffice {
    ReleaseOffice { standing, release, report, bag, since, share }
}

fn matter() -> OpenMatter {
    OpenMatter {
        matter: "nobody settled the tyres".into(),
        kind: "not_settled".into(),
        place: "point".into(),
        about: "tyres".into(),
    }
}

fn standing(_: &Store, job: &JobId) -> Result<ReleaseStanding, String> {
    match job.as_str() {
        "damaged" => Err("the list of releases is damaged".into()),
        _ => Ok(ReleaseStanding { head: 3, matters: vec![matter()], ..ReleaseStanding::default() }),
    }
}

fn release(
    _: &Store,
    job: &JobId,
    wanted: &ReleaseWanted,
    at: &dyn Fn(ReleaseStep),
) -> Result<ReleaseKept, NotReleased> {
    WANTED.lock().unwrap().push((job.to_string(), wanted.clone()));
    at(ReleaseStep::Signing);
    if wanted.head != 3 {
        return Err(NotReleased::Changed("the job has changed since".into()));
    }
    if wanted.accepted.is_empty() {
        return Err(NotReleased::Open(vec![matter()]));
    }
    if wanted.passphrase.0 != PASSPHRASE {
        return Err(NotReleased::Passphrase("the passphrase does not open this key".into()));
    }
    if wanted.paper == "parchment" {
        return Err(NotReleased::Refused("no such paper".into()));
    }
    Ok(ReleaseKept { number: 2, accepted: wanted.accepted.clone(), ..ReleaseKept::default() })
}

fn report(_: &Store, _: &JobId, number: u32) -> Result<Option<Vec<u8>>, String> {
    Ok((number == 1).then(|| b"%PDF-1.7".to_vec()))
}

fn bag(_: &Store, job: &JobId, number: u32, out: &mut dyn Write) -> Result<bool, String> {
    match (job.as_str(), number) {
        ("damaged", _) => Err("a photo is gone".into()),
        (_, 1) => {
            // More than one piece.
            for _ in 0..600 {
                out.write_all(&[b'z'; 1024]).map_err(|error| error.to_string())?;
            }
            Ok(true)
        }
        _ => Ok(false),
    }
}

fn since(_: &Store, _: &JobId, number: u32) -> Result<Option<Since>, String> {
    let differing = Differing { what: "uses".into(), key: "tow".into(), ..Differing::default() };
    Ok((number == 1).then(|| Since { differences: vec![differing], ..Since::default() }))
}

fn share(
    _: &Store,
    _: &JobId,
    wanted: &ShareWanted,
    _: &dyn Fn(ReleaseStep),
) -> Result<ShareMade, NotReleased> {
    match wanted.release {
        1 => Ok(ShareMade {
            address: format!("http://x/c/{}/", wanted.days),
            ..ShareMade::default()
        }),
        _ => Err(NotReleased::Changed("the record has changed".into())),
    }
}

fn no_file(_: &Store, _: &JobId, _: &str) -> Result<Option<OfficeFile>, String> {
    Ok(None)
}

fn no_consent(_: &Store, _: &JobId, _: &GivenConsent) -> Result<(bool, OfficeFile), String> {
    Err("nobody agrees here".into())
}

fn no_engagement(
    _: &Store,
    _: &JobId,
    _: &str,
    _: &EngagementAsked,
) -> Result<EngagementAnswer, OfficeRefused> {
    Err(OfficeRefused::Failed("nobody asks that here".into()))
}

fn no_seller(_: &Store, _: &SellerNamed) -> Result<SellerNamed, OfficeRefused> {
    Err(OfficeRefused::Failed("nobody charges here".into()))
}

fn world_of(job: &str) -> (World, String) {
    let office = Office {
        file: no_file,
        agree: no_consent,
        engagement: no_engagement,
        name_seller: no_seller,
        releases: office(),
        again: super::again::OFFICE,
        words: super::desk_words::WORDS,
    };
    let world = World::with_office(Some(office));
    world.store.create_job(&JobId::new(job).unwrap(), "a trailer").unwrap();
    let key = world.device("a");
    (world, key)
}

fn path(job: &str, rest: &str) -> String {
    format!("/v1/jobs/{job}/{rest}")
}

fn terms() -> Value {
    json!({
        "head": 3, "key": "abc", "passphrase": PASSPHRASE,
        "accepted": [{"matter": "nobody settled the tyres", "words": "told to the client"}],
    })
}

/// A release asked for at the server's own machine.
fn released(job: &str, key: &str, terms: &Value) -> Ask {
    ask("POST", &path(job, "releases")).key(key).json(terms.to_string()).from("127.0.0.1")
}

async fn get(world: &World, key: &str, path: &str) -> Answer {
    world.send(ask("GET", path).key(key)).await
}

#[tokio::test]
async fn a_paired_device_sees_what_is_open_and_releases() {
    let (world, key) = world_of("released");
    let standing = get(&world, &key, &path("released", "releases")).await;
    assert_eq!(standing.status, StatusCode::OK);
    assert_eq!(standing.json()["matters"][0]["about"], "tyres");
    assert_eq!(standing.headers["cache-control"], "no-store");
    let released = world.send(released("released", &key, &terms())).await;
    assert_eq!(released.status, StatusCode::OK, "{}", released.text());
    assert_eq!(released.json()["number"], 2);
    let wanted = WANTED.lock().unwrap();
    let (_, wanted) = wanted.iter().find(|(job, _)| job == "released").unwrap();
    let accepted = AcceptedMatter {
        matter: "nobody settled the tyres".into(),
        words: "told to the client".into(),
    };
    assert_eq!(wanted.accepted, [accepted]);
    assert!(!format!("{wanted:?}").contains("seven"), "a passphrase is never written");
}

#[tokio::test]
async fn what_stands_against_a_release_is_said_by_its_reason() {
    let (world, key) = world_of("refused");
    let with = |name: &str, value: Value| {
        let mut terms = terms();
        terms[name] = value;
        terms
    };
    let mut without = terms();
    without.as_object_mut().unwrap().remove("head");
    let tries = [
        (with("passphrase", json!("another")), 422, "wrong_passphrase"),
        (with("accepted", json!([])), 409, "open_matters"),
        (with("head", json!(2)), 409, "changed"),
        (with("paper", json!("parchment")), 422, "not_released"),
        (with("colour", json!("red")), 400, "unreadable"),
        (without, 400, "unreadable"),
    ];
    for (terms, status, reason) in tries {
        let answer = world.send(released("refused", &key, &terms)).await;
        assert_eq!(answer.status, status, "{reason}: {}", answer.text());
        assert_eq!(answer.reason(), reason);
        assert!(!answer.text().contains("another"), "{}", answer.text());
        if reason == "open_matters" {
            assert_eq!(answer.json()["matters"][0]["matter"], "nobody settled the tyres");
        }
    }
    // A passphrase in the wrong place is not sent back.
    let odd = json!({"head": PASSPHRASE, "key": "abc", "passphrase": 5}).to_string();
    let odd = ask("POST", &path("refused", "releases")).key(&key).json(odd).from("127.0.0.1");
    let answer = world.send(odd).await;
    assert_eq!(answer.reason(), "unreadable");
    assert!(!answer.text().contains("seven"), "{}", answer.text());
    // Nothing is left under way.
    let progress = get(&world, &key, &path("refused", "releasing")).await.json();
    assert_eq!(progress, json!({ "step": null }));
}

#[tokio::test]
async fn a_passphrase_is_taken_over_a_private_line_alone() {
    let (world, key) = world_of("private");
    let from_elsewhere = released("private", &key, &terms()).from("192.168.1.30");
    let answer = world.send(from_elsewhere).await;
    assert_eq!((answer.status.as_u16(), answer.reason().as_str()), (403, "not_private"));
    assert!(WANTED.lock().unwrap().iter().all(|(job, _)| job != "private"));
}

#[tokio::test]
async fn a_device_has_a_few_tries_and_others_are_not_held_up() {
    let (world, key) = world_of("tries");
    let mut wrong = terms();
    wrong["passphrase"] = json!("a guess");
    for _ in 0..10 {
        let answer = world.send(released("tries", &key, &wrong)).await;
        assert_eq!(answer.reason(), "wrong_passphrase");
    }
    let patience = world.send(released("tries", &key, &terms())).await;
    assert_eq!(patience.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(patience.headers.contains_key("retry-after"));
    assert!(patience.text().contains("nothing was released"), "{}", patience.text());
    let other = world.device("b");
    assert_eq!(world.send(released("tries", &other, &terms())).await.status, StatusCode::OK);
    // All devices together have an end, too.
    let mut taken = 11;
    for device in ["c", "d", "e"] {
        let key = world.device(device);
        for _ in 0..10 {
            taken += usize::from(world.send(released("tries", &key, &wrong)).await.status == 422);
        }
    }
    assert_eq!(taken, 30);
}

#[tokio::test]
async fn what_was_released_is_handed_out_as_files_that_do_nothing() {
    let (world, key) = world_of("files");
    let report = get(&world, &key, &path("files", "releases/1/report.pdf")).await;
    assert_eq!((report.status, report.text().as_str()), (StatusCode::OK, "%PDF-1.7"));
    assert_eq!(report.headers["content-type"], "application/pdf");
    let bag = get(&world, &key, &path("files", "releases/1/bag.zip")).await;
    assert_eq!((bag.status, bag.bytes.len()), (StatusCode::OK, 600 * 1024));
    for file in [&report, &bag] {
        let policy = file.headers["content-security-policy"].to_str().unwrap();
        assert!(policy.starts_with("sandbox"), "{policy}");
    }
    let since = get(&world, &key, &path("files", "releases/1/since")).await.json();
    assert_eq!(since["differences"][0]["key"], "tow");
    for rest in ["report.pdf", "bag.zip", "since"] {
        for number in ["2", "-1", "x"] {
            let path = path("files", &format!("releases/{number}/{rest}"));
            assert_eq!(get(&world, &key, &path).await.reason(), "no_such_release", "{path}");
        }
    }
    let damaged = world_of("damaged");
    for rest in ["releases", "releases/1/bag.zip"] {
        let answer = get(&damaged.0, &damaged.1, &path("damaged", rest)).await;
        assert_eq!((answer.status.as_u16(), answer.reason().as_str()), (422, "not_released"));
    }
}

#[tokio::test]
async fn a_clients_page_gets_an_address_is_listed_and_shut() {
    let (world, key) = world_of("shared");
    let made =
        |body: Value| ask("POST", &path("shared", "shares")).key(&key).json(body.to_string());
    let answer = world.send(made(json!({"release": 1, "days": 14}))).await;
    assert_eq!(answer.json()["address"], "http://x/c/14/", "{}", answer.text());
    let changed = world.send(made(json!({"release": 2, "days": 14}))).await;
    assert_eq!(changed.reason(), "changed");
    for days in [0, 4000] {
        let answer = world.send(made(json!({"release": 1, "days": days}))).await;
        assert_eq!(answer.reason(), "not_released", "{days}");
    }
    // Links of the page and of the agreement of this job, and one of another job.
    world.store.create_job(&JobId::new("other").unwrap(), "a van").unwrap();
    let page = LeadsTo::Page { after_payment: true };
    for (secret, job, leads_to) in
        [(1, "shared", page), (2, "shared", LeadsTo::Agreement), (3, "other", page)]
    {
        let link = NewClientLink {
            secret_sha256: client_secret_sha256([secret; 24]),
            job: &JobId::new(job).unwrap(),
            leads_to,
            now_ms: clock::unix_ms(),
            expires_ms: clock::unix_ms() + DAY_MS,
            files: &[],
        };
        world.store.add_client_link(link).unwrap();
    }
    let listed = get(&world, &key, &path("shared", "shares")).await.json();
    let shares = listed["shares"].as_array().unwrap();
    assert_eq!(shares.len(), 1, "{listed}");
    assert_eq!((&shares[0]["good"], &shares[0]["waits"]), (&json!(true), &json!(true)));
    let all = world.store.client_links().unwrap();
    for link in &all {
        let ours = link.job.as_str() == "shared" && link.leads_to == page;
        let shut = ask("DELETE", &path("shared", &format!("shares/{}", link.id))).key(&key);
        let answer = world.send(shut).await;
        assert_eq!(answer.status == 200, ours, "{}", answer.text());
        if !ours {
            assert_eq!(answer.reason(), "no_such_share");
        }
    }
    let listed = get(&world, &key, &path("shared", "shares")).await.json();
    assert_eq!(listed["shares"][0]["good"], false, "{listed}");
}

#[tokio::test]
async fn a_device_of_another_job_and_a_server_without_an_office_release_nothing() {
    let (world, key) = world_of("theirs");
    let other = world.device_for("b", "mine");
    let answer = world.send(released("theirs", &other, &terms())).await;
    assert_eq!(answer.reason(), "no_such_job");
    let shared =
        ask("POST", &path("theirs", "shares")).key(&other).json(r#"{"release":1,"days":3}"#);
    assert_eq!(world.send(shared).await.reason(), "no_such_job");
    let nowhere = world.send(released("nowhere", &key, &terms())).await;
    assert_eq!(nowhere.reason(), "no_such_job");
    assert!(WANTED.lock().unwrap().iter().all(|(job, _)| job != "theirs" && job != "nowhere"));
    let without = World::new();
    without.store.create_job(&JobId::new("theirs").unwrap(), "a trailer").unwrap();
    let key = without.device("a");
    assert_eq!(without.send(released("theirs", &key, &terms())).await.reason(), "no_releases");
}
