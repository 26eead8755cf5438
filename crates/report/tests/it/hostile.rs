//! Text of the record is text, whatever it says and however long it is.

use report::content::{Content, Mark, Paper, Place, Point, UseKind};

use crate::sample::sample;
use crate::tools::{File, typeset_sample};

/// The sample with this text in every place that takes text.
pub(crate) fn everywhere(text: &str) -> Content {
    let mut value = serde_json::to_value(sample(Paper::Letter)).unwrap();
    fill(&mut value, text);
    let filled: Content = serde_json::from_value(value).unwrap();
    // Photos keep their ids, or none would be found.
    let ids = sample(Paper::Letter).photos.into_iter().map(|photo| photo.id);
    let photos = filled
        .photos
        .iter()
        .zip(ids)
        .map(|(photo, id)| report::content::Photo { id, ..photo.clone() })
        .collect();
    Content { photos, ..filled }
}

/// Words that are keys of the data, not text.
const KEYS: [&str; 28] = [
    "full",
    "short",
    "letter",
    "a4",
    "tow",
    "power",
    "gas",
    "water",
    "stay",
    "clear",
    "held",
    "open",
    "before_use",
    "soon",
    "in_time",
    "conforms",
    "does_not_conform",
    "undecided",
    "beyond_guidance",
    "within_guidance",
    "no_limit",
    "law",
    "standard",
    "maker",
    "practice",
    "in_date",
    "overdue",
    "not_fitted",
];

fn fill(value: &mut serde_json::Value, text: &str) {
    match value {
        serde_json::Value::String(old)
            if KEYS.contains(&old.as_str())
                || matches!(old.as_str(), "unknown" | "left" | "right" | "front" | "rear") => {}
        serde_json::Value::String(old) => text.clone_into(old),
        serde_json::Value::Array(values) => values.iter_mut().for_each(|one| fill(one, text)),
        serde_json::Value::Object(map) => map.values_mut().for_each(|one| fill(one, text)),
        _ => {}
    }
}

#[test]
fn the_typesetters_language_in_a_text_is_printed_as_it_was_written() {
    let hostile = "#panic(\"x\") #import \"/main.typ\": * $x^2$ *b* _i_ <l> @r \\ // `raw` ]} = H";
    let made = typeset_sample(&everywhere(hostile));
    let file = File::new(&made.pdf);
    file.assert_sound();
    assert!(file.text().contains("#panic(\"x\") #import \"/main.typ\""), "{}", file.text());
    assert_eq!(made.remarks, Vec::<String>::new());
}

#[test]
fn tags_in_a_text_stay_text_in_the_drawings_and_the_metadata() {
    let hostile = "</text></svg><script>1</script>&amp;\"'<!-- ]]> -->";
    let made = typeset_sample(&everywhere(hostile));
    let file = File::new(&made.pdf);
    file.assert_sound();
    assert_eq!(file.info("Title"), hostile);
}

#[test]
fn characters_without_a_shape_do_not_stop_the_report_and_are_counted() {
    let strange = "ok \u{0}\u{7}\u{1b}[0m \u{202e}gnp.exe 👩‍🚒 שלום مرحبا 漢字 \u{e000}\u{fffe} e\u{301}\u{353} z";
    let made = typeset_sample(&everywhere(strange));
    File::new(&made.pdf).assert_sound();
    assert_eq!(made.remarks.len(), 1, "{:?}", made.remarks);
    let text = File::new(&made.pdf).text();
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("cannot be set in this report"), "{words}");
    assert!(text.contains("gnp.exe"), "{text}");
    // Hebrew and Arabic are set; for what is not, words stand in its place.
    assert!(words.contains("[text in another script: kept in the record, attached]"), "{words}");
    assert!(words.contains("[sign: kept in the record, attached]"), "{words}");
    assert!(!words.contains('\u{fffd}'), "{words}");
    let letters: String =
        text.chars().filter(|letter| ('\u{5d0}'..='\u{5ea}').contains(letter)).collect();
    assert!(letters.contains("שלום") || letters.contains("םולש"), "{letters}");
}

#[test]
fn very_long_notes_run_over_as_many_pages_as_they_need() {
    let mut content = sample(Paper::Letter);
    let note = "A long sentence about a long day with many words in it. ".repeat(600);
    content.findings[0].statement.clone_from(&note);
    content.photos[1].caption.clone_from(&note);
    content.systems[0].readings[0].remark.clone_from(&note);
    content.not_examined[0].reason.clone_from(&note);
    content.uses[0].sentence = note[..1500].to_owned();
    content.terms[0].text.clone_from(&note);
    let made = typeset_sample(&content);
    let file = File::new(&made.pdf);
    file.assert_sound();
    // Every sentence is there: nothing ran off a page.
    let text = file.text().split_whitespace().collect::<Vec<_>>().join(" ");
    let sentences = text.matches("long day with many").count();
    assert!(sentences >= 5 * 590, "{sentences} sentences on {} pages", made.pages);
}

