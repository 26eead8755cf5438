//! A unit inspected again: findings carried, marked, reported with photos of then and now, packed and taken in elsewhere.

use std::process::Command;

use serde_json::json;

use crate::bags::{files, with_photo};
use crate::program::{Nearside, Run};
use crate::serve::Serving;

const NEW: &str = "2026-009";

fn finding(program: &Nearside, arguments: &[&str]) -> Run {
    program.run(&[&["finding", NEW], arguments].concat())
}

fn photo(program: &Nearside, job: &str, shot: usize, point: &str) {
    let jpeg = demo::photos::draw(&demo::shots()[shot].1).unwrap();
    let file = program.write(&format!("camera/{job}-{shot}.jpg"), jpeg);
    program.run(&["photo", job, &file, "--point", point]).text();
}

/// A job with three findings, each with a photo, and the job that inspects the unit again.
fn again() -> Nearside {
    let program = with_photo();
    photo(&program, "2026-001", 0, "regulator_lockup");
    photo(&program, "2026-001", 1, "cladding");
    program.run(&["point", "2026-001", "cladding", "--found", "puncture"]).text();
    let own = ["finding", "2026-001", "add", "--title", "Wasps in the vent", "--stops", "stay"];
    program.run(&own).text();
    program.run(&["job", "again", "2026-001", NEW, "--visit", "2026-08-03"]).text();
    program
}

fn key_of(program: &Nearside, title: &str) -> String {
    let assessed = program.run(&["assess", NEW, "--json"]).json();
    let carried = assessed["carried"].as_array().unwrap().clone();
    let one = carried.iter().find(|one| one["title"].as_str().unwrap().contains(title));
    one.unwrap_or_else(|| panic!("{carried:?}"))["finding"].as_str().unwrap().to_owned()
}

fn held(program: &Nearside, which: &str) -> bool {
    let assessed = program.run(&["assess", NEW, "--json"]).json();
    let uses = assessed["uses"].as_array().unwrap();
    uses.iter().find(|one| one["use"] == which).unwrap()["state"] == "held"
}

