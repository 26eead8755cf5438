//! Blobs: whole files by the hash of what is in them.

use std::fs::{self, File};

use store::{Fault, Sha256Hex, Store};

use crate::child::Dice;

#[test]
fn a_blob_comes_back_under_its_hash_after_reopening() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let contents = [Vec::new(), b"one".to_vec(), Dice(1).bytes(1_000_000)];
    for bytes in &contents {
        let hash = store.put_blob(bytes).unwrap();
        assert_eq!(hash, Sha256Hex::of(bytes));
        assert_eq!(store.put_blob(bytes).unwrap(), hash, "a repeat");
    }
    drop(store);
    let store = Store::open(folder.path()).unwrap();
    for bytes in &contents {
        let hash = Sha256Hex::of(bytes);
        assert!(store.has_blob(&hash).unwrap());
        assert!(store.blob(&hash).unwrap().unwrap() == *bytes);
    }
    let mut listed: Vec<u64> = store.blobs().unwrap().iter().map(|blob| blob.size).collect();
    listed.sort_unstable();
    assert_eq!(listed, [0, 3, 1_000_000]);
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

#[test]
fn a_blob_that_was_never_kept_is_none() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let hash = Sha256Hex::of(b"never");
    assert!(!store.has_blob(&hash).unwrap());
    assert_eq!(store.blob(&hash).unwrap(), None);
}

#[test]
fn a_large_file_is_kept_piece_by_piece_under_the_same_name_as_its_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("data")).unwrap();
    let bytes = Dice(2).bytes(3_000_001);
    let film = folder.path().join("film");
    fs::write(&film, &bytes).unwrap();
    let hash = store.put_blob_from_file(&film).unwrap();
    assert_eq!(hash, Sha256Hex::of(&bytes));
    assert_eq!(store.put_blob_from_file(&film).unwrap(), hash, "a repeat");
    assert_eq!(store.put_blob(&bytes).unwrap(), hash, "a repeat from memory");
    assert!(store.blob(&hash).unwrap().unwrap() == bytes);
    assert_eq!(store.blobs().unwrap().len(), 1);
    assert_eq!(incoming(&store), 0);

    let error = store.put_blob_from_file(&folder.path().join("none")).unwrap_err();
    assert!(error.to_string().contains("none did not work"), "{error}");
    let error = store.put_blob_from_file(folder.path()).unwrap_err();
    assert!(error.to_string().starts_with("reading "), "{error}");
    assert_eq!(incoming(&store), 0);
}

#[test]
fn what_a_crashed_writer_left_is_swept_only_while_nobody_else_is_writing() {
    let folder = tempfile::tempdir().unwrap();
    let writing = Store::open(folder.path()).unwrap();
    let unfinished = folder.path().join("incoming").join("1-0");
    File::create(&unfinished).unwrap();
    drop(Store::open(folder.path()).unwrap());
    assert!(unfinished.exists(), "it may be the other handle's");
    drop(writing);
    drop(Store::open(folder.path()).unwrap());
    assert!(!unfinished.exists());
}

/// The file is in place and the row is not: a crash in between.
#[test]
fn a_whole_file_without_a_row_is_not_kept_until_it_is_put_again() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let hash = Sha256Hex::of(b"photo");
    let file = folder.path().join("blobs").join(&hash.as_str()[..2]).join(hash.as_str());
    fs::create_dir(file.parent().unwrap()).unwrap();
    fs::write(&file, b"photo").unwrap();
    assert!(!store.has_blob(&hash).unwrap());
    assert_eq!(store.blob(&hash).unwrap(), None);
    let faults = store.verify(&mut |_| {}).unwrap();
    assert_eq!(
        faults,
        [Fault::FileUnrecorded {
            path: store.folder().join("blobs").join(&hash.as_str()[..2]).join(hash.as_str())
        }]
    );
    assert!(!faults[0].is_loss());
    store.put_blob(b"photo").unwrap();
    assert_eq!(store.blob(&hash).unwrap().unwrap(), b"photo");
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

pub(crate) fn incoming(store: &Store) -> usize {
    fs::read_dir(store.folder().join("incoming")).unwrap().count()
}
