//! What stands on the pages, and in which order.

use report::content::{Content, Form, Paper};

use crate::sample::{self, sample};
use crate::tools::{File, assert_order, typeset_sample};

#[test]
fn pages_have_the_paper_that_was_asked_for() {
    let letter = File::new(&typeset_sample(&sample(Paper::Letter)).pdf);
    assert_eq!(letter.info("Page size"), "612 x 792 pts (letter)");
    let a4 = File::new(&typeset_sample(&sample(Paper::A4)).pdf);
    assert!(a4.info("Page size").ends_with("(A4)"), "{}", a4.info("Page size"));
}

#[test]
fn headings_follow_each_other_as_a_reader_needs_them() {
    let text = File::new(&typeset_sample(&sample(Paper::Letter)).pdf).text();
    assert_order(
        &text,
        &[
            "Inspection of a travel trailer before purchase",
            "At a glance",
            "The five uses",
            "Tow",
            "Held",
            "At once",
            "What stops use",
            "Not examined",
            "not a warranty",
            "Contents and key",
            "How to read this report",
            "The engagement",
            "Before you act on this report",
            "Findings",
            "What stops use",
            "1 Regulator does not lock up",
            "2 Two tires past their age",
            "Soon",
            "4 Voltage falls at the bedroom outlet",
            "In time",
            "6 Torn window screen",
            "Further photos",
            "Readings",
            "Not examined",
            "Examined without remark",
            "The visit",
            "9:18 to 9:52 (34 min), no entry",
            "Instruments",
            "Sources",
            "Terms",
            "Record and signature",
        ],
    );
}

#[test]
fn the_front_page_says_what_is_held_open_and_clear_in_words() {
    let made = typeset_sample(&sample(Paper::Letter));
    let file = File::new(&made.pdf);
    let (front, read) = file.ask("pdftotext", &["-l", "1", "-raw"], &["-"]);
    assert!(read);
    assert_eq!(front.matches("Held").count(), 3 + 1, "three panels and the explanation: {front}");
    assert_eq!(front.matches("Open").count(), 1 + 1, "{front}");
    assert_eq!(front.matches("Clear").count(), 1 + 1, "{front}");
    assert!(front.contains("1SAMPLE00H0000017"));
    assert!(front.contains("Regulator does not lock up"));
    assert!(front.contains("The reasons stand on page"));
    assert!(front.contains(&format!("Page 1 of {}", made.pages)));
}

#[test]
fn the_front_page_of_an_ordinary_report_is_one_page() {
    for paper in [Paper::Letter, Paper::A4] {
        let file = File::new(&typeset_sample(&sample(paper)).pdf);
        let (second, _) = file.ask("pdftotext", &["-f", "2", "-l", "2", "-raw"], &["-"]);
        assert!(second.contains("Contents and key"), "{paper:?}: {second}");
    }
}

#[test]
fn readings_stand_with_unit_uncertainty_limit_verdict_source_and_instrument() {
    let text = File::new(&typeset_sample(&sample(Paper::Letter)).pdf).text();
    let (_, table) = text.split_once("\nReadings\n").unwrap();
    assert_order(
        table,
        &[
            "R5",
            "Voltage drop",
            "bedroom",
            "6.1",
            "± 0.7",
            "%",
            "at most 5 %",
            "beyond common",
            "[3]",
            "I2",
        ],
    );
}

#[test]
fn bookmarks_lead_to_every_section_and_finding() {
    let content = sample(Paper::Letter);
    let bookmarks = File::new(&typeset_sample(&content).pdf).bookmarks();
    for section in ["At a glance", "Findings", "Readings", "Not examined", "Sources", "Terms"] {
        assert!(bookmarks.iter().any(|title| title == section), "{section}: {bookmarks:?}");
    }
    for (index, finding) in content.findings.iter().enumerate() {
        let title = format!("{} {}", index + 1, finding.title);
        assert!(bookmarks.contains(&title), "{title}: {bookmarks:?}");
    }
}

