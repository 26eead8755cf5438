//! A faulty sheet: every problem at once, with its place, and nothing changed.

use crate::program::Nearside;

const FAULTY: &str = r#"[job]
visits = ["2026-13-40"]
cliant = "A"

[dwelling]
kind = "manufactured_hom"
equipment = ["gas", "mains", "wheels", "skylite"]

[points.regulator_lockup]
readings.lockup = "15.2 psii"
readings.lockupp = "1 inH2O"
found = ["lockup_hi"]
at = "9 o'clock"
with = "manometer"
photos = ["IMG_0001.jpg"]

[points.tyres]
readings.tread.left_frnt = "6/32 in"
readings.pressure = "50 psi"

[points.cladding]
examined = true
not_examined = "no light"

[points.windows]
not_fitted = 3

[points.claddin]
examined = true

[points.cylinder_dates]
examined = true

[[finding]]
statement = "no title"
stops = ["tows"]

[[decide]]
key = "cladding/puncture"
decision = "maybe"
"#;

#[test]
fn all_problems_of_a_sheet_are_listed_with_their_lines_and_nothing_is_changed() {
    let program = Nearside::with_job();
    let (changes, before) = (program.changes(), program.sheet());
    let sheet = program.write("faulty.toml", FAULTY);
    let said = program.run(&["job", "fill", "2026-001", &sheet]).refused();
    for (place, words) in [
        ("2:11", "`2026-13-40` is no date"),
        ("3:1", "no key is called `cliant` here"),
        ("6:8", "no kind of unit is called `manufactured_hom`"),
        ("7:40", "no equipment is called `skylite`"),
        ("10:19", "psii"),
        ("11:10", "has no reading `lockupp`"),
        ("12:10", "has no defect `lockup_hi` in its list"),
        ("13:6", "is no time"),
        ("14:8", "no instrument is called `manometer`"),
        ("15:11", "there is no photo `IMG_0001.jpg`"),
        ("18:16", "`tread` has no position `left_frnt`"),
        ("19:10", "`pressure` is read at several positions, and none is named"),
        ("26:14", "`not_fitted` is neither true nor false"),
        ("28:9", "the plan has no point `claddin`"),
        ("31:9", "does not belong to this unit"),
        ("36:10", "no use is called `tows`"),
        ("40:12", "`maybe` is no decision"),
    ] {
        let found = said
            .lines()
            .any(|line| line.contains(&format!("faulty.toml:{place}: ")) && line.contains(words));
        assert!(found, "no line at {place} says {words:?}:\n{said}");
    }
    assert!(said.contains("is said to be examined and not examined"), "{said}");
    assert!(said.contains("the finding has no title"), "{said}");
    assert!(said.contains("hint: the nearest: cladding"), "{said}");
    assert!(said.contains("nothing was changed"), "{said}");
    assert_eq!(program.changes(), changes);
    assert_eq!(program.sheet(), before);
}

#[test]
fn a_sheet_that_is_no_toml_says_where() {
    let program = Nearside::with_job();
    let sheet = program.write("broken.toml", "[job]\nclient = \"A. Client\nrole = \"buyer\"\n");
    let said = program.run(&["job", "fill", "2026-001", &sheet]).refused();
    assert!(said.contains("broken.toml:2:"), "{said}");
    let said = program.run(&["job", "fill", "2026-001", "nowhere.toml"]).refused();
    assert!(said.contains("nowhere.toml"), "{said}");
}

#[test]
fn a_decision_needs_a_draft_that_there_is() {
    let program = Nearside::with_job();
    let changes = program.changes();
    let text = "[points.cladding]\nfound = [\"puncture\"]\n\n[[decide]]\nkey = \"cladding/punctur\"\ndecision = \"confirm\"\n";
    let sheet = program.write("sheet.toml", text);
    let said = program.run(&["job", "fill", "2026-001", &sheet]).refused();
    assert!(said.contains("sheet.toml:5:7: no finding is drafted under the key"), "{said}");
    assert!(said.contains("cladding/puncture"), "{said}");
    assert_eq!(program.changes(), changes);
}

#[test]
fn own_points_are_linted_with_places_and_their_examples_run() {
    let program = Nearside::new();
    program.run(&["plan", "lint"]).text();
    let shipped = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../../data/points/shell/cladding.toml"),
    )
    .unwrap();
    program.write("own/shell/cladding.toml", shipped.replace("minutes = 1.5", "minutes = \"six\""));
    let folder = program.path("own").to_str().unwrap().to_owned();
    let run = program.run(&["plan", "lint", "--points", &folder]);
    assert_eq!(run.status, 2);
    assert!(run.out.contains("points/shell/cladding.toml:4:"), "{}", run.out);
    program.write(
        "own/shell/cladding.toml",
        shipped.replace("drafts = [\"puncture\"]", "drafts = []"),
    );
    let run = program.run(&["plan", "lint", "--points", &folder]);
    assert_eq!(run.status, 2);
    assert!(run.out.contains("drafts [\"puncture\"], expected []"), "{}", run.out);
}
