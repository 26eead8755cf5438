//! Single readings: judged at once, struck out with a reason, kept when two programs write together.

use serde_json::json;

use crate::program::Nearside;

#[test]
fn a_reading_tells_its_verdict_with_limit_and_source() {
    let program = Nearside::with_job();
    let read = |value: &str| {
        program.run(&["read", "2026-001", "regulator_lockup", "lockup", value]).text()
    };
    let said = read("15.2 inH2O");
    assert!(said.contains("Lock-up pressure: 15.20 inH2O ± 0.20 inH2O"), "{said}");
    assert!(said.contains("does not conform: at most 14 inH2O"), "{said}");
    assert!(said.contains("3280.704(a)(2)"), "{said}");
    let said = read("11.2 inH2O");
    assert!(said.contains("conforms: at most 14 inH2O"), "{said}");
    assert!(said.contains("read 2 times; the last one counts"), "{said}");
}

#[test]
fn a_struck_out_reading_stays_in_the_record_and_no_longer_counts() {
    let program = Nearside::with_job();
    let read = program
        .run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O", "--json"])
        .json();
    assert_eq!(read["values"][0]["judgements"][0]["verdict"], "does not conform");
    let id = read["reading"].as_str().unwrap();
    program.run(&["read", "2026-001", "--strike", id, "--reason", "gauge not zeroed"]).text();
    let inspection = program.inspection();
    let struck = inspection.readings[id].struck_out.clone().unwrap();
    assert_eq!((struck.reason.as_str(), struck.by.as_str()), ("gauge not zeroed", "B. Inspector"));
    let assessed = program.run(&["assess", "2026-001", "--json"]).json();
    assert_eq!(assessed["values"], json!([]));
    let said = program.run(&["read", "2026-001", "--strike", id, "--reason", "again"]).refused();
    assert!(said.contains("is struck out already, by B. Inspector: gauge not zeroed"), "{said}");
}

#[test]
fn what_the_plan_does_not_accept_is_refused_and_not_kept() {
    let program = Nearside::with_job();
    let changes = program.changes();
    let refused =
        |arguments: &[&str]| program.run(&[&["read", "2026-001"], arguments].concat()).refused();
    let said = refused(&["regulator_lockup", "lockup", "15.2 V"]);
    assert!(said.contains("Lock-up pressure"), "{said}");
    let said = refused(&["tyres", "tread", "6/32 in"]);
    assert!(said.contains("hint: name one with --position: left_front"), "{said}");
    let said = refused(&["tyres", "tread", "6/32 in", "--position", "left_frunt"]);
    assert!(said.contains("hint: the nearest: left_front"), "{said}");
    let said = refused(&["regulator_lockup", "lockup", "11 inH2O", "--with", "gauge"]);
    assert!(said.contains("no instrument is called `gauge`"), "{said}");
    let said = refused(&["regulator_lockup", "lockup", "11 inH2O", "--at", "noon"]);
    assert!(said.contains("--at: "), "{said}");
    assert_eq!(program.changes(), changes);
}

#[test]
fn two_programs_that_read_at_once_both_keep_their_readings() {
    let program = Nearside::with_job();
    let positions = ["left_front", "right_front", "left_rear", "right_rear", "spare"];
    let children: Vec<_> = positions
        .iter()
        .flat_map(|position| {
            ["tread", "pressure"].map(|name| {
                let value = if name == "tread" { "6/32 in" } else { "50 psi" };
                program
                    .command(&["read", "2026-001", "tyres", name, value, "--position", position])
                    .stdout(std::process::Stdio::null())
                    .spawn()
                    .unwrap()
            })
        })
        .collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    assert_eq!(program.inspection().readings.len(), 10);
}

#[test]
fn two_jobs_made_at_once_get_two_numbers() {
    let program = Nearside::new();
    let children: Vec<_> = (0..4)
        .map(|_| {
            program
                .command(&["job", "new", "--visit", "2026-06-12"])
                .stdout(std::process::Stdio::null())
                .stderr(std::process::Stdio::null())
                .spawn()
                .unwrap()
        })
        .collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    let list = program.run(&["job", "list", "--json"]).json();
    let numbers: Vec<_> = list.as_array().unwrap().iter().map(|job| job["job"].clone()).collect();
    assert_eq!(numbers, ["2026-001", "2026-002", "2026-003", "2026-004"]);
}

#[test]
fn a_point_is_settled_and_a_finding_decided_from_the_command_line() {
    let program = Nearside::with_job();
    program.run(&["point", "2026-001", "cladding", "--found", "puncture"]).text();
    program.run(&["point", "2026-001", "smoke_alarm", "--not-examined", "locked"]).text();
    let said = program.run(&["point", "2026-001", "windows"]).refused();
    assert!(said.contains("nothing says what became of it"), "{said}");
    program.run(&["finding", "2026-001", "confirm", "cladding/puncture"]).text();
    program
        .run(&[
            "finding",
            "2026-001",
            "add",
            "--title",
            "Wasps",
            "--stops",
            "gas,stay",
            "--when",
            "before use",
            "--who",
            "owner",
        ])
        .text();
    let findings = program.run(&["finding", "2026-001", "--json"]).json();
    let all = findings.as_array().unwrap();
    assert_eq!(all.len(), 2, "{findings}");
    let own = all.iter().find(|finding| finding["title"] == "Wasps").unwrap();
    assert_eq!(own["stops"], json!(["gas", "stay"]));
    let id = own["key"].as_str().unwrap().to_owned();
    program.run(&["finding", "2026-001", "withdraw", &id, "--reason", "flies"]).text();
    program.run(&["point", "2026-001", "cladding", "--not-found", "puncture"]).text();
    let said = program.run(&["finding", "2026-001"]).text();
    assert!(said.contains("withdrawn: Wasps"), "{said}");
    let shown = program.run(&["job", "show", "2026-001", "--json"]).json();
    assert_eq!(shown["not_examined"], 1);
    assert_eq!(shown["findings_withdrawn"], 1);
}
