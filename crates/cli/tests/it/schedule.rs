//! A visit's schedule from the command line: in words, as JSON, as a calendar, and refused.

use crate::program::Nearside;

/// Few orders tried: the tests are about what is said, not about how good it is.
const QUICK: &[&str] = &["schedule", "2026-001", "--tries", "2000"];

fn schedule(program: &Nearside, more: &[&str]) -> crate::program::Run {
    program.run(&[QUICK, more].concat())
}

#[test]
fn a_visit_is_told_in_words_with_what_it_saves_and_how_good_it_is() {
    let program = Nearside::with_job();
    let text = schedule(&program, &["--start", "08:30"]).text();
    assert!(text.contains("from 08:30 to "), "{text}");
    assert!(text.contains("best possible") || text.contains("no order finishes earlier"), "{text}");
    assert!(text.contains("against the plan's plain walking order"), "{text}");
    for part in ["\nwaits\n", "\nnote for the owner\n", "\nto bring\n", "caution: "] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let explained = schedule(&program, &["--explain"]).text();
    let leak = explained.find("Gas leak check by pressure: starts a wait of 10 min").unwrap();
    let caution = explained.find("caution: Gas is released").unwrap();
    assert!(caution < leak, "the caution stands before the act");
}

#[test]
fn json_says_the_same_every_time() {
    let program = Nearside::with_job();
    let once = schedule(&program, &["--json"]).json();
    assert_eq!(once, schedule(&program, &["--json"]).json());
    assert_eq!(once["start"], "2026-06-12T09:00:00");
    let steps = once["steps"].as_array().unwrap();
    assert!(steps.len() > 50, "{}", steps.len());
    assert!(steps.iter().all(|step| step["start"].as_str() < step["end"].as_str()));
    assert!(once["minutes_saved"].as_f64().unwrap() > 0.0);
    assert!(once["minutes_from_best_at_most"].as_f64().unwrap() >= 0.0);

    let two = schedule(&program, &["--json", "--people", "A. One,B. Two"]).json();
    assert!(two["minutes"].as_f64().unwrap() < 0.8 * once["minutes"].as_f64().unwrap());
    let second =
        two["steps"].as_array().unwrap().iter().filter(|step| step["people"][0] == "B. Two");
    assert!(second.count() > 10);
}

#[test]
fn what_was_examined_is_not_planned_again_unless_the_whole_visit_is_asked_for() {
    let program = Nearside::with_job();
    program.run(&["point", "2026-001", "gas_smell", "--examined"]).text();
    let has = |more: &[&str]| {
        let json = schedule(&program, more).json();
        json["steps"].as_array().unwrap().iter().any(|step| step["id"] == "gas_smell")
    };
    assert!(!has(&["--json"]));
    assert!(has(&["--json", "--whole"]));
}

#[test]
fn a_calendar_file_holds_the_visit_and_its_returns() {
    let program = Nearside::with_job();
    let file = crate::program::text(&program.path("visit.ics"));
    schedule(&program, &["--calendar", &file]).text();
    let calendar = std::fs::read_to_string(&file).unwrap();
    assert!(calendar.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"), "{calendar}");
    assert!(calendar.matches("BEGIN:VEVENT").count() > 1);
    assert!(calendar.contains("DTSTART:20260612T090000"));
}

#[test]
fn what_makes_no_sense_is_refused_with_what_would() {
    let program = Nearside::with_job();
    for (more, says) in [
        (vec!["--light", "soon"], "write --light like"),
        (vec!["--light", "20:00-08:00"], "ends before it starts"),
        (vec!["--start", "breakfast"], "write it like 09:40"),
        (vec!["--people", "A,B,C"], "one or two people"),
        (vec!["--prefer", "money"], "known: soonest, walking, switching"),
    ] {
        let said = schedule(&program, &more).refused();
        assert!(said.contains(says), "{more:?}: {said}");
    }
    // Half an hour of light for everything outside: which acts have no room is said.
    let said = schedule(&program, &["--light", "09:00-09:30"]).refused();
    assert!(said.contains("cannot be planned") || said.contains("no order keeps"), "{said}");
}