fn words_of(pdf: &std::path::Path) -> String {
    let output = Command::new("pdftotext").arg("-layout").arg(pdf).arg("-").output();
    let output = output.unwrap_or_else(|error| {
        panic!("this test needs the program `pdftotext` (package poppler-utils): {error}")
    });
    let text = String::from_utf8(output.stdout).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_job_made_again_carries_what_stands_and_asks_for_each() {
    let program = again();
    let inspection = Nearside::inspection_of(&program, NEW);
    let earlier = inspection.job.earlier.clone().unwrap();
    assert_eq!((earlier.number.as_str(), earlier.heads.len()), ("2026-001", 1));
    assert_eq!(earlier.visited.unwrap().to_string(), "2026-06-12");
    assert_eq!(inspection.job.client.name, "A. Client");
    assert!(inspection.readings.is_empty() && inspection.points.is_empty());
    assert_eq!(inspection.findings.len(), 3);
    assert!(inspection.photos.values().all(|photo| photo.earlier == "2026-001"));
    assert!(held(&program, "gas") && held(&program, "stay"));
    let missing = program.run(&["missing", NEW, "--json"]).json();
    let groups = missing["groups"].as_array().unwrap();
    let open = groups.iter().find(|group| group["what"] == "not_rechecked").unwrap();
    assert_eq!(open["count"], 3);
    let said = program.run(&["missing", NEW]).text();
    assert!(said.contains("recheck carried-1 corrected|not-corrected|not-seen"), "{said}");

    let gas = key_of(&program, "lock");
    let said = finding(&program, &["recheck", &gas, "not-seen"]).refused();
    assert!(said.contains("why was it not seen?"), "{said}");
    let said = finding(&program, &["recheck", &gas, "corrected", "--reason", "x"]).refused();
    assert!(said.contains("--reason says why a finding was not seen"), "{said}");
    finding(&program, &["recheck", &gas, "corrected"]).text();
    assert!(!held(&program, "gas") && held(&program, "stay"));
    finding(&program, &["recheck", &gas, "open"]).text();
    assert!(held(&program, "gas"));
    let said = program.run(&["job", "again", "2026-001", NEW]).refused();
    assert!(said.contains("there is a job 2026-009 already"), "{said}");
    let said = program.run(&["job", "again", "2026-001", "--plan", "purchse"]).refused();
    assert!(said.contains("the nearest: purchase"), "{said}");
    let anew = program.run(&["job", "again", "2026-001", "--plan", "purchase", "--json"]).json();
    assert_eq!((&anew["carried"], &anew["earlier"]), (&json!(3), &json!("2026-001")));
}

#[test]
fn the_report_tells_the_difference_and_the_bag_of_the_new_job_proves_it_alone() {
    let program = again();
    let wasps = key_of(&program, "Wasps");
    finding(&program, &["recheck", &key_of(&program, "lock"), "corrected"]).text();
    finding(&program, &["recheck", &wasps, "not-seen", "--reason", "the vent was covered"]).text();
    let cladding = inspection_key(&program);
    finding(&program, &["recheck", &cladding, "not-corrected"]).text();
    photo(&program, NEW, 3, "cladding");
    photo(&program, NEW, 4, "regulator_lockup");
    program.run(&["report", NEW, "--out", "again.pdf"]).text();
    let words = words_of(&program.path("again.pdf"));
    for said in [
        "Findings of job 2026-001: 1 not corrected, 1 not seen and 1 corrected.",
        "Since the earlier inspection",
        "Not seen again: the vent was covered.",
        "Found in job 2026-001",
        "Taken for job 2026-001",
        "Heads of its record",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    program.run(&["report", NEW, "--out", "otra.pdf", "--language", "es"]).text();
    let spanish = words_of(&program.path("otra.pdf"));
    assert!(
        spanish
            .contains("Hallazgos del trabajo 2026-001: 1 sin corregir, 1 sin ver y 1 corregidos."),
        "{spanish}"
    );
    program.run(&["page", NEW, "--into", "page"]).text();
    let html = String::from_utf8(files(&program.path("page"))["index.html"].clone()).unwrap();
    for said in ["id=\"again\"", "Findings of job 2026-001", "<h4>Then</h4>", "<h4>Now</h4>"] {
        assert!(html.contains(said), "{said}");
    }

    program.run(&["export", NEW, "--into", "bag"]).text();
    let packed = files(&program.path("bag"));
    let of_then = Nearside::inspection_of(&program, NEW);
    let of_then = of_then.photos.iter().filter(|(_, photo)| !photo.earlier.is_empty());
    for (id, _) in of_then {
        assert!(packed.keys().any(|name| name.contains(id.as_str())), "{id} is not in the bag");
    }
    let elsewhere = Nearside::new();
    let bag = program.path("bag").to_str().unwrap().to_owned();
    elsewhere.run(&["verify", &bag]);
    elsewhere.run(&["job", "import", &bag]).text();
    elsewhere.run(&["report", NEW, "--out", "again.pdf"]).text();
    let bytes = |program: &Nearside| std::fs::read(program.path("again.pdf")).unwrap();
    assert!(bytes(&program) == bytes(&elsewhere), "the same record gives the same report");
}

/// The carried finding at the cladding.
fn inspection_key(program: &Nearside) -> String {
    let inspection = Nearside::inspection_of(program, NEW);
    let cladding = Some("cladding".into());
    let found = inspection.findings.iter().find(|(_, one)| one.point == cladding);
    found.unwrap().0.to_string()
}

#[test]
fn the_desk_makes_the_same_job_through_the_server() {
    let program = again();
    let serving = Serving::start(&program);
    let key = serving.paired(&program);
    let path = "/v1/jobs/2026-001/again";
    let (status, offered) = serving.ask("GET", path, &key, "");
    assert_eq!((status, &offered["findings"]), (200, &json!(3)), "{offered}");
    let number = offered["number"].as_str().unwrap().to_owned();
    assert!(number.ends_with("-010") || number.ends_with("-001"), "{number}");
    let wanted = json!({"number": "2026-012", "visit": "2026-08-03", "inspector": ""});
    let (status, made) = serving.ask("POST", path, &key, &wanted.to_string());
    assert_eq!(status, 200, "{made}");
    assert_eq!((&made["job"], &made["carried"]), (&json!("2026-012"), &json!(3)));
    assert_eq!(made["absent_photos"], json!([]));
    // But for who entered it, it is what the command made.
    let [by_command, at_desk] = [NEW, "2026-012"].map(|job| {
        let mut inspection = Nearside::inspection_of(&program, job);
        inspection.job.number.clear();
        inspection
    });
    assert_eq!(by_command.job, at_desk.job);
    assert_eq!(by_command.dwelling, at_desk.dwelling);
    assert_eq!(by_command.findings, at_desk.findings);
    assert_eq!(by_command.photos, at_desk.photos);
    assert_eq!(by_command.instruments, at_desk.instruments);

    for (wanted, reason) in [
        (json!({"number": "2026-012"}), "number_taken"),
        (json!({"number": "no number"}), "no_number"),
        (json!({"visit": "in August"}), "no_day"),
    ] {
        let (status, refused) = serving.ask("POST", path, &key, &wanted.to_string());
        assert_eq!((status, refused["reason"].as_str().unwrap()), (422, reason), "{refused}");
    }
    let other = json!({"inspector": "N. Newcomer", "credentials": "No. 7", "visit": "2031-02-03"});
    let (_, made) = serving.ask("POST", path, &key, &other.to_string());
    assert_eq!(made["job"], "2031-001", "the next free number of the visit's year");
    let job = Nearside::inspection_of(&program, "2031-001").job;
    assert_eq!((job.inspector.as_str(), job.credentials.as_str()), ("N. Newcomer", "No. 7"));
}
