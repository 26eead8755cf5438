//! What a bag is made of: always the same bytes, by the rules of others.

use std::io::Cursor;

use bag::{Bag, BagInfo, Container, File, ZipContainer, place};
use record::Record;

use crate::sample::{in_memory, record, released};

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
