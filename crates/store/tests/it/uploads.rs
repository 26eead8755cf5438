//! Blobs in pieces: resumed where they stopped, checked at the end, never mixed up.

use store::{JobId, Sha256Hex, Store, StoreError, Upload};

use crate::child::blob;

#[test]
fn an_upload_goes_on_where_it_stopped_even_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = blob(7);
    let size = u64::try_from(bytes.len()).unwrap();
    let hash = Sha256Hex::of(&bytes);
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(store.upload_state(&hash, size).unwrap(), Upload::Waiting { offset: 0 });
    let state = store.upload_piece(&hash, size, 0, &bytes[..1_000]).unwrap();
    assert_eq!(state, Upload::Waiting { offset: 1_000 });
    assert!(!store.has_blob(&hash).unwrap());
    drop(store);
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(store.upload_state(&hash, size).unwrap(), Upload::Waiting { offset: 1_000 });
    // The same piece again, and one from too far on.
    for offset in [0, 999, 1_001] {
        let from = usize::try_from(offset).unwrap();
        let state = store.upload_piece(&hash, size, offset, &bytes[from..2_000]).unwrap();
        assert_eq!(state, Upload::WrongOffset { offset: 1_000 });
    }
    assert_eq!(store.upload_piece(&hash, size, 1_000, &bytes[1_000..]).unwrap(), Upload::Stored);
    assert_eq!(store.upload_state(&hash, size).unwrap(), Upload::Stored);
    assert_eq!(store.upload_piece(&hash, size, 0, &bytes).unwrap(), Upload::Stored);
    assert_eq!(store.blob(&hash).unwrap().unwrap(), bytes);
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}

#[test]
fn bytes_with_another_sha_256_never_become_the_blob() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let hash = Sha256Hex::of(b"right");
    assert_eq!(store.upload_piece(&hash, 5, 0, b"wrong").unwrap(), Upload::Damaged);
    assert!(!store.has_blob(&hash).unwrap());
    assert_eq!(store.upload_state(&hash, 5).unwrap(), Upload::Waiting { offset: 0 });
    let error = store.upload_piece(&hash, 5, 3, b"too long").unwrap_err();
    assert!(matches!(error, StoreError::Refused { .. }), "{error:?}");
    assert_eq!(store.upload_piece(&hash, 5, 0, b"right").unwrap(), Upload::Stored);
}

#[test]
fn an_upload_cut_off_before_its_last_step_is_completed_when_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let hash = Sha256Hex::of(b"whole");
    std::fs::write(folder.path().join("uploads").join(hash.as_str()), b"whole").unwrap();
    assert_eq!(store.upload_state(&hash, 5).unwrap(), Upload::Stored);
    let longer = Sha256Hex::of(b"x");
    std::fs::write(folder.path().join("uploads").join(longer.as_str()), b"xyz").unwrap();
    assert_eq!(store.upload_state(&longer, 1).unwrap(), Upload::Damaged);
    assert_eq!(store.upload_state(&longer, 1).unwrap(), Upload::Waiting { offset: 0 });
    let empty = Sha256Hex::of(b"");
    assert_eq!(store.upload_state(&empty, 0).unwrap(), Upload::Stored);
}

#[test]
fn a_blob_belongs_to_the_jobs_it_was_given_for() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let (one, two) = (JobId::new("one").unwrap(), JobId::new("two").unwrap());
    let hash = Sha256Hex::of(b"x");
    assert!(matches!(store.add_job_blob(&one, &hash), Err(StoreError::NoSuchJob { .. })));
    store.create_job(&one, "").unwrap();
    store.create_job(&two, "").unwrap();
    store.add_job_blob(&one, &hash).unwrap();
    store.add_job_blob(&one, &hash).unwrap();
    assert!(store.job_has_blob(&one, &hash).unwrap());
    assert!(!store.job_has_blob(&two, &hash).unwrap());
}

#[test]
fn for_one_job_alone_all_bytes_must_come_whatever_others_have_given() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let (one, two) = (JobId::new("one").unwrap(), JobId::new("two").unwrap());
    store.create_job(&one, "").unwrap();
    store.create_job(&two, "").unwrap();
    let hash = Sha256Hex::of(b"whole");
    // Half of it is there from others, then all: for this job it is as if there were nothing.
    store.upload_piece(&hash, 5, 0, b"wh").unwrap();
    assert_eq!(store.job_upload_state(&one, &hash, 5).unwrap(), Upload::Waiting { offset: 0 });
    let early = store.job_upload_piece(&one, &hash, 5, 2, b"ole").unwrap();
    assert_eq!(early, Upload::WrongOffset { offset: 0 });
    assert_eq!(store.upload_piece(&hash, 5, 2, b"ole").unwrap(), Upload::Stored);
    assert_eq!(store.job_upload_state(&one, &hash, 5).unwrap(), Upload::Waiting { offset: 0 });
    assert_eq!(store.job_upload_piece(&one, &hash, 5, 0, b"wrong").unwrap(), Upload::Damaged);
    assert!(!store.job_has_blob(&one, &hash).unwrap());
    // What one job has got does not count for another.
    let half = store.job_upload_piece(&one, &hash, 5, 0, b"who").unwrap();
    assert_eq!(half, Upload::Waiting { offset: 3 });
    assert_eq!(store.job_upload_state(&two, &hash, 5).unwrap(), Upload::Waiting { offset: 0 });
    assert_eq!(store.job_upload_piece(&one, &hash, 5, 3, b"le").unwrap(), Upload::Stored);
    assert!(store.job_has_blob(&one, &hash).unwrap());
    assert!(!store.job_has_blob(&two, &hash).unwrap());
    assert_eq!(store.job_upload_state(&one, &hash, 5).unwrap(), Upload::Stored);
    // One that nobody had before becomes the blob all the same, and nothing is left lying about.
    let fresh = Sha256Hex::of(b"fresh");
    assert_eq!(store.job_upload_piece(&two, &fresh, 5, 0, b"fresh").unwrap(), Upload::Stored);
    assert_eq!(store.blob(&fresh).unwrap().unwrap(), b"fresh");
    assert_eq!(std::fs::read_dir(folder.path().join("uploads")).unwrap().count(), 0);
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
}
