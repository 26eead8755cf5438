//! Archival, accessible, reproducible.

use report::content::{Content, Form, Paper};
use report::{Stage, typeset, typeset_into};

use crate::sample::{self, sample};
use crate::tools::{File, typeset_sample};

#[test]
fn the_file_declares_both_standards_and_is_sound() {
    let made = typeset_sample(&sample(Paper::Letter));
    assert_eq!(made.remarks, Vec::<String>::new());
    let file = File::new(&made.pdf);
    file.assert_sound();
    assert_eq!(file.info("Tagged"), "yes");
    assert_eq!(file.info("Title"), "Inspection of a travel trailer before purchase");
    assert_eq!(file.info("Pages"), made.pages.to_string());
    assert_eq!(file.info("CreationDate").split_whitespace().last(), Some("UTC"));
    let bytes = String::from_utf8_lossy(&made.pdf);
    for declared in [
        "<pdfaid:part>3</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
    ] {
        assert!(bytes.contains(declared), "{declared}");
    }
}

#[test]
fn the_same_content_gives_the_same_bytes() {
    let first = typeset_sample(&sample(Paper::A4));
    let between = typeset_sample(&sample(Paper::Letter));
    let second = typeset_sample(&sample(Paper::A4));
    let mut in_pieces = Vec::new();
    let photos = &sample::photo;
    let printed =
        typeset_into(&sample(Paper::A4), sample::RECORD, photos, &|_| {}, &mut in_pieces).unwrap();
    assert_eq!((printed.bytes, printed.pages), (first.pdf.len(), first.pages));
    assert!(in_pieces == first.pdf, "written in pieces it is another file");
    assert_ne!(first.pdf, between.pdf);
    assert!(first.pdf == second.pdf, "two runs over the same content differ");
}

#[test]
fn another_release_has_another_identifier() {
    let one = sample(Paper::Letter);
    let other = Content { ident: "sample-0002".into(), ..one.clone() };
    assert!(typeset_sample(&one).pdf != typeset_sample(&other).pdf);
}

#[test]
fn the_record_and_the_data_of_the_pages_are_attached_byte_for_byte() {
    for form in [Form::Full, Form::Short] {
        let content = Content { form, ..sample(Paper::Letter) };
        let file = File::new(&typeset_sample(&content).pdf);
        let (list, read) = file.ask("pdfdetach", &["-list"], &[]);
        assert!(read, "{list}");
        assert!(list.starts_with("2 embedded files"), "{list}");
        assert!(list.contains(": record.json") && list.contains(": report.json"), "{list}");
        let (list, read) = file.ask("qpdf", &["--list-attachments"], &[]);
        assert!(read, "{list}");
        let names: Vec<&str> =
            list.lines().filter_map(|line| line.split_whitespace().next()).collect();
        assert_eq!(names, ["record.json", "report.json"]);

        let data = serde_json::to_vec_pretty(&content).unwrap();
        assert_eq!(serde_json::from_slice::<Content>(&data).unwrap(), content);
        for (name, expected) in [("record.json", sample::RECORD), ("report.json", &data)] {
            assert!(file.attached(name) == expected, "{name} is not what was attached");
        }
    }
}

/// ISO 19005-3, 6.8: each attached file says how it relates to the document, and the document names each.
#[test]
fn the_record_is_attached_as_the_source_and_the_content_as_the_data() {
    let file = File::new(&typeset_sample(&sample(Paper::Letter)).pdf);
    let (json, read) = file.ask("qpdf", &["--json=1", "--json-key=objects"], &[]);
    assert!(read);
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    let objects = value["objects"].as_object().unwrap();
    let mut relations: Vec<(&str, &str)> = objects
        .values()
        .filter(|object| object["/Type"] == "/Filespec")
        .map(|one| (one["/UF"].as_str().unwrap(), one["/AFRelationship"].as_str().unwrap()))
        .collect();
    relations.sort_unstable();
    assert_eq!(relations, [("record.json", "/Source"), ("report.json", "/Data")]);
    let catalog = objects.values().find(|object| object["/Type"] == "/Catalog").unwrap();
    let associated = match &catalog["/AF"] {
        serde_json::Value::String(elsewhere) => &objects[elsewhere],
        here => here,
    };
    assert_eq!(associated.as_array().unwrap().len(), 2, "{associated}");
}

#[test]
fn every_photo_and_drawing_has_words_for_those_who_cannot_see_it() {
    let file = File::new(&typeset_sample(&sample(Paper::Letter)).pdf);
    let (json, read) = file.ask("qpdf", &["--json=1", "--json-key=objects"], &[]);
    assert!(read);
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    let objects = value["objects"].as_object().unwrap();
    let figures: Vec<_> = objects.values().filter(|object| object["/S"] == "/Figure").collect();
    // Every photo once, the first also on the front page; the unit from above and from two sides; one day.
    assert_eq!(figures.len(), sample::PHOTOS + 5);
    let known =
        ["Photo of: ", "Plan view", "The unit's left side", "The unit's front", "over time"];
    for figure in &figures {
        let alt = figure["/Alt"].as_str().unwrap();
        assert!(known.iter().any(|words| alt.contains(words)), "{alt}");
    }
    let language = objects.values().find(|object| object["/Type"] == "/Catalog").unwrap();
    assert_eq!(language["/Lang"], "en-US");
}

#[test]
fn progress_is_told_in_order() {
    let told = std::cell::RefCell::new(Vec::new());
    typeset(&sample(Paper::Letter), sample::RECORD, &sample::photo, &|stage| {
        told.borrow_mut().push(stage);
    })
    .unwrap();
    assert_eq!(told.into_inner(), [Stage::Photos, Stage::Layout, Stage::Writing]);
}
