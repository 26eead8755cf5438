//! Backups taken while others write, whole or not at all, and put back after the worst.

use std::{fs, path::Path};

use store::{BackedUp, BackupOrder, Companion, EarlierBlobs, Fault, JobId, Store, StoreError};

use crate::{
    child::{Orders, Word, check_kept},
    faults::{blob_file, companions, filled},
};

fn put_back(backup: &Path, into: &Path) -> Result<BackedUp, StoreError> {
    Store::open_existing(backup)?.restore(into, &BackupOrder::default(), &mut |_| {})
}

#[test]
fn what_was_acknowledged_before_a_backup_under_load_is_in_it_after_kill_and_restore() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let mut from = 0;
    let mut acknowledged: Vec<Word> = Vec::new();
    for round in 0..8 {
        let orders = Orders { from, count: 1_000_000, blob_every: 3, ..Orders::new(&data, "job") };
        let mut writer = orders.start("");
        acknowledged.extend(std::iter::from_fn(|| writer.next()).take(20));
        // The writer goes on meanwhile, and is killed right after.
        let store = Store::open(&data).unwrap();
        let done = store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
        assert_eq!(done.faults, []);
        drop(store);
        writer.child.kill().unwrap();
        let meanwhile = writer.rest();

        let restored = folder.path().join(format!("restored-{round}"));
        let put_back = put_back(&backup, &restored).unwrap();
        assert_eq!(put_back.faults, []);
        assert_eq!((put_back.changes, put_back.blobs), (done.changes, done.blobs));
        let store = Store::open(&restored).unwrap();
        check_kept(&store, &orders, &acknowledged);
        acknowledged.extend(meanwhile);
        let store = Store::open(&data).unwrap();
        check_kept(&store, &orders, &acknowledged);
        from = store.jobs().unwrap()[0].head_seq;
    }
}

#[test]
fn a_second_backup_copies_only_what_is_new_and_a_folder_in_use_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let store = Store::open(&data).unwrap();
    store.put_blob(b"first").unwrap();
    assert_eq!(store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap().copied, 1);
    store.put_blob(b"second").unwrap();
    let done = store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert_eq!((done.blobs, done.copied), (2, 1));

    // A backup that was opened, and so has a write-ahead file, is replaced like any other.
    let opened = Store::open(&backup).unwrap();
    opened.create_job(&JobId::new("stray").unwrap(), "").unwrap();
    let refused = store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap_err();
    assert!(matches!(refused, StoreError::Busy { .. }), "{refused:?}");
    drop(opened);
    store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert_eq!(Store::open(&backup).unwrap().jobs().unwrap(), []);

    let inside =
        store.back_up(&data.join("inside"), &BackupOrder::default(), &mut |_| {}).unwrap_err();
    assert!(matches!(inside, StoreError::Refused { .. }), "{inside:?}");
    let used = put_back(&backup, &data).unwrap_err();
    assert!(used.to_string().contains("is not empty"), "{used}");
    let nothing = put_back(&folder.path().join("nowhere"), &data.join("x"));
    assert!(nothing.unwrap_err().to_string().contains("no store.sqlite"));
}

#[test]
fn a_damaged_photo_is_named_and_left_out_of_the_backup() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let store = Store::open(&data).unwrap();
    let hash = store.put_blob(b"a photo").unwrap();
    store.put_blob(b"another").unwrap();
    fs::write(blob_file(&data, &hash), b"a ph0to").unwrap();
    let done = store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert_eq!(done.faults, [Fault::BlobDamaged { hash }]);
    assert_eq!(done.copied, 1);
}

