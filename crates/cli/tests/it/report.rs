//! The report from the command line.

use crate::program::Nearside;

#[test]
fn the_same_record_gives_the_same_pages_byte_for_byte() {
    let program = Nearside::with_job();
    program
        .run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O", "--by", "C. Helper"])
        .text();
    assert_eq!(program.inspection().readings.first_key_value().unwrap().1.by, "C. Helper");
    let report = |name: &str, paper: &str| {
        let done =
            program.run(&["report", "2026-001", "--out", name, "--paper", paper, "--json"]).json();
        let pdf = std::fs::read(program.path(name)).unwrap();
        assert!(pdf.starts_with(b"%PDF-"), "{done}");
        assert!(done["pages"].as_u64().unwrap() > 1, "{done}");
        assert_eq!(done["bytes"].as_u64().unwrap(), u64::try_from(pdf.len()).unwrap());
        pdf
    };
    let first = report("first.pdf", "letter");
    assert_eq!(first, report("second.pdf", "letter"));
    assert_ne!(first, report("third.pdf", "a4"));
}
