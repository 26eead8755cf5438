//! From a new job over the sheet, filled by hand, and its photos to the assessment.

use demo::photos::{Scene, Shot, ShotExif, Turn, draw};
use inspection::{FindingState, Outcome, PhotoId};
use jiff::civil::{DateTime, date};
use serde_json::json;

use crate::program::Nearside;

const SHEET: &str = include_str!("fixture/filled.toml");

fn photo(turn: Turn, taken: Option<DateTime>) -> Vec<u8> {
    let exif = taken.map(|taken| ShotExif { taken, offset_minutes: None, position: None });
    let scene = Scene::PressureGauge {
        value: 15.2,
        full_scale: 30.0,
        unit: "inH2O".into(),
        label: String::new(),
    };
    draw(&Shot { scene, turn, exif, seed: 7, blur: 0.0, exposure: 0.0 }).unwrap()
}

/// Photos by name: one held on its side at the time of a point, one that the sheet names at a point,
/// one that a finding names, one taken hours later, a damaged one, a HEIC file and a text.
fn photos(program: &Nearside) -> String {
    let on_its_side = photo(Turn::QuarterClockwise, Some(date(2026, 6, 12).at(9, 47, 0, 0)));
    let plain = photo(Turn::Upright, None);
    let later = photo(Turn::Upright, Some(date(2026, 6, 12).at(13, 0, 0, 0)));
    program.write("photos/IMG_0001.jpg", &on_its_side);
    program.write("photos/IMG_0002.jpg", &plain);
    // The same picture again would be the same photo: a byte behind its end makes another file.
    program.write("photos/IMG_0003.jpg", [plain.as_slice(), b"\0"].concat());
    program.write("photos/IMG_0004.jpg", &later);
    program.write("photos/IMG_0005.jpg", &plain[..plain.len() / 3]);
    program.write("photos/IMG_0006.HEIC", b"\0\0\0\x18ftypheic\0\0\0\0mif1heic");
    program.write("photos/notes.txt", "to do");
    program.path("photos").to_str().unwrap().to_owned()
}

#[test]
fn a_filled_sheet_and_its_photos_become_an_assessment() {
    let program = Nearside::with_job();
    let (sheet, folder) = (program.write("sheet.toml", SHEET), photos(&program));
    let done =
        program.run(&["job", "fill", "2026-001", &sheet, "--photos", &folder, "--json"]).json();
    assert_eq!(done["readings_added"], 1);
    assert_eq!(done["findings_changed"], 1);
    assert_eq!(done["decisions_changed"], 1);
    let placed = |name: &str| {
        let all = done["photos"].as_array().unwrap();
        let one = all.iter().find(|photo| photo["name"] == name).unwrap();
        (one["point"].clone(), one["placed_by"].clone(), one["problem"].clone())
    };
    assert_eq!(placed("IMG_0001.jpg"), (json!("regulator_lockup"), json!("time"), json!(null)));
    assert_eq!(placed("IMG_0002.jpg"), (json!("cladding"), json!("name"), json!(null)));
    assert_eq!(placed("IMG_0003.jpg"), (json!(null), json!(null), json!(null)));
    assert_eq!(placed("IMG_0004.jpg"), (json!(null), json!(null), json!(null)));
    let sentence = |name| placed(name).2.as_str().unwrap().to_owned();
    assert!(sentence("IMG_0005.jpg").contains("damaged JPEG"), "{}", sentence("IMG_0005.jpg"));
    assert!(sentence("IMG_0006.HEIC").contains("HEIC photos are not read yet"));
    assert!(sentence("notes.txt").contains("is not a picture"));

    let assessed = program.run(&["assess", "2026-001", "--json"]).json();
    assert_eq!(assessed["job"], "2026-001");
    assert_eq!(assessed["unit"]["maker"], "Invented Homes");
    let gas = &assessed["uses"][2];
    assert_eq!((&gas["use"], &gas["state"]), (&json!("gas"), &json!("held")));
    let values = assessed["values"].as_array().unwrap();
    let lockup = values.iter().find(|value| value["name"] == "lockup").unwrap();
    assert_eq!((&lockup["value"], &lockup["unit"]), (&json!(15.2), &json!("inH2O")));
    let judgement = &lockup["judgements"][0];
    assert_eq!(judgement["verdict"], "does not conform");
    assert_eq!(judgement["section"], "3280.704(a)(2)");
    assert_eq!(judgement["basis"], "law");
    assert_eq!(judgement["footing"], "build");
    let findings = assessed["findings"].as_array().unwrap();
    let keyed = |key: &str| findings.iter().find(|finding| finding["key"] == key).unwrap();
    assert_eq!(keyed("regulator_lockup/lockup_high")["confirmed"], true);
    assert_eq!(keyed("regulator_lockup/lockup_high")["photos"].as_array().unwrap().len(), 1);
    assert_eq!(keyed("cladding/puncture")["confirmed"], false);
    let own = findings.iter().find(|finding| finding["title"] == "Wasps in the vent").unwrap();
    assert_eq!((&own["stops"], &own["photos"].as_array().unwrap().len()), (&json!(["gas"]), &1));
    let not_examined = assessed["not_examined"].as_array().unwrap();
    assert!(not_examined.iter().any(|one| one["reason"] == "locked room"), "{not_examined:?}");
    assert!(!assessed["data_revision"].as_str().unwrap().is_empty());

    the_record_holds_what_the_sheet_said(&program);
}

