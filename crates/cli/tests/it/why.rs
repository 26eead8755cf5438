//! Why a verdict is what it is: the steps in words and as data, and what would do where a name leads nowhere.

use crate::program::Nearside;

#[test]
fn a_verdict_is_explained_from_what_was_typed_to_its_sentence() {
    let program = Nearside::with_job();
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O"]).text();
    let said = program.run(&["why", "2026-001", "regulator_lockup", "lockup"]).text();
    for part in
        ["typed: `15.2 inH2O`", "3280.704(a)(2)", "verdict: does not conform", "it stops gas"]
    {
        assert!(said.contains(part), "`{part}` is not in\n{said}");
    }
    let data = program.run(&["why", "2026-001", "regulator_lockup", "lockup", "--json"]).json();
    assert_eq!(data["value"]["typed"], "15.2 inH2O");
    let judged: Vec<&serde_json::Value> = data["limits"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|limit| limit["verdict"] == "does not conform")
        .collect();
    assert!(!judged.is_empty(), "{data}");
    assert_eq!(judged[0]["follows"]["stops"], serde_json::json!(["gas"]));
}

#[test]
fn a_name_that_leads_nowhere_is_answered_with_what_would_do() {
    let program = Nearside::with_job();
    let refused =
        |arguments: &[&str]| program.run(&[&["why", "2026-001"], arguments].concat()).refused();
    let said = refused(&["regulator_lockop", "lockup"]);
    assert!(
        said.contains("no point `regulator_lockop`") && said.contains("regulator_lockup"),
        "{said}"
    );
    let said = refused(&["regulator_lockup", "lokup"]);
    assert!(said.contains("the nearest: lockup"), "{said}");
    let said = refused(&["regulator_lockup", "lockup"]);
    assert!(said.contains("nothing was entered"), "{said}");
    program
        .run(&["read", "2026-001", "tyres", "tread", "6/32 in", "--position", "left_front"])
        .text();
    program
        .run(&["read", "2026-001", "tyres", "tread", "5/32 in", "--position", "left_rear"])
        .text();
    let said = refused(&["tyres", "tread"]);
    assert!(said.contains("hint: name one with --position: left_front, left_rear"), "{said}");
}