#[test]
fn one_of_each_kind_of_hostile_text_is_printed_as_text() {
    let all = testkit::HOSTILE.join("\n");
    let made = typeset_sample(&everywhere(&all));
    let file = File::new(&made.pdf);
    file.assert_sound();
    // Long words are broken at the margins; what counts is that every letter is there.
    let letters = |text: &str| text.replace('\u{200b}', "").split_whitespace().collect::<String>();
    let text = letters(&file.text());
    for piece in [
        "<script>alert(1)</script>",
        "<text>drawn</text></svg>",
        "gnp.exe",
        "=1+1",
        "#panic(\"x\")",
        "]]> -->",
    ] {
        assert!(text.contains(&letters(piece)), "{piece}: {text}");
    }
}

#[test]
fn a_note_of_a_million_characters_is_printed_whole() {
    let mut content = sample(Paper::Letter);
    // Fifty letters a sentence, each with its number.
    let note: String = (0..20_500)
        .map(|number| format!("Sentence {number:05} of a note that has no end at all. "))
        .collect();
    assert!(note.len() >= 1_000_000, "{}", note.len());
    content.findings[0].statement = note;
    let made = typeset_sample(&content);
    let text = File::new(&made.pdf).text();
    // Page heads and feet stand between sentences; each sentence's number is one word.
    let words: std::collections::BTreeSet<&str> = text.split_whitespace().collect();
    let lost: Vec<String> = (0..20_500)
        .map(|number| format!("{number:05}"))
        .filter(|number| !words.contains(number.as_str()))
        .collect();
    assert_eq!(lost, Vec::<String>::new());
}

#[test]
fn a_word_without_end_is_broken_at_the_margin() {
    let made = typeset_sample(&everywhere(&"W".repeat(400)));
    let file = File::new(&made.pdf);
    file.assert_sound();
    let (boxes, read) = file.ask("pdftotext", &["-bbox"], &["-"]);
    assert!(read);
    let beyond: Vec<&str> = boxes
        .lines()
        .filter(|line| {
            let right = line.split_once("xMax=\"").and_then(|(_, rest)| rest.split_once('"'));
            right
                .and_then(|(right, _)| right.parse::<f64>().ok())
                .is_some_and(|right| right > 612.0)
        })
        .collect();
    assert_eq!(beyond, [""; 0], "words beyond the right edge of the page");
}

#[test]
fn many_findings_at_one_place_each_keep_a_pin() {
    let mut content = sample(Paper::A4);
    let first = content.findings[0].clone();
    for along in 0..60_u8 {
        let place = Place { along: f64::from(along % 3) / 2.0, across: 1.0 };
        content.findings.push(report::content::Finding { place: Some(place), ..first.clone() });
    }
    content.uses[0].findings = (1..=content.findings.len()).collect();
    let made = typeset_sample(&content);
    File::new(&made.pdf).assert_sound();
    let views = report::drawing::views(&content);
    let plan = &views.drawn[0];
    assert_eq!(plan.pins.len(), 65);
    for (at, pin) in plan.pins.iter().enumerate() {
        for other in &plan.pins[..at] {
            let (x, y) = (pin.shown.0 - other.shown.0, pin.shown.1 - other.shown.1);
            assert!(x * x + y * y > 24.0 * 24.0, "{} covers {}", pin.number, other.number);
        }
    }
    assert_eq!(views.nowhere, [6]);
}

#[test]
fn marks_may_touch_the_edges_of_a_photo() {
    let mut content = sample(Paper::Letter);
    let corner = Point { x: 1.0, y: 1.0 };
    content.photos[0].marks = vec![
        Mark::Arrow { from: corner, to: corner },
        Mark::Box { from: corner, to: Point { x: 0.0, y: 0.0 } },
        Mark::Circle { from: corner, to: Point { x: 0.0, y: 0.0 } },
        Mark::Words { at: corner, text: "<b> & \u{1}👍".into() },
    ];
    File::new(&typeset_sample(&content).pdf).assert_sound();
}

#[test]
fn all_five_uses_may_be_stopped_by_one_finding() {
    let mut content = sample(Paper::Letter);
    content.findings[0].stops = UseKind::ALL.to_vec();
    File::new(&typeset_sample(&content).pdf).assert_sound();
}