#[test]
fn every_photo_is_in_the_file_untouched() {
    let made = typeset_sample(&sample(Paper::Letter));
    let (list, read) = File::new(&made.pdf).ask("pdfimages", &["-list"], &[]);
    assert!(read);
    let shown = list.lines().filter(|line| line.contains(" jpeg ")).count();
    // The first photo stands on the front page and among the further photos.
    assert_eq!(shown, sample::PHOTOS + 1, "{list}");
    for number in 1..=sample::PHOTOS {
        let photo = sample::photo(&format!("{number:04}")).unwrap();
        assert!(
            made.pdf.windows(photo.len()).any(|window| window == photo),
            "photo {number} is not in the file byte for byte"
        );
    }
}

#[test]
fn photos_stand_beside_the_first_finding_that_names_them() {
    let text = File::new(&typeset_sample(&sample(Paper::Letter)).pdf).text();
    assert_order(
        &text,
        &[
            "5 Sealant cracked",
            "Photo 10",
            "Findings 5, 6.",
            "6 Torn window screen",
            "See also Photo 10",
        ],
    );
}

#[test]
fn an_empty_report_says_that_nothing_was_recorded() {
    let content = Content { uses: sample(Paper::Letter).uses, ..Content::default() };
    let uses = content
        .uses
        .iter()
        .map(|one| report::content::Use { findings: vec![], not_examined: vec![], ..one.clone() })
        .collect();
    let content = Content { uses, ..content };
    let made = typeset_sample(&content);
    let file = File::new(&made.pdf);
    file.assert_sound();
    let text = file.text();
    for words in [
        "No finding stops one of the five uses.",
        "No findings were recorded.",
        "No readings were recorded.",
        "No instruments were recorded.",
        "No terms were recorded with this job.",
    ] {
        assert!(text.contains(words), "{words}");
    }
}

#[test]
fn the_short_form_has_every_finding_with_one_photo_and_leaves_the_rest_to_the_full_form() {
    let full = typeset_sample(&sample(Paper::Letter));
    let content = Content { form: Form::Short, ..sample(Paper::Letter) };
    let made = typeset_sample(&content);
    assert_eq!(made.remarks, Vec::<String>::new());
    assert!(made.pages < full.pages && made.pages >= 4, "{} of {}", made.pages, full.pages);
    let file = File::new(&made.pdf);
    file.assert_sound();
    assert_order(
        &file.text(),
        &[
            "Inspection report, short form",
            "The five uses",
            "not a warranty",
            "Findings",
            "Tow: held",
            "2 Two tires past their age",
            "Gas: held",
            "1 Regulator does not lock up",
            "Stops no use: soon",
            "Stops no use: in time",
            "6 Torn window screen",
            "Not examined",
            "Limits of this inspection",
            "Limits agreed",
            "This is the short form.",
            "Terms",
            "Record and signature",
        ],
    );
    let bookmarks = file.bookmarks();
    for absent in ["Readings", "Sources", "Instruments", "The visit", "Contents and key"] {
        assert!(!bookmarks.contains(&absent.to_owned()), "{absent}: {bookmarks:?}");
    }
    let (list, _) = file.ask("pdfimages", &["-list"], &[]);
    let shown = list.lines().filter(|line| line.contains(" jpeg ")).count();
    let with_photo = content.findings.iter().filter(|finding| !finding.photos.is_empty()).count();
    assert_eq!(shown, with_photo + 1, "one each, and that of the front page");
    assert_eq!(file.info("Tagged"), "yes");
    let bytes = String::from_utf8_lossy(&made.pdf);
    assert!(bytes.contains("<pdfuaid:part>1</pdfuaid:part>"));
    assert!(bytes.contains("<pdfaid:conformance>A</pdfaid:conformance>"));
}
