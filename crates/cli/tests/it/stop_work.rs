//! The demonstration where work on the gas stopped, from its sheet to the front page.

use std::process::Command;

use plan::{Files, load};
use report::content::{Content, UseKind, UseState};

use crate::program::Nearside;

const OVERFILLED: &str = "Gas cylinder overfilled";
const LEAK: &str = "Gas piping does not hold its pressure";

/// A sheet without its photos: the files are another matter.
fn without_photos(text: &str) -> String {
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
}

/// The job of a sheet of the demonstration.
fn filled(sheet: &str) -> Nearside {
    let program = Nearside::new();
    let (job, dwelling) = demo::job();
    let (kind, visit) = (dwelling.kind.word(), job.visits[0].to_string());
    program
        .run(&[
            "job",
            "new",
            "--number",
            "2026-001",
            "--kind",
            kind,
            "--visit",
            &visit,
            "--inspector",
            "D. H.",
        ])
        .text();
    let path = program.write("sheet.toml", without_photos(sheet));
    program.run(&["job", "fill", "2026-001", &path]).text();
    program
}

fn composed(program: &Nearside) -> Content {
    let plan = load(&Files::embedded()).unwrap().plan("purchase").unwrap();
    let inspection = program.inspection();
    let assessment = findings::assess(&plan, &inspection);
    report::compose(
        &plan,
        &inspection,
        &assessment,
        &report::Release::default(),
        report::Options::default(),
    )
}

/// The titles of the findings that hold the use of gas.
fn holding(content: &Content) -> Vec<&str> {
    let gas = content.uses.iter().find(|one| one.kind == UseKind::Gas).unwrap();
    gas.findings.iter().map(|number| content.findings[number - 1].title.as_str()).collect()
}

#[test]
fn an_overfilled_cylinder_and_a_leak_hold_the_use_of_gas_on_the_front_page() {
    let program = filled(&demo::stop_work_sheet());
    let content = composed(&program);
    let gas = content.uses.iter().find(|one| one.kind == UseKind::Gas).unwrap();
    assert_eq!(gas.state, UseState::Held, "{gas:?}");
    // The alarm past its date holds it in either visit.
    assert_eq!(holding(&content), [OVERFILLED, LEAK, "Gas alarm past its date"]);
    let stop: Vec<&str> = content.stop_work.iter().map(|one| one.title.as_str()).collect();
    assert_eq!(stop, [OVERFILLED, LEAK]);
    for one in &content.stop_work {
        assert!(one.text.contains("call a licensed"), "says whom to call: {}", one.text);
    }

    program.run(&["report", "2026-001", "--out", "report.pdf"]).text();
    let front = front_page(&program);
    let at = |words: &str| {
        front.find(words).unwrap_or_else(|| panic!("the front page lacks `{words}`:\n{front}"))
    };
    at("Gas Held Gas cylinder overfilled, and 2 more.");
    assert!(
        at("At once Gas cylinder overfilled. Stop work on the gas.")
            < at(&format!("{LEAK}. Put out flames"))
    );
    at("call a licensed supplier");
    at("call a licensed gas fitter");
}

/// The text of the report's first page.
fn front_page(program: &Nearside) -> String {
    let output = Command::new("pdftotext")
        .args(["-l", "1", "-raw", "-enc", "UTF-8"])
        .arg(program.path("report.pdf"))
        .arg("-")
        .output()
        .unwrap_or_else(|error| {
            panic!("this test needs the program `pdftotext` (package poppler-utils): {error}")
        });
    assert!(output.status.success());
    String::from_utf8_lossy(&output.stdout).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_visit_without_them_names_neither_and_stops_no_work() {
    let content = composed(&filled(demo::sheet()));
    assert!(!holding(&content).contains(&OVERFILLED) && !holding(&content).contains(&LEAK));
    assert!(content.stop_work.is_empty(), "{:?}", content.stop_work);
}
