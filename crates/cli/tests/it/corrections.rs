//! A correction says by itself that it is one: on its pages, on the client's page, and to whoever verifies its bag.

use std::path::Path;
use std::process::Command;

use crate::bags::with_photo;
use crate::program::{Nearside, text};

/// The words of a PDF, with one blank between any two.
fn words_of(pdf: &Path) -> String {
    let output = Command::new("pdftotext").arg("-layout").arg(pdf).arg("-").output();
    let output = output.unwrap_or_else(|error| {
        panic!("this test needs the program `pdftotext` (package poppler-utils): {error}")
    });
    String::from_utf8_lossy(&output.stdout).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn release(program: &Nearside, more: &[&str]) {
    program
        .signed(&[&["release", "2026-001", "--accept", "told to the client"], more].concat())
        .text();
}

/// Writes a release out and gives the words of its report, and its page.
fn exported(program: &Nearside, number: &str) -> (String, String) {
    let bag = format!("bag-{number}");
    program.run(&["export", "2026-001", "--release", number, "--into", &bag]).text();
    let page = program.path(&format!("{bag}/data/page/index.html"));
    let pdf = words_of(&program.path(&format!("{bag}/data/report.pdf")));
    (pdf, std::fs::read_to_string(page).unwrap())
}

/// The day of a release, as its state says it.
fn day(program: &Nearside, number: &str) -> String {
    let state = std::fs::read(program.path(&format!("bag-{number}/data/state.json"))).unwrap();
    let state: serde_json::Value = serde_json::from_slice(&state).unwrap();
    state["release"]["released_at"].as_str().unwrap().to_owned()
}

#[test]
fn a_corrected_report_says_what_it_corrects_and_why_on_its_pages_and_to_who_verifies() {
    let program = with_photo();
    program.with_key("B. Inspector", None);
    release(&program, &[]);
    let (first, first_page) = exported(&program, "1");
    for said in [&first, &first_page] {
        assert!(!said.contains("It corrects release"), "{said}");
        assert!(said.contains("Open when it was released, and accepted in words"), "{said}");
        assert!(said.contains("told to the client"), "{said}");
        assert!(said.contains("nothing is entered; examine it, or say why not"), "{said}");
    }
    let why = "The gauge was misread at the test tap; the lock-up was read again";
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "12.0 inH2O"]).text();
    release(&program, &["--because", why]);
    let (second, second_page) = exported(&program, "2");
    let sentence = "This is release 2. It corrects release 1 of ";
    for said in [&second, &second_page] {
        assert!(said.contains(sentence) && said.contains("and stands in its place."), "{said}");
        assert!(said.contains(why), "{said}");
    }
    // On the front page, and again beside the signature.
    assert!(second.find(sentence).unwrap() < second.find("At a glance").unwrap(), "{second}");
    assert!(second.contains("What was changed since release 1 of "), "{second}");
    let verified = program.run(&["verify", "bag-2"]).text();
    let of = day(&program, "1");
    let line = format!("it corrects release 1 of {of}, and stands in its place: {why}");
    assert!(verified.contains(&line), "{verified}");
    let json = program.run(&["verify", "bag-2", "--json"]).json();
    assert_eq!(json["corrects"]["release"], 1);
    assert_eq!(json["corrects"]["released_at"], of);
    assert_eq!(json["corrects"]["because"], why);
    assert!(program.run(&["verify", "bag-1", "--json"]).json()["corrects"].is_null());

    // The client's page by itself says it too, with the signed report beside it.
    program.run(&["page", "2026-001", "--into", "page"]).text();
    let page = std::fs::read_to_string(program.path("page/index.html")).unwrap();
    assert!(page.contains(sentence) && page.contains(why), "{page}");
    let signed = std::fs::read(program.path("bag-2/data/report.pdf")).unwrap();
    assert!(std::fs::read(program.path("page/report.pdf")).unwrap() == signed);
    // What nobody signed does not call itself a release: a report by itself, or a page of what was entered since.
    program.run(&["report", "2026-001", "--out", "report.pdf"]).text();
    assert!(!words_of(&program.path("report.pdf")).contains("This is release"));
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "11.0 inH2O"]).text();
    program.run(&["page", "2026-001", "--into", "page-now"]).text();
    let page = std::fs::read_to_string(program.path("page-now/index.html")).unwrap();
    assert!(!page.contains("This is release") && !page.contains("<dt>Release</dt>"), "{page}");
    let json = std::fs::read_to_string(program.path("page-now/report.json")).unwrap();
    assert!(!json.contains("\"released\""), "{json}");
}

#[test]
fn in_spanish_a_correction_says_so_in_spanish() {
    let program = with_photo();
    program.with_key("B. Inspector", None);
    release(&program, &[]);
    release(&program, &["--because", "ahora en español", "--language", "es"]);
    let (pdf, page) = exported(&program, "2");
    for said in [&pdf, &page] {
        assert!(said.contains("Esta es la publicación 2. Corrige la publicación 1 del "), "{said}");
        assert!(said.contains("y la sustituye."), "{said}");
        assert!(said.contains("ahora en español"), "{said}");
        assert!(said.contains("Abierto al publicarse, y aceptado con palabras"), "{said}");
    }
    program.run(&["verify", &text(&program.path("bag-2"))]).text();
}

#[test]
fn a_long_reason_is_begun_on_the_front_page_and_stands_whole_at_the_end() {
    let program = with_photo();
    program.with_key("B. Inspector", None);
    release(&program, &[]);
    let long = format!("{} and that was the last word", "one reason more ".repeat(40).trim());
    release(&program, &["--because", &long]);
    let (pdf, page) = exported(&program, "2");
    assert!(pdf.contains("In full at the end."), "{pdf}");
    assert_eq!(pdf.matches("and that was the last word").count(), 1, "{pdf}");
    assert!(page.contains("and that was the last word") && !page.contains("In full at the end."));
}
