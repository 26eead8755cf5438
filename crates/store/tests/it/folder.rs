//! Which folders are taken as a store, and which are left alone.

use std::{fs, path::Path};

use rusqlite::Connection;
use store::{JobId, Store, StoreError};

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_missing_folder_is_made_with_all_above_it() {
    let root = tempfile::tempdir().unwrap();
    let folder = root.path().join("a").join("b");
    drop(Store::open(&folder).unwrap());
    assert_eq!(names(&folder), ["blobs", "incoming", "store.lock", "store.sqlite", "uploads"]);
}

#[test]
fn a_folder_with_something_else_in_it_is_refused_and_left_as_it_was() {
    let root = tempfile::tempdir().unwrap();
    fs::write(root.path().join("letter.txt"), "dear").unwrap();
    let error = Store::open(root.path()).unwrap_err();
    assert!(matches!(error, StoreError::NotOurs { .. }), "{error:?}");
    assert_eq!(
        error.to_string(),
        format!(
            "{} is not a store of this program: it holds \"letter.txt\" but no store.sqlite; \
             name an empty or new folder",
            root.path().display()
        )
    );
    assert_eq!(names(root.path()), ["letter.txt"]);

    let error = Store::open(&root.path().join("letter.txt")).unwrap_err();
    assert!(error.to_string().contains("it is a file"), "{error}");
}

#[test]
fn a_database_of_another_program_is_refused_and_left_as_it_was() {
    let root = tempfile::tempdir().unwrap();
    let database = root.path().join("store.sqlite");
    for make in [
        |path: &Path| {
            let other = Connection::open(path).unwrap();
            other.execute_batch("create table theirs (x)").unwrap();
        },
        |path: &Path| fs::write(path, "no database at all").unwrap(),
    ] {
        make(&database);
        let before = fs::read(&database).unwrap();
        let error = Store::open(root.path()).unwrap_err();
        assert!(matches!(error, StoreError::NotOurs { .. }), "{error:?}");
        assert!(error.to_string().contains("belongs to another program"), "{error}");
        assert_eq!(names(root.path()), ["store.sqlite"]);
        assert_eq!(fs::read(&database).unwrap(), before);
        fs::remove_file(&database).unwrap();
    }
}

#[test]
fn a_database_of_another_program_is_refused_even_in_a_folder_of_ours() {
    let root = tempfile::tempdir().unwrap();
    drop(Store::open(root.path()).unwrap());
    let database = root.path().join("store.sqlite");
    fs::remove_file(&database).unwrap();
    Connection::open(&database).unwrap().execute_batch("create table theirs (x)").unwrap();
    let error = Store::open(root.path()).unwrap_err();
    assert!(matches!(error, StoreError::NotOurs { .. }), "{error:?}");
}

#[test]
fn a_store_of_a_later_program_is_refused_with_a_sentence() {
    let root = tempfile::tempdir().unwrap();
    drop(Store::open(root.path()).unwrap());
    Connection::open(root.path().join("store.sqlite"))
        .unwrap()
        .execute("insert into migration (version, sha256, applied_ms) values (9, 'later', 0)", [])
        .unwrap();
    let error = Store::open(root.path()).unwrap_err();
    let StoreError::Newer { found: 9, known: 7, .. } = error else { panic!("{error:?}") };
    assert!(error.to_string().contains("has layout 9, this program knows layouts up to 7"));
}

#[test]
fn a_store_whose_making_was_cut_off_anywhere_is_made_anew() {
    for left in [
        &[][..],
        &["blobs"],
        &["blobs", "incoming"],
        &["blobs", "incoming", "uploads"],
        &["blobs", "incoming", "store.lock"],
        &["blobs", "incoming", "store.lock", "store.sqlite"],
    ] {
        let root = tempfile::tempdir().unwrap();
        for name in left {
            match *name {
                "blobs" | "incoming" | "uploads" => fs::create_dir(root.path().join(name)).unwrap(),
                _ => fs::write(root.path().join(name), "").unwrap(),
            }
        }
        let store = Store::open(root.path()).unwrap();
        store.create_job(&JobId::new("first").unwrap(), "").unwrap();
        assert_eq!(store.verify(&mut |_| {}).unwrap(), [], "{left:?}");
    }
}

#[test]
fn a_copy_put_back_without_the_lock_file_is_a_store() {
    let root = tempfile::tempdir().unwrap();
    let store = Store::open(root.path()).unwrap();
    store.create_job(&JobId::new("kept").unwrap(), "").unwrap();
    drop(store);
    fs::remove_file(root.path().join("store.lock")).unwrap();
    fs::write(root.path().join("notes.txt"), "a backup").unwrap();
    let store = Store::open(root.path()).unwrap();
    assert_eq!(store.jobs().unwrap().len(), 1);
}
