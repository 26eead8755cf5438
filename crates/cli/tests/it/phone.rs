//! One visit, entered twice: as a filled sheet, and act by act on the phone.

use std::collections::BTreeSet;

use field::Visit;
use inspection::Inspection;
use record::Author;

use crate::program::Nearside;

#[path = "../../../field/tests/it/demo_sheet.rs"]
mod demo_sheet;

/// What an inspection says, whatever ids its entries got and in which minute they were entered.
#[derive(Debug, PartialEq)]
struct Said {
    job: inspection::Job,
    dwelling: inspection::Dwelling,
    instruments: String,
    points: Vec<String>,
    readings: BTreeSet<String>,
    findings: BTreeSet<String>,
    /// What follows from it all.
    uses: Vec<String>,
    numbered: Vec<String>,
    missing: Vec<String>,
    values: Vec<String>,
}

fn said(plan: &plan::Plan, inspection: &Inspection) -> Said {
    let assessment = findings::assess(plan, inspection);
    Said {
        job: inspection.job.clone(),
        dwelling: inspection.dwelling.clone(),
        instruments: format!("{:?}", inspection.instruments),
        points: inspection
            .points
            .iter()
            .map(|(id, one)| {
                format!("{id} {:?} {:?} {} {}", one.outcome, one.defects, one.notes, one.by)
            })
            .collect(),
        readings: inspection
            .readings
            .values()
            .map(|one| {
                let (instrument, struck_out) = (&one.instrument, &one.struck_out);
                let at = (&one.point, &one.name, &one.position);
                format!("{at:?} {} {instrument:?} {struck_out:?} {}", one.entry, one.by)
            })
            .collect(),
        findings: inspection
            .findings
            .values()
            .map(|one| {
                let words = (&one.point, &one.draft, &one.title, &one.statement, &one.who);
                format!("{words:?} {:?} {:?} {:?}", one.stops, one.when, one.state)
            })
            .collect(),
        uses: assessment.uses.iter().map(|one| format!("{one:?}")).collect(),
        numbered: assessment
            .findings
            .iter()
            .map(|one| {
                format!(
                    "{} {} {} {:?} {}",
                    one.number, one.title, one.statement, one.stops, one.confirmed
                )
            })
            .collect(),
        missing: assessment.missing.iter().map(|one| one.sentence.clone()).collect(),
        values: assessment
            .points
            .iter()
            .flat_map(|point| &point.values)
            .map(|value| {
                let verdicts: Vec<_> =
                    value.judgements.iter().map(|one| (&one.limit.id, one.judgement)).collect();
                format!("{} {} {:?} {verdicts:?}", value.name, value.position, value.content)
            })
            .collect(),
    }
}

#[test]
fn a_visit_on_the_phone_says_what_the_filled_sheet_says() {
    let program = Nearside::new();
    let (job, dwelling) = demo::job();
    let visit = job.visits[0].to_string();
    let kind = dwelling.kind.word();
    let new = ["job", "new", "--number", "2026-001", "--kind", kind, "--visit", &visit];
    program.run(&[&new[..], &["--inspector", &job.inspector]].concat()).text();

    // The phone begins with the job as the desk made it.
    let author = Author::new([7; 16], job.inspector);
    let mut phone = Visit::of(program.record(), author).unwrap();
    let script = demo_sheet::script(&phone, demo::sheet(), false);
    assert!(script.points >= 60, "{}", script.points);
    for (act, now) in script.acts {
        phone.act(act.clone(), now).unwrap_or_else(|said| panic!("{act:?}: {said}"));
    }

    let sheet = program.write("sheet.toml", without_photos(demo::sheet()));
    program.run(&["job", "fill", "2026-001", &sheet]).text();
    let desk = program.inspection();

    let (desk, phone) = (said(phone.plan(), &desk), said(phone.plan(), phone.inspection()));
    assert!(desk.readings.len() > 450 && desk.findings.len() > 20);
    assert_eq!(desk.job, phone.job);
    assert_eq!(desk.points, phone.points);
    assert_eq!(desk.readings, phone.readings);
    assert_eq!(desk.findings, phone.findings);
    assert_eq!(desk, phone);
}

/// The sheet without its photos: their files are another matter.
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