#[test]
fn a_torn_page_of_the_database_is_found_and_the_backup_put_back() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let (jobs, _) = filled(&data);
    let order = ordered(companions(&data), &[]);
    Store::open(&data).unwrap().back_up(&backup, &order, &mut |_| {}).unwrap();
    let sound = fs::read(data.join("store.sqlite")).unwrap();
    let pages = sound.len() / 4096;
    assert!(pages > 10, "{pages}");
    for page in 1..pages {
        let mut torn = sound.clone();
        torn[page * 4096..page * 4096 + 2048].fill(0);
        if torn == sound {
            continue;
        }
        fs::write(data.join("store.sqlite"), &torn).unwrap();
        let noticed = match Store::open(&data) {
            Err(error) => format!("{error}"),
            Ok(store) => match store.verify(&mut |_| {}) {
                Err(error) => format!("{error}"),
                Ok(faults) => faults.iter().map(ToString::to_string).collect(),
            },
        };
        assert_ne!(noticed, "", "page {page}");
    }
    let restored = folder.path().join("restored");
    let kept = Store::open_existing(&backup).unwrap();
    let done = kept.restore(&restored, &order, &mut |_| {}).unwrap();
    assert_eq!((done.jobs, done.changes, done.blobs, done.faults), (3, 60, 30, vec![]));
    let store = Store::open(&restored).unwrap();
    assert_eq!(store.changes(&jobs[2], 0, 100).unwrap().len(), 20);
}

fn companion(name: &str, bytes: &str) -> Companion {
    Companion { name: name.to_owned(), bytes: bytes.into(), secret: name.ends_with(".key") }
}

fn ordered(put: Vec<Companion>, gone: &[&str]) -> BackupOrder {
    let gone = gone.iter().map(|name| (*name).to_owned()).collect();
    BackupOrder { put, gone, ..BackupOrder::default() }
}

#[test]
fn a_file_with_the_right_length_and_wrong_bytes_in_a_backup_is_copied_again() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let store = Store::open(&data).unwrap();
    let hash = store.put_blob(b"a photo").unwrap();
    store.put_blob(b"another").unwrap();
    store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    fs::write(blob_file(&backup, &hash), b"a ph0to").unwrap();

    let quick = BackupOrder { earlier: EarlierBlobs::Measured, ..BackupOrder::default() };
    let done = store.back_up(&backup, &quick, &mut |_| {}).unwrap();
    assert_eq!((done.copied, done.replaced), (0, 0), "by its length alone it is there");
    let done = store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert_eq!((done.copied, done.replaced, done.faults), (1, 1, vec![]));
    assert_eq!(fs::read(blob_file(&backup, &hash)).unwrap(), b"a photo");
    let done = store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert_eq!((done.copied, done.replaced), (0, 0));
}

#[test]
fn files_beside_the_store_come_and_go_with_the_backup_and_are_sealed_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let store = Store::open(&data).unwrap();
    let first = vec![companion("own.key", "secret"), companion("texts/es/a.toml", "hola")];
    store.back_up(&backup, &ordered(first, &[]), &mut |_| {}).unwrap();
    assert_eq!(store.sealed_files().unwrap(), [], "here they are whoever wrote them");
    let second = vec![companion("own.key", "secret"), companion("texts/es", "a file now")];
    store.back_up(&backup, &ordered(second.clone(), &["texts/es/a.toml"]), &mut |_| {}).unwrap();
    assert_eq!(fs::read(backup.join("texts/es")).unwrap(), b"a file now");

    let kept = Store::open(&backup).unwrap();
    let sealed: Vec<(String, bool)> =
        kept.sealed_files().unwrap().into_iter().map(|file| (file.name, file.secret)).collect();
    assert_eq!(sealed, [("own.key".to_owned(), true), ("texts/es".to_owned(), false)]);
    fs::write(backup.join("own.key"), "secres").unwrap();
    fs::remove_file(backup.join("texts/es")).unwrap();
    assert_eq!(
        kept.verify(&mut |_| {}).unwrap(),
        [
            Fault::FileDamaged { name: "own.key".into() },
            Fault::FileMissing { name: "texts/es".into() }
        ]
    );
    drop(kept);
    store.back_up(&backup, &ordered(second.clone(), &[]), &mut |_| {}).unwrap();
    let restored = folder.path().join("restored");
    let kept = Store::open_existing(&backup).unwrap();
    let done = kept.restore(&restored, &ordered(second, &[]), &mut |_| {}).unwrap();
    assert_eq!(done.faults, []);
    assert_eq!(fs::read(restored.join("own.key")).unwrap(), b"secret");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        for folder in [&backup, &restored] {
            let mode = fs::metadata(folder.join("own.key")).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
    }
    drop(kept);
    for name in ["../out", "/out", "store.sqlite", "blobs/ab/x", "a//b", "", "arriving/x", "gone"] {
        let refused = store
            .back_up(&backup, &ordered(vec![companion(name, "x")], &[]), &mut |_| {})
            .unwrap_err();
        assert!(matches!(refused, StoreError::Refused { .. }), "{name}: {refused:?}");
    }
}

