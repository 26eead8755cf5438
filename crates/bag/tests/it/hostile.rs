//! Text of the record is text in every file of the bag: read back by the libraries of others, it says what was entered.

use bag::{BagInfo, Caption, Description, File, captioned};
use findings::{Assessment, assess};
use inspection::{
    FindingId, Inspection, Photo, PhotoId, PointId, Reading, ReadingId, RecordedFinding,
};
use testkit::{HOSTILE, LOCKUP, TAPS, inspection_of, plan_of};

/// An inspection with a hostile text wherever the tables and the JSON print one.
fn inspection(text: &str) -> Inspection {
    let reading = Reading {
        point: PointId::from(text),
        name: text.to_owned(),
        entry: text.to_owned(),
        position: text.to_owned(),
        instrument: None,
        at: None,
        by: text.to_owned(),
        struck_out: None,
    };
    let photo = Photo { file_name: text.to_owned(), caption: text.to_owned(), ..Photo::default() };
    let mut inspection = Inspection::default();
    inspection.job.client.name = text.to_owned();
    inspection.readings.insert(ReadingId::from("r1"), reading);
    inspection.photos.insert(PhotoId::from("p1"), photo);
    inspection
}

#[test]
fn tables_say_what_was_entered_and_begin_no_formula() {
    for text in HOSTILE {
        let table = bag::readings_table(&inspection(text));
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), 1, "{text}");
        let entry = &rows[0][4];
        assert!(!entry.starts_with(['=', '+', '-', '@']), "{entry}");
        assert_eq!(entry.strip_prefix('\'').unwrap_or(entry), text);
    }
}

/// The same text in a finding of a person's own words. Values are numbers and words of the plan: an entry that is neither
/// stands in the table of readings alone.
fn assessment(text: &str) -> Assessment {
    let plan = plan_of(&[LOCKUP, TAPS]);
    let mut inspection = inspection_of(
        "travel_trailer built 2019-06-01 visited 2026-06-12 fitted gas water\nlockup pressure = 15.2 inH2O",
    );
    let own = RecordedFinding {
        title: text.to_owned(),
        statement: text.to_owned(),
        who: text.to_owned(),
        ..RecordedFinding::blank("", None)
    };
    inspection.findings.insert(FindingId::from("f1"), own);
    assess(&plan, &inspection)
}

#[test]
fn the_table_of_findings_says_what_was_entered_and_begins_no_formula() {
    for text in HOSTILE {
        let assessment = assessment(text);
        let table = bag::findings_table(&assessment);
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let own = rows.iter().find(|row| row.iter().any(|cell| cell.ends_with(text))).unwrap();
        // Heading, statement, whom to call.
        let cells = own.iter().filter(|cell| cell.strip_prefix('\'').unwrap_or(cell) == text);
        assert_eq!(cells.count(), 3, "{own:?}");
        assert_eq!(rows.len(), assessment.findings.len());
        let all = rows.iter().flatten();
        assert!(all.clone().all(|cell| !cell.starts_with(['=', '+', '@'])), "{table}");
    }
}

#[test]
fn a_note_of_a_million_characters_is_one_cell_and_one_text() {
    let note = "It has \"no end\", goes on;\nand on. ".repeat(32_000);
    assert!(note.len() >= 1_000_000);
    let table = bag::findings_table(&assessment(&note));
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert!(rows.iter().any(|row| row.iter().any(|cell| cell == note)));
    let json = bag::record_json(&inspection(&note), &[]).to_string();
    assert!(says(&serde_json::from_str(&json).unwrap(), &note));
}

#[test]
fn the_records_json_and_the_crates_metadata_say_what_was_entered() {
    for text in HOSTILE {
        let json = bag::record_json(&inspection(text), &[]).to_string();
        let read: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert!(says(&read, text), "{json}");
        let about = Description { name: text.to_owned(), ..Description::default() };
        let metadata = bag::crate_metadata(&[File::new("data/x", "1")], &about);
        let read: serde_json::Value = serde_json::from_str(&metadata).unwrap();
        assert!(says(&read, text), "{metadata}");
    }
}

/// Whether a text stands anywhere in it, as a whole.
fn says(value: &serde_json::Value, text: &str) -> bool {
    match value {
        serde_json::Value::String(one) => one == text,
        serde_json::Value::Array(values) => values.iter().any(|one| says(one, text)),
        serde_json::Value::Object(map) => map.values().any(|one| says(one, text)),
        _ => false,
    }
}

#[test]
fn a_caption_inside_a_photo_is_text() {
    let photo = b"\xff\xd8\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00\x12\x34\xff\xd9";
    for text in HOSTILE {
        let caption =
            Caption { title: text.to_owned(), description: text.to_owned(), ..Caption::default() };
        let bytes = captioned(photo, &caption).unwrap().bytes;
        let from = bytes.windows(5).position(|window| window == b"<x:xm").unwrap();
        let to = bytes.windows(10).position(|window| window == b"</x:xmpmet").unwrap();
        let packet = String::from_utf8(bytes[from..to + "</x:xmpmeta>".len()].to_vec()).unwrap();
        let document = roxmltree::Document::parse(&packet).unwrap();
        let told =
            document.descendants().filter(|node| node.is_text() && node.text() == Some(text));
        // Title, description, and the text for those who cannot see it.
        assert_eq!(told.count(), 3, "{packet}");
    }
}

#[test]
fn the_bags_own_description_stays_one_line_each() {
    for text in HOSTILE {
        let info = BagInfo { description: text.to_owned(), ..BagInfo::default() };
        let bag = bag::Bag::assemble(vec![File::new("data/x", "abc")], &info).unwrap();
        let file = bag.files.iter().find(|file| file.path == "bag-info.txt").unwrap();
        let told = String::from_utf8(file.bytes.clone().unwrap()).unwrap();
        assert_eq!(told, format!("External-Description: {text}\nPayload-Oxum: 3.1\n"));
    }
}
