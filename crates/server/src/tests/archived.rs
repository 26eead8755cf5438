//! All jobs together at the desk: who is told, what is counted, and tables that are sent while they are written.

use archive::{Archive, Derived, FindingSeen, PointOutcome, PointRow};
use axum::http::StatusCode;
use inspection::DwellingKind;
use serde_json::{Value, json};
use store::{JobId, LogHead};

use super::wire::fits;
use super::{World, ask};
use crate::openapi;

/// Twelve trailers and one home: at one point something was found in every third trailer and in the home.
fn world() -> (World, String) {
    let world = World::new();
    let archive = Archive::open(&world.store).unwrap();
    let jobs = (0..13_u32).map(|number| {
        let job = JobId::new(&format!("J-{number:02}")).unwrap();
        let mut derived = Derived::default();
        derived.job.job = job.as_str().to_owned();
        derived.job.kind =
            if number == 12 { DwellingKind::ManufacturedHome } else { DwellingKind::TravelTrailer };
        derived.job.region = "US-VT".to_owned();
        derived.job.maker = "=1+1".to_owned();
        derived.job.visited = format!("2026-06-{:02}", number + 1).parse().ok();
        derived.client = "A. Client".to_owned();
        let point = |point: &str, outcome, finding| PointRow {
            point: point.to_owned(),
            outcome,
            finding,
            ..PointRow::default()
        };
        let found = if number % 3 == 0 { FindingSeen::Confirmed } else { FindingSeen::None };
        derived.points = vec![
            point("tyres", PointOutcome::Examined, found),
            point("taps", PointOutcome::NotExamined, FindingSeen::None),
        ];
        (LogHead { job, seq: 1, hash: [7; 32] }, derived)
    });
    archive.take_in(jobs.collect()).unwrap();
    let key = world.device("desk");
    (world, key)
}

async fn told(world: &World, key: &str, path: &str, schema: &str) -> Value {
    let answer = world.send(ask("GET", path).key(key)).await;
    assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.text());
    let document = openapi::document();
    fits(&answer.json(), &document["components"]["schemas"][schema], &document).unwrap();
    answer.json()
}

#[tokio::test]
async fn jobs_are_listed_and_counted_as_the_archive_does() {
    let (world, key) = world();
    let choices = told(&world, &key, "/v1/archive", "ArchiveChoices").await;
    assert_eq!((&choices["jobs"], &choices["regions"]), (&json!(13), &json!(["US-VT"])));
    let path = "/v1/archive/jobs?kind=travel_trailer&from=2026-06-03&after=2&most=3";
    let jobs = told(&world, &key, path, "ArchivedJobs").await;
    assert_eq!(jobs["jobs"], 10);
    let listed: Vec<&Value> =
        jobs["listed"].as_array().unwrap().iter().map(|job| &job["job"]).collect();
    assert_eq!(listed, ["J-09", "J-08", "J-07"], "the latest visit first");

    let all = told(&world, &key, "/v1/archive/figures", "ArchiveFigures").await;
    assert_eq!((&all["lines"], &all["never_examined"]), (&json!(1), &json!(1)));
    let line = &all["figures"][0];
    assert_eq!((&line["part"], &line["examined"]), (&json!(5), &json!(13)));
    assert_eq!(line["percent"], json!(["38", "18", "64"]));
    assert_eq!(all["axis"], json!({"end": 1.0, "steps": 5}));
    let path = "/v1/archive/figures?per=kind&of=found&most=1";
    let kinds = told(&world, &key, path, "ArchiveFigures").await;
    assert_eq!((&kinds["lines"], kinds["figures"].as_array().unwrap().len()), (&json!(2), 1));
    let path = "/v1/archive/figures?kind=manufactured_home&of=held";
    let home = told(&world, &key, path, "ArchiveFigures").await;
    let line = &home["figures"][0];
    assert_eq!(
        (&line["part"], &line["examined"], &line["percent"]),
        (&json!(0), &json!(1), &Value::Null)
    );
    assert_eq!(line["too_few"], true);
}

