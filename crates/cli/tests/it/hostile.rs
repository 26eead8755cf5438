//! Texts that a program could take for something else than text, and a note without end: from entry over the bag to another
//! machine, and in every file on the way, they are what was entered.

use serde_json::{Value, json};
use testkit::HOSTILE;

use crate::bags::{files, with_photo};
use crate::program::{Nearside, text};

/// A note of a million characters.
fn endless() -> String {
    let note = "A note that has no end at all, «¿entiende?», and goes on. ".repeat(18_000);
    // Blanks at an end are no text.
    note.trim_end().to_owned()
}

/// A job with one of each kind as a name, and all of them in each text.
fn job() -> Nearside {
    let program = with_photo();
    let all = HOSTILE.join("\n");
    let quoted = |text: &str| json!(text).to_string();
    // What a person types into a sheet stands between quotes, escaped as JSON does it, which TOML reads alike.
    let sheet = format!(
        "[job]\nsite = {}\nweather = {}\n[dwelling]\nmaker = {}\nmodel = {}\nidentification = {}\n\
         [points.cladding]\nfound = [\"puncture\"]\nnotes = {}\n\
         [points.windows]\nexamined = true\nnotes = {}\n\
         [[finding]]\ntitle = {}\nstatement = {}\nstops = [\"gas\"]\nwhen = \"before use\"\nwho = {}\n",
        quoted(HOSTILE[0]),
        quoted(HOSTILE[2]),
        quoted(HOSTILE[1]),
        quoted(HOSTILE[3]),
        quoted(HOSTILE[4]),
        quoted(&all),
        quoted(&endless()),
        quoted(HOSTILE[5]),
        quoted(&all),
        quoted(HOSTILE[6]),
    );
    let sheet = program.write("sheet.toml", sheet);
    program.run(&["job", "fill", "2026-001", &sheet]).text();
    let caption = HOSTILE.join(" ");
    program.run(&["photo", "2026-001", "camera/one.jpg", "--caption", &caption]).text();
    program.run(&["mark", "2026-001", "one.jpg", "words", "0.2,0.2", HOSTILE[1]]).text();
    program
}

/// Whether a text stands anywhere in it, as a whole.
fn says(value: &Value, text: &str) -> bool {
    match value {
        Value::String(one) => one == text,
        Value::Array(values) => values.iter().any(|one| says(one, text)),
        Value::Object(map) => map.values().any(|one| says(one, text)),
        _ => false,
    }
}

#[test]
fn hostile_texts_and_an_endless_note_go_round_through_a_bag() {
    let here = job();
    here.run(&["export", "2026-001", "--into", "out", "--working-copy"]).text();
    let bag = files(&here.path("out"));
    let read = |name: &str| -> Value { serde_json::from_slice(&bag[name]).unwrap() };
    let all = HOSTILE.join("\n");
    let record = read("data/record.json");
    for wanted in HOSTILE.into_iter().chain([all.as_str(), &HOSTILE.join(" "), &endless()]) {
        assert!(says(&record, wanted), "{}", wanted.chars().take(60).collect::<String>());
    }
    let assessment = read("data/assessment.json");
    for wanted in [HOSTILE[1], HOSTILE[3], HOSTILE[4], HOSTILE[5], HOSTILE[6], &all] {
        assert!(says(&assessment, wanted), "{wanted}");
    }
    let verified = here.run(&["verify", &text(&here.path("out"))]);
    assert!(
        verified.out.contains("every file is what the bag's own manifest names"),
        "{verified:?}"
    );

    let there = Nearside::new();
    there.run(&["job", "import", &text(&here.path("out"))]).text();
    assert_eq!(here.inspection(), there.inspection());
    there.run(&["export", "2026-001", "--into", "again", "--working-copy"]).text();
    assert!(bag == files(&there.path("again")), "another bag of the same record");
}

#[test]
fn hostile_texts_stay_text_on_the_clients_page() {
    let program = job();
    program.run(&["page", "2026-001", "--into", "client", "--without-pdf"]).text();
    let page = files(&program.path("client"));
    for name in ["index.html", "readings.html"] {
        let html = String::from_utf8(page[name].clone()).unwrap();
        assert_eq!(html.matches("<script").count(), 1, "{name}: its own");
        assert!(!html.contains("onload=\"") && !html.contains("<img src=x"), "{name}");
    }
    let index = String::from_utf8(page["index.html"].clone()).unwrap();
    for shown in [
        "&lt;script&gt;alert(1)&lt;/script&gt;",
        "&lt;svg xmlns=",
        "שלום مرحبا gnp.exe",
        "👩🚒",
        "=1+1 @SUM(A1)",
        "#panic(",
        "]]&gt; --&gt;",
    ] {
        assert!(index.contains(shown), "{shown}");
    }
}

/// qpdf gives out what is attached, as a reader would.
#[test]
fn the_reports_attachment_is_the_record_as_the_bag_has_it() {
    let program = job();
    program.run(&["export", "2026-001", "--into", "out", "--working-copy"]).text();
    let bag = files(&program.path("out"));
    let attached = |report: &str, name: &str| {
        let output = std::process::Command::new("qpdf")
            .arg(program.path(report))
            .arg(format!("--show-attachment={name}"))
            .output()
            .unwrap_or_else(|error| panic!("this test needs the program `qpdf`: {error}"));
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        output.stdout
    };
    let record = &bag["data/record.json"];
    assert!(record.len() > 1_000_000, "{} bytes", record.len());
    let (_, pdf) = bag.iter().find(|(name, _)| name.ends_with(".pdf")).unwrap();
    program.write("bag.pdf", pdf);
    assert!(&attached("bag.pdf", "record.json") == record);
    // The short form and the report by itself carry the same.
    for form in ["short", "full"] {
        program.run(&["report", "2026-001", "--out", "by-itself.pdf", "--form", form]).text();
        assert!(&attached("by-itself.pdf", "record.json") == record, "{form}");
        let data: Value =
            serde_json::from_slice(&attached("by-itself.pdf", "report.json")).unwrap();
        assert!(says(&data, HOSTILE[5]));
    }
}
