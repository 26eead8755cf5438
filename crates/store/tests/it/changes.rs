//! The log of a job: appended once, in order, read in pages.

use store::{Appended, Chunk, JobId, Store, StoreError};

use crate::child::chunk;

fn store_with_job() -> (tempfile::TempDir, Store, JobId) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = JobId::new("job").unwrap();
    store.create_job(&job, "").unwrap();
    (folder, store, job)
}

fn chunks(numbers: std::ops::Range<u64>) -> Vec<Chunk> {
    numbers.map(|number| chunk(1, number, 0)).collect()
}

/// Reads the whole log in pages of `limit`.
fn read(store: &Store, job: &JobId, limit: usize) -> Vec<Chunk> {
    let (mut all, mut cursor) = (Vec::new(), 0);
    loop {
        let page = store.changes(job, cursor, limit).unwrap();
        let ended = page.len() < limit;
        for change in page {
            assert_eq!(change.seq, cursor + 1);
            cursor = change.seq;
            all.push(Chunk { hash: change.hash, bytes: change.bytes });
        }
        if ended {
            return all;
        }
    }
}

#[test]
fn changes_come_back_in_the_order_they_were_appended_whatever_the_page() {
    let (folder, store, job) = store_with_job();
    let appended = store.append(&job, &chunks(0..7)).unwrap();
    assert_eq!(appended, Appended { head_seq: 7, new: 7 });
    let appended = store.append(&job, &chunks(7..20)).unwrap();
    assert_eq!(appended, Appended { head_seq: 20, new: 13 });
    for limit in [1, 3, 10, 19, 20, 21, usize::MAX] {
        assert_eq!(read(&store, &job, limit), chunks(0..20), "pages of {limit}");
    }
    assert_eq!(store.changes(&job, 20, 5).unwrap(), []);
    assert_eq!(store.changes(&job, 3, 0).unwrap(), []);
    drop(store);
    assert_eq!(read(&Store::open(folder.path()).unwrap(), &job, 6), chunks(0..20));
}

#[test]
fn a_repeat_adds_nothing_and_a_mixed_append_adds_only_what_is_new() {
    let (_folder, store, job) = store_with_job();
    store.append(&job, &chunks(0..4)).unwrap();
    let repeat = store.append(&job, &chunks(0..4)).unwrap();
    assert_eq!(repeat, Appended { head_seq: 4, new: 0 });
    let mixed = store.append(&job, &chunks(2..6)).unwrap();
    assert_eq!(mixed, Appended { head_seq: 6, new: 2 });
    let mut twice = chunks(6..7);
    twice.extend(chunks(6..8));
    assert_eq!(store.append(&job, &twice).unwrap(), Appended { head_seq: 8, new: 2 });
    assert_eq!(store.append(&job, &[]).unwrap(), Appended { head_seq: 8, new: 0 });
    assert_eq!(read(&store, &job, 100), chunks(0..8));
}

#[test]
fn each_job_numbers_its_own_changes() {
    let (_folder, store, job) = store_with_job();
    let other = JobId::new("other").unwrap();
    store.create_job(&other, "").unwrap();
    store.append(&job, &chunks(0..3)).unwrap();
    let appended = store.append(&other, &chunks(1..3)).unwrap();
    assert_eq!(appended, Appended { head_seq: 2, new: 2 });
    assert_eq!(read(&store, &job, 100), chunks(0..3));
    assert_eq!(read(&store, &other, 100), chunks(1..3));
}

#[test]
fn empty_and_large_changes_are_kept_as_they_are() {
    let (_folder, store, job) = store_with_job();
    let given =
        [Chunk { hash: [0; 32], bytes: Vec::new() }, chunk(1, 1, 5_000_000), chunk(1, 2, 1)];
    store.append(&job, &given).unwrap();
    assert_eq!(read(&store, &job, 100), given);
}

#[test]
fn one_hash_cannot_name_two_changes_and_the_refused_append_leaves_nothing() {
    let (_folder, store, job) = store_with_job();
    store.append(&job, &chunks(0..1)).unwrap();
    let mut clashing = chunks(1..3);
    clashing.push(Chunk { hash: chunks(0..1)[0].hash, bytes: vec![1] });
    let mut within = chunks(1..3);
    within.push(Chunk { hash: within[0].hash, bytes: vec![2] });
    for given in [clashing, within] {
        let error = store.append(&job, &given).unwrap_err();
        assert!(matches!(error, StoreError::Refused { .. }), "{error:?}");
        assert!(error.to_string().contains("a hash must name one change only"), "{error}");
        assert_eq!(read(&store, &job, 100), chunks(0..1));
    }
}

#[test]
fn a_cursor_beyond_the_log_is_told_apart_from_having_read_all() {
    let (_folder, store, job) = store_with_job();
    store.append(&job, &chunks(0..2)).unwrap();
    let error = store.changes(&job, 3, 10).unwrap_err();
    let StoreError::CursorAhead { after_seq: 3, head_seq: 2, .. } = error else {
        panic!("{error:?}");
    };
    assert!(store.changes(&job, u64::MAX, 10).is_err());
}
