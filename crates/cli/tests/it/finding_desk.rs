//! Findings worded, merged and given evidence; stock sentences; remarks on texts; what is missing.

use serde_json::json;

use crate::program::Nearside;

const HIGH: &str = "regulator_lockup/lockup_high";

fn finding(program: &Nearside, arguments: &[&str]) -> crate::program::Run {
    program.run(&[&["finding", "2026-001"], arguments].concat())
}

fn read_high(program: &Nearside) {
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O"]).text();
    program.run(&["point", "2026-001", "cladding", "--found", "puncture"]).text();
}

#[test]
fn a_finding_is_worded_with_a_sentence_of_ones_own() {
    let program = Nearside::with_job();
    read_high(&program);
    let said = program.run(&["sentence"]).text();
    assert!(said.contains("no sentences yet"), "{said}");
    let text = "Keep the gas shut until {who} has seen the {point} in {month}.";
    program.run(&["sentence", "add", "gas-off", text]).text();
    program.run(&["sentence", "add", "dry", "It was dry."]).text();
    let listed = program.run(&["sentence", "list", "--json"]).json();
    assert_eq!(listed[0]["gaps"], json!(["who", "point", "month"]));
    assert!(program.data().join("sentences.json").exists());

    let said = finding(&program, &["edit", HIGH, "--sentence", "gas-off"]).refused();
    assert!(said.contains("has gaps left: month"), "{said}");
    let said = finding(&program, &["edit", HIGH, "--sentence", "gas_off"]).refused();
    assert!(said.contains("the nearest: gas-off"), "{said}");
    finding(&program, &["edit", HIGH, "--sentence", "gas-off", "--with", "month=June"]).text();
    let shown = finding(&program, &["show", HIGH, "--json"]).json();
    let statement = shown["statement"].as_str().unwrap();
    assert!(statement.starts_with(shown["drafted_statement"].as_str().unwrap()), "{statement}");
    assert!(statement.contains("Keep the gas shut until "), "{statement}");
    assert!(statement.ends_with(" in June."), "{statement}");
    assert_eq!(shown["standing"], "drafted; nobody decided yet");
    // Emptied, the drafted statement stands again.
    finding(&program, &["edit", HIGH, "--statement", "", "--when", "in time", "--stops", "none"])
        .text();
    let shown = finding(&program, &["show", HIGH, "--json"]).json();
    assert_eq!(shown["statement"], shown["drafted_statement"]);
    assert_eq!((&shown["when"], &shown["stops"]), (&json!("in time"), &json!([])));
    let said = finding(&program, &["edit", HIGH]).refused();
    assert!(said.contains("nothing is to be changed"), "{said}");
    program.run(&["sentence", "remove", "dry"]).text();
    let said = program.run(&["sentence", "remove", "dry"]).refused();
    assert!(said.contains("no sentence is called `dry`"), "{said}");
}

