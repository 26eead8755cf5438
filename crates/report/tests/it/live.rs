//! Parts of the report for a screen.

use std::cell::RefCell;

use report::content::Paper;
use report::{Part, ReportError, live};
use testkit::HOSTILE;

use crate::hostile::everywhere;
use crate::sample::{self, sample};

const PARTS: [Part; 12] = [
    Part::Front,
    Part::Overview,
    Part::Finding(1),
    Part::FurtherPhotos,
    Part::Readings(1),
    Part::NotExamined,
    Part::Examined,
    Part::Visit,
    Part::Instruments,
    Part::Sources,
    Part::Terms,
    Part::Signature,
];

fn address(id: &str) -> String {
    format!("/photos/{id}.jpg?a=1&b=\"2\"")
}

#[test]
fn every_part_is_laid_out_by_itself_and_is_sound() {
    for paper in [Paper::Letter, Paper::A4] {
        let content = sample(paper);
        for part in PARTS {
            let made = live(&content, part, &sample::photo, &address).unwrap();
            assert!(!made.pages.is_empty(), "{part:?}");
            assert_eq!(made.remarks, Vec::<String>::new(), "{part:?}");
            for page in &made.pages {
                let options = roxmltree::ParsingOptions::default();
                let document = roxmltree::Document::parse_with_options(page, options);
                let document = document.unwrap_or_else(|error| panic!("{part:?}: {error}"));
                assert!(document.root_element().has_tag_name("svg"), "{part:?}");
                // Nothing is fetched from elsewhere: photos from where the caller says, the rest is inside.
                for node in document.descendants().filter(|node| node.has_tag_name("image")) {
                    let href = node
                        .attributes()
                        .find(|attribute| attribute.name() == "href")
                        .map(|attribute| attribute.value().to_owned())
                        .unwrap();
                    let photo = href.starts_with("/photos/") && href.ends_with(".jpg?a=1&b=\"2\"");
                    assert!(photo || href.starts_with("data:image/svg+xml;base64,"), "{href}");
                }
            }
        }
    }
}

#[test]
fn a_finding_shows_its_photos_once_each_and_asks_for_no_others() {
    let content = sample(Paper::Letter);
    for (at, finding) in content.findings.iter().enumerate() {
        let asked = RefCell::new(Vec::new());
        let photo = |id: &str| {
            asked.borrow_mut().push(id.to_owned());
            sample::photo(id)
        };
        let made = live(&content, Part::Finding(at + 1), &photo, &address).unwrap();
        let ids: Vec<String> =
            finding.photos.iter().map(|photo| content.photos[photo - 1].id.clone()).collect();
        let mut expected = ids.clone();
        expected.sort();
        assert_eq!(asked.into_inner(), expected);
        let pages = made.pages.concat();
        // A photo that an earlier finding shows is only named here.
        let earlier = &content.findings[..at];
        for (photo, id) in finding.photos.iter().zip(&ids) {
            let shown = earlier.iter().all(|finding| !finding.photos.contains(photo));
            assert_eq!(
                pages.matches(&format!("/photos/{id}.jpg")).count(),
                usize::from(shown),
                "{id}"
            );
        }
        // The text is drawn as shapes, and marked with links: none leads to what is not here.
        assert!(pages.len() < 900_000, "{} bytes", pages.len());
    }
}

#[test]
fn an_edit_shows_at_once_and_the_same_content_gives_the_same_pages() {
    let content = sample(Paper::Letter);
    let pages =
        |content: &_| live(content, Part::Finding(1), &sample::photo, &address).unwrap().pages;
    let first = pages(&content);
    let mut edited = content.clone();
    edited.findings[0].statement.push_str(" The tag was still there in the evening.");
    let second = pages(&edited);
    assert_ne!(first, second);
    assert_eq!(pages(&content), first);
    // A whole report in between forgets what was laid out, and changes nothing.
    crate::tools::typeset_sample(&edited);
    assert_eq!(pages(&edited), second);
}

#[test]
fn a_photo_that_is_missing_is_said_and_a_part_that_is_not_there_refused() {
    let content = sample(Paper::Letter);
    let made = live(&content, Part::Finding(1), &|_| None, &address).unwrap();
    assert_eq!(made.remarks.len(), content.findings[0].photos.len());
    assert!(made.remarks[0].contains("is not shown"), "{:?}", made.remarks);
    for part in [Part::Finding(0), Part::Finding(999), Part::Readings(0), Part::Readings(99)] {
        let refused = live(&content, part, &sample::photo, &address);
        assert!(matches!(refused, Err(ReportError::NoSuchPart(it)) if it == part));
    }
}

/// The letters are drawn as shapes; what must not be there is what a browser would act on.
fn is_inert(page: &str) {
    let document = roxmltree::Document::parse(page).unwrap();
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        assert!(!matches!(name, "script" | "foreignObject" | "iframe" | "img"), "{name}");
        for attribute in node.attributes() {
            assert!(!attribute.name().starts_with("on"), "{}", attribute.name());
            let outside = ["http:", "https:", "javascript:"];
            let value: String = attribute.value().chars().take(80).collect();
            assert!(!outside.iter().any(|it| value.starts_with(it)), "{value}");
            // A link stays on the page.
            let leads = name == "a" && attribute.name() == "href";
            assert!(!leads || value.starts_with('#'), "{value}");
        }
    }
}

#[test]
fn hostile_texts_are_drawn_and_never_acted_on() {
    for hostile in HOSTILE {
        let content = everywhere(hostile);
        for part in PARTS {
            let made = live(&content, part, &sample::photo, &address)
                .unwrap_or_else(|error| panic!("{part:?}, {hostile}: {error}"));
            assert!(!made.pages.is_empty());
            made.pages.iter().for_each(|page| is_inert(page));
        }
    }
}

#[test]
fn a_note_of_a_million_characters_is_laid_out_whole() {
    let mut content = sample(Paper::Letter);
    let pages = |content: &_| {
        let made = live(content, Part::Finding(6), &sample::photo, &address).unwrap();
        assert_eq!(made.remarks, Vec::<String>::new());
        let letters: usize = made.pages.iter().map(|page| page.matches("<use").count()).sum();
        (made.pages.len(), letters)
    };
    let (_, before) = pages(&content);
    let sentence = "A note that has no end at all and goes on. ";
    let own = content.findings[5].statement.clone();
    content.findings[5].statement = own + &sentence.repeat(24_000);
    let (count, after) = pages(&content);
    // Each letter is a shape, and at least all but the blanks are drawn.
    let drawn = sentence.chars().filter(|letter| *letter != ' ').count() * 24_000;
    assert!(count > 100 && after >= before + drawn, "{after} letters on {count} pages");
}
