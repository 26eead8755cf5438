//! Two states of a job against each other: whatever a reader of the report sees is said.

use inspection::PhotoId;
use record::{Author, Edit, Record};
use serde_json::Value as Json;
use store::{Chunk, JobId, Store};

use crate::bags::with_photo;
use crate::program::Nearside;

/// Lines of a comparison: section, which one, before, after.
fn lines(program: &Nearside, earlier: &str, later: &str) -> Vec<[String; 4]> {
    let said = program.run(&["compare", earlier, later, "--json"]).json();
    let word = |line: &Json, name: &str| line[name].as_str().unwrap_or_default().to_owned();
    let all = said["differences"].as_array().unwrap().clone();
    all.iter().map(|line| ["what", "key", "before", "after"].map(|it| word(line, it))).collect()
}

/// Whether a line of this section says all of these words.
fn check(lines: &[[String; 4]], section: &str, words: &[&str]) {
    let says = |line: &&[String; 4]| {
        let whole = line.join(" | ");
        line[0] == section && words.iter().all(|word| whole.contains(word))
    };
    assert!(lines.iter().any(|line| says(&line)), "{section}: {words:?}: {lines:#?}");
}

/// Edits the record as another device would.
fn edit(program: &Nearside, build: impl FnOnce(&inspection::Inspection) -> Edit) {
    let store = Store::open(&program.data()).unwrap();
    let job = JobId::new("2026-001").unwrap();
    let changes = store.changes(&job, 0, usize::MAX).unwrap();
    let mut record = Record::load(changes.iter().map(|change| change.bytes.as_slice())).unwrap();
    let author = Author::new([9; 16], "B. Inspector");
    let edit = build(&record.inspection().0);
    let change = record.edit(&author, 1_781_000_000, edit).unwrap().unwrap();
    store.append(&job, &[Chunk { hash: change.hash.0, bytes: change.bytes }]).unwrap();
}

fn fill(program: &Nearside, sheet: &str) {
    let sheet = program.write("part.toml", sheet);
    program.run(&["job", "fill", "2026-001", &sheet]).text();
}

fn release(program: &Nearside, more: &[&str]) {
    let release = ["release", "2026-001", "--accept", "a test"];
    program.signed(&[&release, more].concat()).text();
}

const BEFORE: &str = "[instruments.manometer]
kind = \"manometer\"
name = \"water column\"
serial = \"17\"
calibrated = \"2025-06-01\"
calibration_due = \"2026-06-01\"
";