fn the_record_holds_what_the_sheet_said(program: &Nearside) {
    let inspection = program.inspection();
    assert_eq!(inspection.job.site.address, "Pitch 3");
    assert_eq!(inspection.job.site.altitude_metres, Some(430.0 * 0.3048));
    assert_eq!(inspection.dwelling.ratings["gross_rating"], "7600 lb");
    let (_, reading) = inspection.readings.first_key_value().unwrap();
    assert_eq!(reading.instrument.as_ref().unwrap().as_str(), "manometer");
    assert_eq!(reading.at.unwrap().to_string(), "2026-06-12T09:40:00");
    assert_eq!(reading.by, "B. Inspector");
    assert_eq!(inspection.points["regulator_lockup"].outcome, Outcome::Examined);
    assert_eq!(inspection.points["windows"].outcome, Outcome::Examined);
    assert_eq!(inspection.points["cladding"].notes, "left of the door");
    let named =
        |name: &str| inspection.photos.iter().find(|(_, photo)| photo.file_name == name).unwrap();
    assert_eq!(inspection.photos.len(), 5, "four sound ones and a damaged one");
    let (id, on_its_side) = named("IMG_0001.jpg");
    // Stored lying on its side, shown upright.
    assert!(on_its_side.size.0 < on_its_side.size.1, "{:?}", on_its_side.size);
    assert_eq!(on_its_side.taken.unwrap().to_string(), "2026-06-12T09:47:00");
    assert_eq!(named("IMG_0002.jpg").1.caption, "The hole, close");
    assert!(named("IMG_0005.jpg").1.copy.is_empty());
    let store = store::Store::open(&program.data()).unwrap();
    let blob = |hash: &str| store.blob(&store::Sha256Hex::new(hash).unwrap()).unwrap();
    let original = std::fs::read(program.path("photos/IMG_0001.jpg")).unwrap();
    assert_eq!(blob(PhotoId::as_str(id)), Some(original), "the original is kept as it came");
    assert!(blob(&on_its_side.copy).unwrap().len() > blob(&on_its_side.thumbnail).unwrap().len());
}