/// A copy is put in its place in steps, and may be cut off between any two of them.
#[test]
fn a_copy_that_is_whole_is_put_in_its_place_by_whoever_opens_the_folder_next() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let store = Store::open(&data).unwrap();
    store.set_setting("which", "earlier").unwrap();
    store
        .back_up(
            &backup,
            &ordered(vec![companion("a", "1"), companion("b/c", "1")], &[]),
            &mut |_| {},
        )
        .unwrap();
    store.set_setting("which", "new").unwrap();
    let whole = folder.path().join("whole");
    store
        .back_up(
            &whole,
            &ordered(vec![companion("b/c", "2"), companion("d", "2")], &[]),
            &mut |_| {},
        )
        .unwrap();

    for done in 0..=5 {
        let half = folder.path().join(format!("half-{done}"));
        copy_tree(&backup, &half);
        let arrived = half.join("arrived");
        fs::create_dir_all(arrived.join("b")).unwrap();
        fs::write(arrived.join("gone"), b"a\0").unwrap();
        for (from, to) in [("b/c", "b/c"), ("d", "d"), ("store.sqlite", "store.sqlite")] {
            fs::copy(whole.join(from), arrived.join(to)).unwrap();
        }
        let steps: [&dyn Fn(); 5] = [
            &|| fs::remove_file(half.join("a")).unwrap(),
            &|| fs::rename(arrived.join("b/c"), half.join("b/c")).unwrap(),
            &|| fs::rename(arrived.join("d"), half.join("d")).unwrap(),
            &|| fs::rename(arrived.join("store.sqlite"), half.join("store.sqlite")).unwrap(),
            &|| fs::remove_file(arrived.join("gone")).unwrap(),
        ];
        steps.iter().take(done).for_each(|step| step());
        let store = Store::open_existing(&half).unwrap();
        assert_eq!(store.setting("which").unwrap().as_deref(), Some("new"), "after {done} steps");
        assert!(!arrived.exists() && !half.join("a").exists(), "after {done} steps");
        for name in ["b/c", "d"] {
            assert_eq!(fs::read(half.join(name)).unwrap(), b"2", "after {done} steps");
        }
        assert_eq!(store.verify(&mut |_| {}).unwrap(), [], "after {done} steps");
    }
}

fn copy_tree(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let place = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_tree(&path, &place);
        } else {
            fs::copy(&path, place).unwrap();
        }
    }
}

#[test]
fn half_a_first_copy_is_no_store_and_is_made_again() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let store = Store::open(&data).unwrap();
    store.put_blob(b"a photo").unwrap();
    fs::create_dir_all(backup.join("arriving/texts")).unwrap();
    fs::write(backup.join("arriving/store.sqlite"), b"half").unwrap();
    let refused = Store::open(&backup).unwrap_err();
    assert!(refused.to_string().contains("cut off before it was whole"), "{refused}");
    assert!(!backup.join("store.sqlite").exists(), "nothing was made there");
    store.back_up(&backup, &BackupOrder::default(), &mut |_| {}).unwrap();
    assert!(!backup.join("arriving").exists());

    let new = folder.path().join("new");
    fs::create_dir_all(new.join("arriving")).unwrap();
    assert_eq!(put_back(&backup, &new).unwrap().blobs, 1);
    // Several may read and write it at once, as before.
    let mode: String = rusqlite::Connection::open(new.join("store.sqlite"))
        .unwrap()
        .pragma_query_value(None, "journal_mode", |row| row.get(0))
        .unwrap();
    assert_eq!(mode, "wal");
}
