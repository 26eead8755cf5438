//! The client's page: whole without a script, small, and safe whatever the record says.

use std::collections::BTreeSet;

use report::content::{Content, Paper};
use report::{PageFile, WebPage, page};

use crate::hostile::everywhere;
use crate::sample::{PHOTOS, photo, sample};

/// What a client's page may weigh before its photos.
const MOST_BYTES: usize = 300_000;

fn made(content: &Content) -> WebPage {
    page(content, &photo, Some("report.pdf")).unwrap()
}

fn text(page: &WebPage, name: &str) -> String {
    let file = page.files.iter().find(|file| file.name == name).unwrap();
    String::from_utf8(file.bytes.clone()).unwrap()
}

/// The values of an attribute, as they are written.
fn attributes<'a>(html: &'a str, name: &str) -> Vec<&'a str> {
    let start = format!(" {name}=\"");
    html.split(&start).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

#[test]
fn every_link_leads_to_something_in_the_folder() {
    let page = made(&sample(Paper::Letter));
    let names: BTreeSet<&str> = page.files.iter().map(|file| file.name.as_str()).collect();
    let leaves = ["index.html", "readings.html"].map(|name| (name, text(&page, name)));
    let mut places = BTreeSet::new();
    for (name, html) in &leaves {
        for id in attributes(html, "id") {
            assert!(places.insert(format!("{name}#{id}")), "{id} stands twice in {name}");
        }
    }
    let mut count = 0;
    for (name, html) in &leaves {
        for link in [attributes(html, "href"), attributes(html, "src")].into_iter().flatten() {
            count += 1;
            let there = match link.split_once('#') {
                Some(("", id)) => places.contains(&format!("{name}#{id}")),
                Some(_) => places.contains(link),
                None => names.contains(link) || link == "report.pdf",
            };
            assert!(there, "{link} in {name} leads nowhere");
        }
    }
    assert!(count > 100, "{count}");
}

#[test]
fn what_the_report_says_stands_on_the_page() {
    let content = sample(Paper::Letter);
    let page = made(&content);
    let html = text(&page, "index.html") + &text(&page, "readings.html");
    let said = |words: &str| html.contains(&escaped(words));
    for finding in &content.findings {
        assert!(said(&finding.title), "{}", finding.title);
        assert!(finding.statement.lines().all(said), "{}", finding.statement);
    }
    for reading in content.systems.iter().flat_map(|system| &system.readings) {
        assert!(said(&reading.name) && said(&reading.value), "{reading:?}");
        assert!(reading.judged.iter().all(|one| said(&one.limit) && said(&one.words)));
    }
    assert!(content.not_examined.iter().all(|one| said(&one.point) && said(&one.reason)));
    assert!(content.sources.iter().all(|one| said(&one.document) && said(&one.section)));
    assert!(content.trail.heads.iter().all(|head| said(head)));
    assert!(content.uses.iter().all(|one| said(&one.sentence)));
}

/// As a web page writes text.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[test]
fn the_page_is_small_and_its_photos_are_the_copies_untouched() {
    let page = made(&sample(Paper::Letter));
    let (photos, rest): (Vec<&PageFile>, Vec<&PageFile>) =
        page.files.iter().partition(|file| file.name.starts_with("photos/"));
    assert_eq!(photos.len(), PHOTOS);
    assert_eq!(Some(&photos[2].bytes), photo("0003").as_ref());
    // Everything but the photos: both leaves, style, script, data, drawings.
    let bytes: usize = rest.iter().map(|file| file.bytes.len()).sum();
    assert!(bytes < MOST_BYTES, "{bytes} bytes before photos");
    assert!(rest.len() >= 6, "{} files", rest.len());
    assert_eq!(page.remarks, Vec::<String>::new());
}

#[test]
fn nothing_on_the_page_needs_what_a_strict_content_policy_forbids() {
    let page = made(&sample(Paper::Letter));
    for html in ["index.html", "readings.html"].map(|name| text(&page, name)) {
        assert_needs_nothing_forbidden(&html);
    }
}

fn assert_needs_nothing_forbidden(html: &str) {
    assert!(attributes(html, "style").is_empty());
    assert!(!html.contains("<style") && !html.contains("javascript:"));
    assert!(attributes(html, "onclick").is_empty());
    // The one script stands in its own file.
    assert_eq!(html.matches("<script").count(), 1);
    assert!(html.contains("<script src=\"page.js\" defer></script>"));
    let outside = ["http:", "https:", "//"];
    for link in attributes(html, "href").into_iter().chain(attributes(html, "src")) {
        assert!(!outside.iter().any(|start| link.starts_with(start)), "{link}");
    }
}

#[test]
fn text_of_the_record_stays_text_on_the_page() {
    let hostile = "</title></p><script>alert(1)</script><img src=x onerror=1>&amp;\"'<!-- {{x}}";
    let html = text(&made(&everywhere(hostile)), "index.html");
    assert_eq!(html.matches("<script").count(), 1);
    assert!(!html.contains("<img src=x"));
    assert!(html.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
}

#[test]
fn hostile_texts_in_every_place_stay_text_on_both_leaves_and_in_the_drawings() {
    for hostile in testkit::HOSTILE {
        let page = made(&everywhere(hostile));
        for html in ["index.html", "readings.html"].map(|name| text(&page, name)) {
            assert_needs_nothing_forbidden(&html);
            assert!(!html.contains("onload=\"") && !html.contains("<img src=x"), "{hostile}");
        }
        let shown = hostile.replace(['\u{202e}', '\u{200d}'], "");
        assert!(text(&page, "index.html").contains(&escaped(&shown)), "{hostile}");
        let drawings = page.files.iter().filter(|file| file.media_type == "image/svg+xml");
        for drawing in drawings {
            let svg = String::from_utf8(drawing.bytes.clone()).unwrap();
            assert!(!svg.contains("<script") && !svg.contains("onload=\""), "{svg}");
        }
    }
}

#[test]
fn a_note_of_a_million_characters_stands_whole_on_the_page() {
    let note = "<b>Sentence</b> & more, without an end. ".repeat(25_000);
    assert!(note.len() >= 1_000_000);
    let mut content = sample(Paper::Letter);
    content.findings[0].statement.clone_from(&note);
    content.systems[0].readings[0].remark.clone_from(&note);
    let page = made(&content);
    for (name, place) in
        [("index.html", "<p dir=\"auto\">"), ("readings.html", "class=\"remark\">")]
    {
        let html = text(&page, name);
        assert!(html.contains(&format!("{place}{}", escaped(&note).trim_end())), "{name}");
        assert_needs_nothing_forbidden(&html);
    }
}

#[test]
fn every_script_is_shown_and_marks_that_turn_text_around_are_dropped() {
    let html = text(&made(&everywhere("שלום 😀 東京 a\u{202e}b")), "index.html");
    assert!(html.contains("שלום 😀 東京 ab"));
    assert!(!html.contains('\u{202e}'));
}

#[test]
fn a_photo_that_is_not_there_is_said_in_its_place() {
    let content = sample(Paper::Letter);
    let page = page(&content, &|_| None, None).unwrap();
    assert_eq!(page.remarks.len(), PHOTOS);
    let html = text(&page, "index.html");
    assert!(
        html.contains("Photo 1 is not shown: its file was not at hand when the page was made.")
    );
    assert!(!html.contains("report.pdf"));
}

#[test]
fn the_same_content_gives_the_same_files() {
    assert_eq!(made(&sample(Paper::A4)), made(&sample(Paper::A4)));
}