#[test]
fn filling_the_same_sheet_twice_adds_nothing() {
    let program = Nearside::with_job();
    let (sheet, folder) = (program.write("sheet.toml", SHEET), photos(&program));
    let fill =
        || program.run(&["job", "fill", "2026-001", &sheet, "--photos", &folder, "--json"]).json();
    fill();
    let (changes, before) = (program.changes(), program.inspection());
    let again = fill();
    assert_eq!(program.changes(), changes, "{again}");
    assert_eq!(program.inspection(), before);
    assert_eq!(again["readings_added"], 0);
    assert_eq!(again["points_changed"], json!([]));
}

/// Each photo is one change of the record, and one that comes twice in one go is one photo.
#[test]
fn photos_come_in_together_and_each_once() {
    let program = Nearside::with_job();
    photos(&program);
    let copy = std::fs::read(program.path("photos/IMG_0001.jpg")).unwrap();
    program.write("photos/IMG_0009.jpg", copy);
    let before = program.changes();
    let files = [1, 2, 9].map(|number| {
        program.path(&format!("photos/IMG_000{number}.jpg")).to_str().unwrap().to_owned()
    });
    let [one, two, same] = files.each_ref().map(String::as_str);
    let taken = program.run(&["photo", "2026-001", one, two, same, "--json"]).json();
    let new: Vec<bool> =
        taken.as_array().unwrap().iter().map(|it| it["new"].as_bool().unwrap()).collect();
    assert_eq!(new, [true, true, false]);
    assert_eq!(taken[0]["photo"], taken[2]["photo"]);
    assert_eq!(program.changes(), before + 2);
    assert_eq!(program.inspection().photos.len(), 2);
    let caption = ["--point", "regulator_lockup", "--caption", "The gauge"];
    let again = program.run(&[&["photo", "2026-001", one, same][..], &caption].concat()).text();
    assert_eq!(again.matches("was there already").count(), 2, "{again}");
    assert_eq!(program.changes(), before + 3, "the second says what the first said");
}

#[test]
fn a_printed_sheet_given_back_changes_nothing_and_prints_the_same() {
    let program = Nearside::with_job();
    let (sheet, folder) = (program.write("sheet.toml", SHEET), photos(&program));
    program.run(&["job", "fill", "2026-001", &sheet, "--photos", &folder]).text();
    let (printed, changes) = (program.sheet(), program.changes());
    let path = program.write("printed.toml", &printed);
    let done = program.run(&["job", "fill", "2026-001", &path, "--json"]).json();
    assert_eq!(done["left_alone"], json!([]));
    assert_eq!(program.changes(), changes, "{done}");
    assert_eq!(program.sheet(), printed);
}

#[test]
fn the_demo_sheet_fills_and_prints_itself_again() {
    let program = Nearside::new();
    let (job, dwelling) = demo::job();
    let visit = job.visits[0].to_string();
    program
        .run(&[
            "job",
            "new",
            "--number",
            "2026-001",
            "--kind",
            dwelling.kind.word(),
            "--visit",
            &visit,
            "--inspector",
            &job.inspector,
        ])
        .text();
    // Its photos are another matter: here the sheet stands alone.
    let photos = |text: &str| -> String {
        let mut out = String::new();
        let mut inside = false;
        for line in text.lines() {
            inside |= line.trim_start().starts_with("photos = [");
            if !inside {
                out.push_str(line);
                out.push('\n');
            }
            inside &= !line.contains(']');
        }
        out
    };
    let sheet = program.write("demo.toml", photos(demo::sheet()));
    let done = program.run(&["job", "fill", "2026-001", &sheet, "--json"]).json();
    assert!(done["readings_added"].as_u64().unwrap() > 100, "{done}");
    let (printed, changes) = (program.sheet(), program.changes());
    let path = program.write("printed.toml", &printed);
    let again = program.run(&["job", "fill", "2026-001", &path, "--json"]).json();
    assert_eq!(program.changes(), changes, "{again}");
    assert_eq!(program.sheet(), printed);
    // The sheet as it was filled in at first adds nothing to it either.
    program.run(&["job", "fill", "2026-001", &sheet]).text();
    assert_eq!(program.changes(), changes);
}