#[test]
fn a_file_of_sentences_that_cannot_be_read_is_said_and_left_as_it_is() {
    let program = Nearside::with_job();
    let file = program.data().join("sentences.json");
    std::fs::write(&file, "{\"sentences\": [{\"name\": 3}]}").unwrap();
    let said = program.run(&["sentence", "add", "a", "A."]).refused();
    assert!(said.contains("sentence 1: `name` is no text"), "{said}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "{\"sentences\": [{\"name\": 3}]}");
}

#[test]
fn two_findings_become_one_and_part_again() {
    let program = Nearside::with_job();
    read_high(&program);
    finding(&program, &["merge", "cladding/puncture", HIGH]).text();
    let said = finding(&program, &["list"]).text();
    assert!(said.contains("merged: ") && said.contains(&format!("a part of {HIGH}")), "{said}");
    let listed = finding(&program, &["list", "--json"]).json();
    assert_eq!(listed.as_array().unwrap().len(), 1);
    assert_eq!(listed[0]["merged"], json!(["cladding/puncture"]));
    let said = finding(&program, &["edit", "cladding/puncture", "--who", "x"]).refused();
    assert!(said.contains("is a part of another"), "{said}");
    finding(&program, &["unmerge", "cladding/puncture"]).text();
    assert_eq!(finding(&program, &["list", "--json"]).json().as_array().unwrap().len(), 2);
    let said = finding(&program, &["merge", HIGH, "cladding/punkture"]).refused();
    assert!(said.contains("the nearest: cladding/puncture"), "{said}");
}

#[test]
fn a_finding_of_ones_own_begins_with_what_its_point_says_and_is_given_evidence() {
    let program = Nearside::with_job();
    read_high(&program);
    finding(&program, &["add", "--point", "regulator_lockup", "--title", "Rust on the regulator"])
        .text();
    let listed = finding(&program, &["list", "--json"]).json();
    let own = listed
        .as_array()
        .unwrap()
        .iter()
        .find(|one| one["title"] == "Rust on the regulator")
        .unwrap();
    let drafted = listed.as_array().unwrap().iter().find(|one| one["key"] == HIGH).unwrap();
    assert_eq!((&own["who"], &own["when"]), (&drafted["who"], &drafted["when"]));
    let key = own["key"].as_str().unwrap();
    let missing = program.run(&["missing", "2026-001", "--json"]).json();
    let group = |word: &str| {
        let groups = missing["groups"].as_array().unwrap();
        groups.iter().find(|group| group["what"] == word).unwrap().clone()
    };
    let without = group("no_evidence");
    assert!(
        without["missing"].as_array().unwrap().iter().any(|one| one["go_to"]["finding"] == key),
        "{without}"
    );
    let said = finding(&program, &["attach", key, "--reading", "regulator_lockup.lock"]).refused();
    assert!(said.contains("regulator_lockup.lockup"), "{said}");
    finding(&program, &["attach", key, "--reading", "regulator_lockup.lockup"]).text();
    let shown = finding(&program, &["show", key, "--json"]).json();
    assert_eq!(shown["readings"].as_array().unwrap().len(), 1);
    let said = finding(&program, &["show", key]).text();
    assert!(said.contains("reading: Lock-up pressure: 15.20 inH2O"), "{said}");
    let said =
        finding(&program, &["detach", HIGH, "--reading", "regulator_lockup.lockup"]).refused();
    assert!(said.contains("brought the finding up"), "{said}");
    finding(&program, &["detach", key, "--reading", "regulator_lockup.lockup"]).text();
    assert_eq!(finding(&program, &["show", key, "--json"]).json()["no_evidence"], true);
}

#[test]
fn texts_that_promise_or_come_from_another_job_are_remarked_and_stop_nothing() {
    let program = Nearside::with_job();
    let new = [
        "job",
        "new",
        "--number",
        "2026-002",
        "--client",
        "Ann Quillfeather",
        "--maker",
        "Wayfarer",
    ];
    program.run(&new).text();
    read_high(&program);
    let said = finding(&program, &["check"]).text();
    assert!(said.contains("no remarks"), "{said}");
    finding(
        &program,
        &["edit", HIGH, "--statement", "Mrs. Quillfeather can be sure that it is safe."],
    )
    .text();
    let said = finding(&program, &["check"]).text();
    assert!(said.contains("“safe” promises that it is safe, and no inspection can"), "{said}");
    assert!(
        said.contains("“Quillfeather” is the client of job 2026-002; is it left over?"),
        "{said}"
    );
    assert_eq!(finding(&program, &["check", "--json"]).json().as_array().unwrap().len(), 2);
    let said = finding(&program, &["show", HIGH]).text();
    assert!(said.contains("remark: statement: “safe” promises"), "{said}");
}

#[test]
fn what_is_missing_is_grouped_and_says_what_would_decide() {
    let program = Nearside::with_job();
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "14.05 inH2O"]).text();
    let missing = program.run(&["missing", "2026-001", "--json"]).json();
    let undecided = missing["groups"]
        .as_array()
        .unwrap()
        .iter()
        .find(|group| group["what"] == "undecided")
        .unwrap()["missing"]
        .clone();
    assert_eq!(undecided[0]["go_to"]["point"], "regulator_lockup");
    let decides = &undecided[0]["decides"];
    assert_eq!(decides["verdict"], "does not conform");
    let needed = decides["needed"].as_f64().unwrap();
    assert!((needed - 0.05).abs() < 1e-9, "{needed}");
    let said = program.run(&["missing", "2026-001"]).text();
    assert!(said.contains("verdicts that are undecided: 1"), "{said}");
    assert!(said.contains("known to ± 0.049 inH2O or better it would not conform"), "{said}");
    assert!(said.contains("nearside read 2026-001 regulator_lockup lockup"), "{said}");
    assert!(said.contains("points with nothing entered: "), "{said}");
}
