//! Captions in copies of photos, their XML read back by the library `roxmltree`.

use bag::{Caption, captioned};
use inspection::Mark;
use proptest::prelude::*;

const DC: &str = "http://purl.org/dc/elements/1.1/";
const PHOTOSHOP: &str = "http://ns.adobe.com/photoshop/1.0/";

/// A start, a JFIF segment, one more segment, the beginning of a scan and its end.
fn jpeg() -> Vec<u8> {
    let jfif = b"\xff\xe0\x00\x10JFIF\0\x01\x01\0\0\x01\0\x01\0\0";
    let tables = b"\xff\xdb\x00\x04\0\0";
    let scan = b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00\x12\x34\xff\xd9";
    [b"\xff\xd8".as_slice(), jfif, tables, scan].concat()
}

/// The XMP packet, and the file without its segment, which must be the second: JFIF comes first.
fn taken_apart(bytes: &[u8]) -> (String, Vec<u8>) {
    let (start, rest) = bytes.split_at(2 + 18);
    let length = usize::from(u16::from_be_bytes([rest[2], rest[3]]));
    assert_eq!(rest[..2], [0xff, 0xe1]);
    let packet = rest[4..2 + length].strip_prefix(b"http://ns.adobe.com/xap/1.0/\0").unwrap();
    (String::from_utf8(packet.to_vec()).unwrap(), [start, &rest[2 + length..]].concat())
}

fn text_of(document: &roxmltree::Document<'_>, namespace: &str, name: &str) -> Option<String> {
    let node = document.descendants().find(|node| node.has_tag_name((namespace, name)))?;
    Some(
        node.descendants()
            .filter_map(|inner| if inner.is_text() { inner.text() } else { None })
            .collect(),
    )
}

#[test]
fn caption_time_and_marks_are_where_other_programs_look() {
    let caption = Caption {
        title: "Regulator lock-up".to_owned(),
        description: "Gauge at the test tap".to_owned(),
        taken: "2026-06-12T09:14:00-04:00".to_owned(),
        creator: "B. Inspector".to_owned(),
        keywords: vec!["regulator_lockup".to_owned()],
        original: "ab".repeat(32),
        marks: vec![
            Mark::Box { from: (0.6, 0.7), to: (0.2, 0.1) },
            Mark::Arrow { from: (0.1, 0.1), to: (0.5, 0.5) },
            Mark::Words { at: (0.3, 0.4), text: "here".to_owned() },
        ],
    };
    let (packet, rest) = taken_apart(&captioned(&jpeg(), &caption).unwrap().bytes);
    assert_eq!(rest, jpeg(), "the picture itself is untouched");
    let document = roxmltree::Document::parse(&packet).unwrap();
    let said = |namespace, name| text_of(&document, namespace, name).unwrap();
    assert_eq!(said(DC, "title"), "Regulator lock-up");
    assert_eq!(said(DC, "description"), "Gauge at the test tap");
    assert_eq!(said(DC, "source"), format!("sha256:{}", "ab".repeat(32)));
    assert_eq!(said(PHOTOSHOP, "DateCreated"), "2026-06-12T09:14:00-04:00");
    let iptc = "http://iptc.org/std/Iptc4xmpExt/2008-02-29/";
    let shapes: Vec<&str> = document
        .descendants()
        .filter(|node| node.has_tag_name((iptc, "rbShape")))
        .filter_map(|node| node.text())
        .collect();
    assert_eq!(shapes, ["rectangle", "polygon", "polygon"]);
    assert_eq!(said(iptc, "rbW"), "0.40000");
}

proptest! {
    #[test]
    fn any_words_are_read_back_as_they_were(words in any::<String>()) {
        let caption = Caption { description: format!("_{words}_"), ..Caption::default() };
        let (packet, rest) = taken_apart(&captioned(&jpeg(), &caption).unwrap().bytes);
        prop_assert_eq!(rest, jpeg());
        let document = roxmltree::Document::parse(&packet).unwrap();
        // What XML has no way of writing is replaced.
        let unwritable = |letter: char| (letter < ' ' && !"\t\n\r".contains(letter)) || matches!(letter, '\u{fffe}' | '\u{ffff}');
        let expected: String = caption.description.chars().map(|letter| if unwritable(letter) { '\u{fffd}' } else { letter }).collect();
        prop_assert_eq!(text_of(&document, DC, "description").unwrap(), expected);
    }
}

/// The copy that is made whatever the caption holds; what it says it left out.
fn read_back(caption: &Caption) -> (String, String) {
    let made = captioned(&jpeg(), caption).unwrap();
    let (packet, rest) = taken_apart(&made.bytes);
    assert_eq!(rest, jpeg(), "the picture itself is untouched");
    let document = roxmltree::Document::parse(&packet).unwrap();
    let said = text_of(&document, PHOTOSHOP, "Instructions").unwrap_or_default();
    let in_words = format!(
        "Shortened to fit into this file: {}. The record of the job has it in full.",
        made.shortened
    );
    let expected = if made.shortened.is_empty() { String::new() } else { in_words };
    assert_eq!(said, expected, "the copy says what its maker is told");
    (packet, made.shortened)
}

#[test]
fn a_million_letters_are_cut_and_what_is_no_photo_is_left() {
    let long = Caption {
        description: "ж<".repeat(500_000),
        title: "<&".repeat(500_000),
        ..Caption::default()
    };
    let (packet, shortened) = read_back(&long);
    assert_eq!(shortened, "title, description");
    let document = roxmltree::Document::parse(&packet).unwrap();
    let said = text_of(&document, DC, "description").unwrap();
    assert_eq!(said.chars().count(), 2001);
    assert!(said.ends_with('…'));
    for bad in [b"".as_slice(), b"\xff\xd8", b"\xff\xd8\xff\xe0\xff\xff", b"\x89PNG\r\n"] {
        assert_eq!(captioned(bad, &Caption::default()), None);
    }
}

#[test]
fn no_copy_goes_missing_because_its_caption_is_too_long() {
    let words = |count: usize| Mark::Words { at: (0.1, 0.2), text: "\"".repeat(count) };
    let quotes = "\"".repeat(3_000);
    let keywords = vec![quotes.clone(); 5];
    let all_long = Caption {
        title: quotes.clone(),
        description: quotes.clone(),
        creator: quotes,
        keywords,
        ..Caption::default()
    };
    let (_, shortened) = read_back(&all_long);
    assert_eq!(shortened, "title, description, name, keywords");
    let marked =
        |marks: Vec<Mark>| Caption { title: "Tires".to_owned(), marks, ..Caption::default() };
    let (packet, shortened) = read_back(&marked(vec![words(1_900); 20]));
    assert_eq!(shortened, "words of marks");
    assert_eq!(packet.matches("rId>mark-").count(), 20);
    let (packet, shortened) = read_back(&marked(vec![words(10); 2_000]));
    assert_eq!(shortened, "62 of 2000 marks");
    assert_eq!(packet.matches("rId>mark-").count(), 62);
    // What fits is whole and says nothing of itself.
    assert_eq!(read_back(&marked(vec![words(10); 20])).1, "");
}

#[test]
fn bytes_that_fill_up_before_a_marker_stay_where_they_are() {
    let filled = [b"\xff\xd8\xff".as_slice(), &jpeg()[2..]].concat();
    let made = captioned(&filled, &Caption::default()).unwrap();
    assert!(made.bytes.starts_with(b"\xff\xd8\xff\xe1") && made.bytes.ends_with(&filled[2..]));
}
