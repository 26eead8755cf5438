//! Bits that rot: noticed, named, never returned as good, mended by a repeat.

use std::{
    fs,
    path::{Path, PathBuf},
};

use store::{Chunk, Fault, JobId, Progress, Sha256Hex, Store, StoreError};

use crate::child::{Dice, chunk};

fn flip(file: &Path, at: usize, bit: u8) {
    let mut bytes = fs::read(file).unwrap();
    bytes[at] ^= 1 << bit;
    fs::write(file, bytes).unwrap();
}

/// Flips one bit at `at` in `part`, wherever the file has it: a page may keep an old copy of what
/// was moved from it.
fn flip_in(file: &Path, part: &[u8], at: usize) {
    let bytes = fs::read(file).unwrap();
    let places = bytes.windows(part.len()).enumerate().filter(|(_, window)| *window == part);
    let places: Vec<usize> = places.map(|(place, _)| place).collect();
    assert!(!places.is_empty());
    for place in places {
        flip(file, place + at, 3);
    }
}

/// A closed store with twelve changes in each of two jobs.
fn two_jobs(folder: &Path) -> (PathBuf, [JobId; 2]) {
    let store = Store::open(folder).unwrap();
    let jobs = ["a", "b"].map(|id| JobId::new(id).unwrap());
    for (writer, job) in (1..).zip(&jobs) {
        store.create_job(job, "").unwrap();
        let chunks: Vec<Chunk> = (1..=12).map(|number| chunk(writer, number, 300)).collect();
        store.append(job, &chunks).unwrap();
    }
    drop(store);
    (folder.join("store.sqlite"), jobs)
}

#[test]
fn a_flipped_bit_in_a_change_is_named_by_job_and_number_and_mended_by_a_repeat() {
    let folder = tempfile::tempdir().unwrap();
    let (database, [job, other]) = two_jobs(folder.path());
    let fifth = chunk(1, 5, 300);
    flip_in(&database, &fifth.bytes, 137);

    let store = Store::open(folder.path()).unwrap();
    let error = store.changes(&job, 0, 100).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error:?}");
    assert!(error.to_string().contains("change 5 of job \"a\" is not what was kept"), "{error}");
    assert_eq!(store.changes(&job, 0, 4).unwrap().len(), 4, "those before it");
    assert_eq!(store.changes(&job, 5, 100).unwrap().len(), 7, "those after it");
    assert_eq!(store.changes(&other, 0, 100).unwrap().len(), 12);
    assert_eq!(
        store.verify(&mut |_| {}).unwrap(),
        [Fault::ChangeDamaged { job: "a".into(), seq: 5 }]
    );

    let forged = Chunk { hash: fifth.hash, bytes: b"not what was kept".to_vec() };
    store.append(&job, &[forged]).unwrap_err();
    assert_eq!(store.append(&job, std::slice::from_ref(&fifth)).unwrap().new, 0);
    assert_eq!(store.changes(&job, 4, 1).unwrap()[0].bytes, fifth.bytes);
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

#[test]
fn a_lost_row_is_noticed_in_the_middle_and_at_the_end() {
    let folder = tempfile::tempdir().unwrap();
    let (database, [job, other]) = two_jobs(folder.path());
    rusqlite::Connection::open(&database)
        .unwrap()
        .execute_batch(
            "delete from change where job = 'a' and seq = 3;
             delete from change where job = 'b' and seq = 12",
        )
        .unwrap();
    let store = Store::open(folder.path()).unwrap();
    for (job, after, sentence) in [
        (&job, 0, "change 3 of job \"a\" is missing"),
        (&job, 2, "change 3 of job \"a\" is missing"),
        (&other, 0, "change 12 of job \"b\" is missing"),
        (&other, 11, "change 12 of job \"b\" is missing"),
    ] {
        let error = store.changes(job, after, 100).unwrap_err();
        assert!(matches!(error, StoreError::Damaged { .. }), "{error:?}");
        assert!(error.to_string().contains(sentence), "{error}");
    }
    let faults = store.verify(&mut |_| {}).unwrap();
    assert_eq!(
        faults,
        [Fault::ChangeMissing { job, seq: 3 }, Fault::ChangeMissing { job: other, seq: 12 }]
    );
}