#[test]
fn the_last_of_two_readings_counts_and_an_emptied_one_stays() {
    let program = Nearside::with_job();
    let fill = |entry: &str| {
        let text = format!("[points.regulator_lockup]\nreadings.lockup = \"{entry}\"\n");
        let sheet = program.write("sheet.toml", text);
        program.run(&["job", "fill", "2026-001", &sheet, "--json"]).json()
    };
    // More than nine, so that ids of one and of two digits meet.
    for tenths in 0..12 {
        assert_eq!(fill(&format!("11.{tenths} inH2O"))["readings_added"], 1);
    }
    let lockup = || {
        let assessed = program.run(&["assess", "2026-001", "--json"]).json();
        let values = assessed["values"].as_array().unwrap().clone();
        values.into_iter().find(|value| value["name"] == "lockup").unwrap()["value"].clone()
    };
    assert_eq!(lockup(), json!(11.11));
    let emptied = fill("");
    assert_eq!(emptied["readings_added"], 0);
    let said = emptied["left_alone"].to_string();
    assert!(said.contains("Lock-up pressure is empty in the sheet; `11.11 inH2O` stays"), "{said}");
    assert_eq!(lockup(), json!(11.11));
}

#[test]
fn a_withdrawn_draft_no_longer_holds_a_use() {
    let program = Nearside::with_job();
    let text = format!("{SHEET}\n").replace(
        "decision = \"confirm\"",
        "decision = \"withdraw\"\nreason = \"gauge at its end\"",
    );
    let text = text.replace("photos = [\"IMG_0002.jpg: The hole, close\"]\n", "");
    let text = text.replace("photos = [\"IMG_0003.jpg\"]\n", "").replace("stops = [\"gas\"]", "");
    let sheet = program.write("sheet.toml", text);
    program.run(&["job", "fill", "2026-001", &sheet]).text();
    let inspection = program.inspection();
    let decided = inspection.findings.values().find(|finding| finding.draft.is_some()).unwrap();
    assert_eq!(decided.state, FindingState::Withdrawn { reason: "gauge at its end".into() });
    let assessed = program.run(&["assess", "2026-001", "--json"]).json();
    assert_ne!(assessed["uses"][2]["state"], "held");
}

#[test]
fn a_wait_of_the_sheet_is_kept_and_its_end_added_when_it_is_known() {
    let program = Nearside::with_job();
    let fill = |lines: &str| {
        let sheet = program.write("wait.toml", format!("[points.gas_leak_check]\n{lines}"));
        program.run(&["job", "fill", "2026-001", &sheet, "--json"])
    };
    let waits = || program.inspection().waits.into_values().collect::<Vec<_>>();
    fill("started = \"09:50\"\n").json();
    assert_eq!(waits()[0].started.unwrap().to_string(), "2026-06-12T09:50:00");
    assert_eq!(waits()[0].ended, None);
    for _ in 0..2 {
        fill("started = \"09:50\"\nended = \"10:00\"\n").json();
        let [wait] = &waits()[..] else { panic!("{:?}", waits()) };
        assert_eq!(wait.point.as_str(), "gas_leak_check");
        assert_eq!(wait.ended.unwrap().to_string(), "2026-06-12T10:00:00");
    }
    assert!(program.sheet().contains("started = \"09:50\"\nended = \"10:00\"\n"));
    for (lines, told) in [
        ("ended = \"10:00\"\n", "has an end and no start"),
        ("started = \"10:00\"\nended = \"09:50\"\n", "ends before it starts"),
    ] {
        let refused = fill(lines);
        assert!(refused.err.contains(told), "{}", refused.err);
    }
    let sheet = program.write("no.toml", "[points.windows]\nstarted = \"09:50\"\n");
    let refused = program.run(&["job", "fill", "2026-001", &sheet]);
    assert!(refused.err.contains("nothing runs unattended at"), "{}", refused.err);
}
