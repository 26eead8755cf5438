//! What a bag is made of: always the same bytes, by the rules of others.

use std::io::Cursor;

use bag::{Bag, BagInfo, Container, File, Sha256, ZipContainer, place, verify};
use record::Record;

use crate::sample::{assembled, in_memory, memo_id, record, released, state};

#[test]
fn the_same_release_gives_the_same_bytes() {
    let pack = || {
        let bag = released();
        let mut packed = Vec::new();
        bag::write_zip("x", &bag.files, &mut packed, &mut |file| Ok(file.bytes.clone().unwrap()))
            .unwrap();
        packed
    };
    assert_eq!(pack(), pack());
}

#[test]
fn the_zip_file_holds_what_the_folder_holds() {
    let bag = released();
    let mut packed = Vec::new();
    bag::write_zip("x", &bag.files, &mut packed, &mut |file| Ok(file.bytes.clone().unwrap()))
        .unwrap();
    let mut container = ZipContainer::open(Cursor::new(packed)).unwrap();
    assert_eq!(container.folder, "x");
    let paths = container.list().unwrap();
    let read = paths.into_iter().map(|(path, _)| (path.clone(), container.bytes(&path).unwrap()));
    assert_eq!(read.collect::<std::collections::BTreeMap<_, _>>(), in_memory(&bag));
}

/// A record that got its changes one by one, in another order or as a whole is written as the same bytes.
#[test]
fn the_record_s_bytes_do_not_tell_how_its_changes_came() {
    let mut one = record();
    let mut other = one.clone();
    let author = |device: u8| record::Author::new([device; 16], "B. Inspector");
    let note = |letter: &str| record::Edit::AddPhoto {
        id: inspection::PhotoId::from(letter.repeat(64)),
        photo: Box::default(),
    };
    // Two devices at once.
    one.edit_together(&author(2), 1_781_000_050, vec![note("c")]).unwrap();
    other.edit_together(&author(3), 1_781_000_040, vec![note("d")]).unwrap();
    let changes = |record: &Record| record.changes_after(&[]);
    let (mut first, mut second) = (one.clone(), other.clone());
    for change in changes(&other) {
        first.apply(&change.bytes).unwrap();
    }
    for change in changes(&one) {
        second.apply(&change.bytes).unwrap();
    }
    let bytes = bag::record_bytes(&first).unwrap();
    assert_eq!(bytes, bag::record_bytes(&second).unwrap());
    let reloaded = Record::load([bytes.as_slice()]).unwrap();
    assert_eq!(bytes, bag::record_bytes(&reloaded).unwrap());
    assert_eq!(reloaded.inspection(), first.inspection());
}

#[test]
fn a_path_that_no_bag_may_have_is_refused() {
    for path in ["bagit.txt", "data/../x", "/data/x", "data/ü"] {
        let said = Bag::assemble(vec![File::new(path, "x")], &BagInfo::default()).unwrap_err();
        assert!(said.contains("is no path"), "{said}");
    }
    let twice = vec![File::new("data/A", "1"), File::new("data/a", "2")];
    assert!(Bag::assemble(twice, &BagInfo::default()).is_err());
}

#[test]
fn a_description_with_line_breaks_stays_one_line() {
    let info = BagInfo { description: "one\nPayload-Oxum: 0.0".to_owned(), ..BagInfo::default() };
    let bag = Bag::assemble(vec![File::new("data/x", "abc")], &info).unwrap();
    let text = in_memory(&bag).remove("bag-info.txt").unwrap();
    let text = String::from_utf8(text).unwrap();
    assert_eq!(text, "External-Description: one Payload-Oxum: 0.0\nPayload-Oxum: 3.1\n");
}

#[test]
fn every_file_of_the_data_is_described() {
    let files = in_memory(&released());
    let metadata: serde_json::Value = serde_json::from_slice(&files[place::CRATE]).unwrap();
    let graph = metadata["@graph"].as_array().unwrap();
    let described =
        |id: &str| graph.iter().any(|entity| entity["@id"] == id && entity["@type"] == "File");
    for path in files.keys().filter(|path| path.starts_with("data/") && *path != place::CRATE) {
        assert!(described(path.strip_prefix("data/").unwrap()), "{path}");
    }
}

#[test]
fn a_voice_memo_lies_in_the_bag_under_its_hash_with_its_media_type() {
    let files = in_memory(&released());
    let path = format!("data/memos/{}.webm", memo_id(b'm'));
    assert_eq!(Sha256::of(&files[&path]).to_string(), memo_id(b'm').to_string());
    let metadata: serde_json::Value = serde_json::from_slice(&files[place::CRATE]).unwrap();
    let graph = metadata["@graph"].as_array().unwrap();
    let described =
        graph.iter().find(|entity| entity["@id"] == path.strip_prefix("data/").unwrap()).unwrap();
    assert_eq!(described["encodingFormat"], "audio/webm");
    // The one that was struck out is in the record and nowhere else.
    assert_eq!(files.keys().filter(|path| path.starts_with("data/memos/")).count(), 1);
    let record: serde_json::Value = serde_json::from_slice(&files[place::RECORD_JSON]).unwrap();
    let memos = record["memos"].as_array().unwrap();
    let of = |letter| memos.iter().find(|one| one["sha256"] == memo_id(letter).as_str()).unwrap();
    assert!(of(b'm')["struck_out"].is_null());
    assert_eq!(of(b'n')["struck_out"]["reason"], "spoken by mistake");
    assert_eq!((&of(b'm')["seconds"], &of(b'm')["point"]), (&12.into(), &"tyres".into()));
}

#[test]
fn a_voice_memo_that_is_not_there_is_named_unless_the_bag_says_so_itself() {
    let record = record();
    let absent = memo_id(b'm').to_string();
    let mut state = state(&record, None);
    let faults = |state: &bag::State| {
        let mut files = in_memory(&assembled(&record, state));
        files.retain(|path, _| !path.starts_with("data/memos/"));
        let found = verify(&mut files, &mut |_, _| {}).unwrap();
        found.faults.into_iter().filter(|fault| fault.what.contains("record has")).count()
    };
    assert_eq!(faults(&state), 1);
    // A state without the list reads as it did before there were memos.
    assert!(!state.to_json().contains("absent_memos"));
    state.absent_memos.push(absent);
    assert_eq!(bag::State::read(state.to_json().as_bytes()).unwrap(), state);
    assert_eq!(faults(&state), 0);
}