#[tokio::test]
async fn what_cannot_be_asked_is_refused_in_a_sentence() {
    let (world, key) = world();
    for (path, status, reason) in [
        ("jobs?kind=boat", 422, "no_kind"),
        ("jobs?age=7", 422, "no_age"),
        ("jobs?from=June", 422, "no_day"),
        ("jobs?from=2026-02-01&to=2026-01-01", 422, "turned_days"),
        ("jobs?knd=boat", 400, "unreadable"),
        ("jobs?after=many", 400, "unreadable"),
        ("figures?point=wings", 422, "no_point"),
        ("figures?per=colour", 422, "no_group"),
        ("figures?of=money", 422, "no_count"),
        ("export/wings.csv", 404, "no_such_table"),
        ("export/jobs.xlsx", 404, "no_such_table"),
        ("export/figures.csv?point=wings", 422, "no_point"),
    ] {
        let refused = world.send(ask("GET", &format!("/v1/archive/{path}")).key(&key)).await;
        let got = (refused.status.as_u16(), refused.reason());
        assert_eq!((got.0, got.1.as_str()), (status, reason), "{path}");
    }
}

#[tokio::test]
async fn tables_are_what_is_shown_and_name_no_client() {
    let (world, key) = world();
    let table = async |path: &str, kind: &str| {
        let answer = world.send(ask("GET", &format!("/v1/archive/export/{path}")).key(&key)).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
        assert_eq!(answer.headers["content-type"], kind, "{path}");
        assert_eq!(answer.headers["content-disposition"], "attachment");
        assert!(!answer.bytes.windows(9).any(|it| it == b"A. Client"), "{path}");
        answer.bytes
    };
    let csv = "text/csv; charset=utf-8";
    let lines = async |path: &str| {
        let bytes = table(path, csv).await;
        String::from_utf8(bytes).unwrap().lines().map(str::to_owned).collect::<Vec<_>>()
    };
    let jobs = lines("jobs.csv?to=2026-06-02").await;
    assert_eq!(jobs.len(), 3, "a heading and two jobs");
    assert!(jobs[1].starts_with("J-00,travel_trailer,'=1+1,"), "no formula: {jobs:?}");
    let points = lines("points.csv?kind=manufactured_home").await;
    assert_eq!(
        points[1..],
        ["J-12,tyres,examined,none,confirmed,", "J-12,taps,not examined,none,none,"]
    );
    let figures = lines("figures.csv?kind=travel_trailer").await;
    assert!(figures[1].starts_with("tyres,,,,,12,12,0,0,4,0,0,0,0.333"), "{figures:?}");
    assert_eq!(figures.len(), 2, "what was never examined is left out");
    for path in ["jobs.parquet", "points.parquet", "figures.parquet?per=kind,age,region"] {
        let bytes = table(path, "application/vnd.apache.parquet").await;
        assert!(bytes.starts_with(b"PAR1") && bytes.ends_with(b"PAR1"), "{path}");
    }
    let none = lines("figures.csv?region=ES").await;
    assert_eq!(none.len(), 1);
    table("figures.parquet?region=ES", "application/vnd.apache.parquet").await;
}

#[tokio::test]
async fn nobody_is_told_who_was_not_let_in_for_all_jobs() {
    let (world, _) = world();
    let removed = world.device("removed");
    world.store.remove_device("removed", 5).unwrap();
    world.store.create_job(&JobId::new("J-00").unwrap(), "").unwrap();
    let one = world.device_for("one", "J-00");
    for path in ["", "/jobs", "/figures", "/export/jobs.csv", "/export/none.csv"] {
        let path = format!("/v1/archive{path}");
        let stranger = world.send(ask("GET", &path)).await;
        assert_eq!(stranger.reason(), "not_paired", "{path}");
        for (key, reason) in [(&removed, "device_removed"), (&one, "one_job")] {
            assert_eq!(world.send(ask("GET", &path).key(key)).await.reason(), reason, "{path}");
        }
    }
}