#[test]
fn a_row_in_anothers_place_is_noticed() {
    let folder = tempfile::tempdir().unwrap();
    let (database, [job, _]) = two_jobs(folder.path());
    rusqlite::Connection::open(&database)
        .unwrap()
        .execute_batch(
            "update change set seq = 99 where job = 'a' and seq = 3;
             update change set seq = 3 where job = 'a' and seq = 4;
             update change set seq = 4 where job = 'a' and seq = 99;
             update job set head_seq = 11 where id = 'b'",
        )
        .unwrap();
    let store = Store::open(folder.path()).unwrap();
    let error = store.changes(&job, 0, 100).unwrap_err();
    assert!(error.to_string().contains("change 3 of job \"a\" is not what was kept"), "{error}");
    assert_eq!(
        store.verify(&mut |_| {}).unwrap(),
        [
            Fault::ChangeDamaged { job: "a".into(), seq: 3 },
            Fault::ChangeDamaged { job: "a".into(), seq: 4 },
            Fault::ChangeUncounted { job: "b".into(), seq: 12 },
        ]
    );
}

/// A bit is flipped at 500 places spread over the whole file, pages of indexes and of the layout
/// too. Either the store says so when it is opened or read, or every change reads as it was kept.
#[test]
fn no_flipped_bit_anywhere_in_the_database_gives_a_wrong_change() {
    let folder = tempfile::tempdir().unwrap();
    let (database, jobs) = two_jobs(folder.path());
    let sound = fs::read(&database).unwrap();
    let kept = |store: &Store| -> Result<Vec<Chunk>, StoreError> {
        let mut all = Vec::new();
        for job in &jobs {
            let changes = store.changes(job, 0, 100)?.into_iter();
            all.extend(changes.map(|change| Chunk { hash: change.hash, bytes: change.bytes }));
        }
        Ok(all)
    };
    let expected = kept(&Store::open(folder.path()).unwrap()).unwrap();
    let (mut noticed, mut harmless) = (0, 0);
    let mut dice = Dice(7);
    for _ in 0..500 {
        let at = dice.up_to(sound.len());
        let mut bytes = sound.clone();
        bytes[at] ^= 1 << dice.up_to(8);
        fs::write(&database, bytes).unwrap();
        match Store::open(folder.path()).and_then(|store| kept(&store)) {
            Ok(changes) => {
                assert!(changes == expected, "a bit flipped at {at} went unnoticed");
                harmless += 1;
            }
            Err(_) => noticed += 1,
        }
    }
    assert!(noticed > 50 && harmless > 50, "{noticed} noticed, {harmless} harmless");
}

#[test]
fn a_damaged_or_missing_blob_is_named_and_mended_by_a_repeat() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let contents: Vec<Vec<u8>> = (0..3).map(|number| Dice(number).bytes(70_000)).collect();
    let hashes: Vec<Sha256Hex> =
        contents.iter().map(|bytes| store.put_blob(bytes).unwrap()).collect();
    let file = |hash: &Sha256Hex| {
        folder.path().join("blobs").join(&hash.as_str()[..2]).join(hash.as_str())
    };
    flip(&file(&hashes[0]), 69_999, 7);
    fs::remove_file(file(&hashes[1])).unwrap();

    let error = store.blob(&hashes[0]).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error:?}");
    assert!(error.to_string().contains(&format!("blob {} is not what was kept", hashes[0])));
    let error = store.blob(&hashes[1]).unwrap_err();
    assert!(error.to_string().contains(&format!("the file of blob {} is missing", hashes[1])));
    assert!(!store.has_blob(&hashes[1]).unwrap(), "so that it is asked for again");
    assert!(store.blob(&hashes[2]).unwrap().unwrap() == contents[2]);

    let mut steps = Vec::new();
    let mut faults = store.verify(&mut |progress| steps.push(progress)).unwrap();
    faults.sort_by_key(|fault| fault.to_string().len());
    assert_eq!(
        faults,
        [
            Fault::BlobDamaged { hash: hashes[0].clone() },
            Fault::BlobMissing { hash: hashes[1].clone() }
        ]
    );
    assert_eq!(steps, [0, 1, 2, 3].map(|done| Progress { done, total: 3 }));

    for bytes in &contents {
        store.put_blob(bytes).unwrap();
    }
    for (hash, bytes) in hashes.iter().zip(&contents) {
        assert!(store.blob(hash).unwrap().unwrap() == *bytes);
    }
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

#[test]
fn a_destroyed_database_is_called_damaged_not_taken_for_an_empty_folder() {
    let folder = tempfile::tempdir().unwrap();
    let (database, _) = two_jobs(folder.path());
    let mut bytes = fs::read(&database).unwrap();
    bytes[..100].fill(0xff);
    fs::write(&database, bytes).unwrap();
    let error = Store::open(folder.path()).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error:?}");
    assert!(error.to_string().contains("restore it from a backup"), "{error}");
}