const AFTER: &str = "[job]
client = \"C. Other\"
site = \"Pitch 3\"
visits = [\"2026-06-12\", \"2026-06-13\"]
weather = \"rain\"
credentials = \"licence 7\"
[dwelling.outline]
length = \"24 ft\"
width = \"8 ft\"
door_side = \"left\"
[instruments.manometer]
calibrated = \"2026-06-01\"
calibration_due = \"2027-06-01\"
[points.gas_leak_check]
started = \"10:00\"
ended = \"10:30\"
";

#[test]
fn every_kind_of_change_that_a_reader_sees_is_said() {
    let program = with_photo();
    program.run(&["photo", "2026-001", "camera/one.jpg", "--point", "regulator_lockup"]).text();
    fill(&program, BEFORE);
    program.with_key("B. Inspector", None);
    release(&program, &[]);
    let now = || lines(&program, "2026-001@1", "2026-001");
    assert_eq!(now(), Vec::<[String; 4]>::new());
    let same = program.run(&["compare", "2026-001@1", "2026-001"]).text();
    let nothing = "nothing differs that a reader of the report would see";
    assert!(same.contains(&format!("{nothing} (the same record)")), "{same}");

    // Photos: marks, blur, crop, position, time.
    program.run(&["mark", "2026-001", "one.jpg", "arrow", "0.8,0.15", "0.55,0.33"]).text();
    check(&now(), "photos", &["one.jpg", "marks", "arrow from"]);
    program.run(&["mark", "2026-001", "one.jpg", "blur", "0.1,0.6", "0.3,0.7"]).text();
    check(&now(), "photos", &["one.jpg", "blurred parts", "0.1, 0.6 to 0.3, 0.7"]);
    program.run(&["mark", "2026-001", "one.jpg", "crop", "0.0,0.0", "0.9,0.9"]).text();
    check(&now(), "photos", &["one.jpg", "part that is shown", "0.9"]);
    let one = |inspection: &inspection::Inspection| -> PhotoId {
        inspection.photos.keys().next().unwrap().clone()
    };
    edit(&program, |inspection| Edit::PlacePhoto {
        id: one(inspection),
        point: Some("regulator_lockup".into()),
        position: "second_stage".to_owned(),
        caption: None,
    });
    check(&now(), "photos", &["one.jpg", "position", "second stage"]);
    edit(&program, |inspection| {
        let before = inspection.photos[&one(inspection)].clone();
        let mut after = before.clone();
        after.taken = Some(inspection::Moment::parse("2026-06-12T11:11:00").unwrap());
        Edit::ChangePhoto { id: one(inspection), before: before.into(), after: after.into() }
    });
    check(&now(), "photos", &["one.jpg", "time", "11:11"]);

    // The engagement, who signs, the unit's outline, instruments, what ran unattended.
    fill(&program, AFTER);
    let all = now();
    check(&all, "engagement", &["client", "A. Client", "C. Other"]);
    check(&all, "engagement", &["site", "Pitch 3"]);
    check(&all, "engagement", &["visits", "June 13, 2026"]);
    check(&all, "engagement", &["weather", "rain"]);
    check(&all, "engagement", &["inspector", "licence 7"]);
    check(&all, "signature", &["credentials", "licence 7"]);
    check(&all, "unit", &["outline", "24 ft"]);
    check(&all, "unit", &["Length, width", "24 ft, 8 ft"]);
    check(&all, "instruments", &["water column", "calibrated", "June 1, 2025", "June 1, 2026"]);
    check(&all, "instruments", &["calibration on the day", "overdue", "in date"]);
    check(&all, "visit", &["10:00"]);

    // What was agreed, and to what the client agreed.
    program.run(&["agreement", "set", "2026-001", "--scope", "The roof, too"]).text();
    check(&now(), "engagement", &["What was agreed", "The roof, too"]);
    let text = program.run(&["compare", "2026-001@1", "2026-001"]).text();
    assert!(!text.contains("nothing differs"), "{text}");
}

#[test]
fn paper_units_language_and_texts_of_a_report_are_said_and_the_same_data_differ_in_nothing() {
    let program = with_photo();
    program.run(&["texts", "write", "own", "--language", "en"]).text();
    let report = std::fs::read_to_string(program.path("own/en/report.toml")).unwrap();
    let own = report.replace("# five_uses = \"The five uses\"", "five_uses = \"Its uses\"");
    assert_ne!(own, report);
    program.write("own/en/report.toml", own);
    program.with_key("B. Inspector", None);
    release(&program, &[]);
    release(&program, &["--because", "other pages", "--paper", "a4", "--units", "si"]);
    let second = lines(&program, "2026-001@1", "2026-001@2");
    check(&second, "pages", &["paper", "letter", "a4"]);
    check(&second, "pages", &["units", "us", "si"]);
    check(&second, "engagement", &["visits", "June 12, 2026", "12 June 2026"]);
    check(&second, "release", &["corrects", "other pages"]);
    // A job as it stands is told on the same paper, in the same units.
    assert_eq!(lines(&program, "2026-001@2", "2026-001"), Vec::<[String; 4]>::new());
    release(&program, &["--because", "in Spanish", "--language", "es"]);
    let third = lines(&program, "2026-001@1", "2026-001@3");
    check(&third, "pages", &["language", "en", "es"]);
    check(&third, "engagement", &["12 de junio de 2026"]);
    release(&program, &["--because", "our own words", "--texts", "own"]);
    check(&lines(&program, "2026-001@1", "2026-001@4"), "program and data", &["texts"]);

    release(&program, &["--because", "nothing at all", "--texts", "own"]);
    let same = program.run(&["compare", "2026-001@4", "2026-001@5"]).text();
    let nothing = "nothing differs that a reader of the report would see";
    let but = "but what names the two themselves (the same record)";
    assert!(same.contains(&format!("{nothing}, {but}")), "{same}");
    let sections = lines(&program, "2026-001@4", "2026-001@5");
    assert!(sections.iter().all(|line| line[0] == "release"), "{sections:?}");
    assert_eq!(lines(&program, "2026-001", "2026-001"), Vec::<[String; 4]>::new());
}
