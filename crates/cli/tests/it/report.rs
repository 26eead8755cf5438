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

#[test]
fn an_earlier_report_stays_until_the_new_one_is_whole() {
    let program = Nearside::with_job();
    program.write("report.pdf", b"the earlier one");
    // Where the new one would grow stands a folder.
    std::fs::create_dir(program.path("report.pdf.unfinished")).unwrap();
    let failed = |out: &str| {
        let done = program.run(&["report", "2026-001", "--out", out]);
        assert_eq!(done.status, 1, "{done:?}");
        assert!(done.err.contains(&format!("{out}: ")), "{done:?}");
    };
    failed("report.pdf");
    assert_eq!(std::fs::read(program.path("report.pdf")).unwrap(), b"the earlier one");

    std::fs::remove_dir(program.path("report.pdf.unfinished")).unwrap();
    let done = program.run(&["report", "2026-001", "--out", "report.pdf", "--json"]).json();
    let pdf = std::fs::read(program.path("report.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
    assert_eq!(done["sha256"], photo::Sha256::of(&pdf).to_string());
    assert!(!program.path("report.pdf.unfinished").exists());

    // A link stays one, and the file that it leads to is the new one.
    #[cfg(unix)]
    {
        let real = program.write("elsewhere/real.pdf", b"the earlier one");
        std::os::unix::fs::symlink(&real, program.path("link.pdf")).unwrap();
        program.run(&["report", "2026-001", "--out", "link.pdf"]).text();
        assert!(program.path("link.pdf").is_symlink());
        assert_eq!(std::fs::read(real).unwrap(), pdf);
    }

    failed("nowhere/report.pdf");
    // A disk that is full while the report is written.
    if cfg!(target_os = "linux") {
        failed("/dev/full");
    }
}

#[test]
fn the_clients_page_stands_in_a_new_folder_with_the_printed_report() {
    let program = Nearside::with_job();
    program.run(&["read", "2026-001", "regulator_lockup", "lockup", "15.2 inH2O"]).text();
    let done = program.run(&["page", "2026-001", "--into", "client", "--json"]).json();
    let readings = std::fs::read_to_string(program.path("client/readings.html")).unwrap();
    assert!(readings.contains(">15.2"), "{readings}");
    let html = std::fs::read_to_string(program.path("client/index.html")).unwrap();
    assert!(html.contains("href=\"report.pdf\""));
    let pdf = std::fs::read(program.path("client/report.pdf")).unwrap();
    program.run(&["report", "2026-001", "--out", "report.pdf"]).text();
    assert_eq!(pdf, std::fs::read(program.path("report.pdf")).unwrap());
    let written = std::fs::read_dir(program.path("client"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_file())
        .count();
    assert!(written >= 5, "index.html, its style, script and data, and the PDF: {written}");
    assert!(done["files"].as_u64().unwrap() >= 5, "{done}");

    let refused = program.run(&["page", "2026-001", "--into", "client"]).refused();
    assert!(refused.contains("client is not empty"), "{refused}");
}

#[test]
fn marks_are_kept_listed_and_taken_off_and_a_blur_changes_only_the_copies_that_are_handed_out() {
    let program = Nearside::with_job();
    let shot = demo::photos::draw(&demo::shots()[0].1).unwrap();
    let file = program.write("one.jpg", &shot);
    program.run(&["photo", "2026-001", &file]).text();
    let handed_out = |folder: &str| {
        program.run(&["page", "2026-001", "--into", folder, "--without-pdf"]).text();
        std::fs::read(program.path(&format!("{folder}/photos/0001.jpg"))).unwrap()
    };
    let clear = handed_out("clear");
    program.run(&["mark", "2026-001", "one.jpg", "circle", "0.2,0.2", "0.4,0.5"]).text();
    assert_eq!(handed_out("circled"), clear, "a drawn mark leaves the copy as it is");
    program.run(&["mark", "2026-001", "one.jpg", "blur", "0.1,0.1", "0.5,0.5"]).text();
    assert_ne!(handed_out("blurred"), clear);
    let html = std::fs::read_to_string(program.path("blurred/index.html")).unwrap();
    assert!(html.contains("Parts of this copy are blurred."), "{html}");

    let marks = program.run(&["mark", "2026-001", "one.jpg", "list", "--json"]).json();
    assert_eq!(marks[1]["kind"], "blur");
    assert_eq!(marks[1]["says"], "0.1,0.1 0.5,0.5");
    let id = marks[1]["mark"].as_str().unwrap();
    program.run(&["mark", "2026-001", "one.jpg", "erase", id]).text();
    assert_eq!(handed_out("cleared"), clear);

    let refused = program.run(&["mark", "2026-001", "one.jpg", "box", "0.1", "0.5,1.5"]).refused();
    assert!(refused.contains("two fractions from 0 to 1"), "{refused}");
    let refused = program.run(&["mark", "2026-001", "two.jpg", "list"]).refused();
    assert!(refused.contains("no photo `two.jpg`") && refused.contains("one.jpg"), "{refused}");
}

#[test]
fn of_a_cut_photo_copies_show_the_part_alone_with_its_marks_and_the_original_stays() {
    let program = Nearside::with_job();
    let shot = demo::photos::draw(&demo::shots()[0].1).unwrap();
    let file = program.write("one.jpg", &shot);
    program.run(&["photo", "2026-001", &file]).text();
    let mark =
        |arguments: &[&str]| program.run(&[&["mark", "2026-001", "one.jpg"], arguments].concat());
    let handed_out = |folder: &str| {
        program.run(&["page", "2026-001", "--into", folder, "--without-pdf"]).text();
        std::fs::read(program.path(&format!("{folder}/photos/0001.jpg"))).unwrap()
    };
    let size = |jpeg: &[u8]| {
        let read = photo::take_in("it", jpeg, &photo::Limits::default()).unwrap();
        let copy = read.copies.unwrap().display;
        (copy.width, copy.height)
    };
    mark(&["words", "0.9,0.9", "left out"]).text();
    mark(&["words", "0.25,0.25", "in sight"]).text();
    let whole = handed_out("whole");
    let (width, height) = size(&whole);
    assert_eq!(
        mark(&["crop", "0.5,0.5", "0,0"]).text(),
        "one.jpg: copies show the part 0,0 0.5,0.5\n"
    );
    let said = mark(&["turn", "90"]).text();
    assert_eq!(said, "one.jpg: copies show the part 0,0 0.5,0.5, turned by 90 degrees\n");
    let (across, down) = size(&handed_out("cut"));
    assert!(across.abs_diff(height / 2) <= 1 && down.abs_diff(width / 2) <= 1, "{across} {down}");
    let html = std::fs::read_to_string(program.path("cut/index.html")).unwrap();
    assert!(html.contains("This copy shows a part of the photo."), "{html}");
    assert!(html.contains("in sight") && !html.contains("left out"), "{html}");
    assert!(mark(&["list"]).text().starts_with("copies show the part"));
    // Each way it is said what belongs there.
    assert!(mark(&["turn", "45"]).refused().contains("90, 180 or 270"));
    assert!(mark(&["crop", "0.1,0.1", "0.1,0.9"]).refused().contains("small a part"));
    mark(&["whole"]).text();
    assert_eq!(handed_out("again"), whole);
    let inspection = Nearside::inspection_of(&program, "2026-001");
    assert!(inspection.photos.values().all(|photo| photo.crop.is_none()));
}

#[test]
fn a_clients_address_is_made_listed_and_revoked() {
    let program = Nearside::with_job();
    let refused = program.run(&["share", "new", "2026-001"]).refused();
    assert!(refused.contains("no server was started"), "{refused}");

    // What `nearside serve` writes down when it starts.
    let store = store::Store::open(&program.data()).unwrap();
    store.set_setting("server.address", "https://desk.example:8470/").unwrap();
    let made = program.run(&["share", "new", "2026-001", "--days", "2", "--json"]).json();
    let address = made["address"].as_str().unwrap();
    let secret = address.strip_prefix("https://desk.example:8470/c/").unwrap();
    assert_eq!(secret.trim_end_matches('/').len(), 48, "{address}");
    let links = program.run(&["share", "list", "--json"]).json();
    assert_eq!(links[0]["job"], "2026-001");
    assert!(!links.to_string().contains(&secret[..20]), "the secret is kept nowhere: {links}");
    let id = links[0]["link"].as_str().unwrap();
    program.run(&["share", "revoke", id]).text();
    let refused = program.run(&["share", "revoke", id]).refused();
    assert!(refused.contains("no address that is good"), "{refused}");
    assert!(program.run(&["share", "list"]).text().contains("revoked"));
}
