//! Jobs and settings.

use store::{JobId, Sha256Hex, Store, StoreError};

#[test]
fn a_job_is_created_once_and_listed_with_where_its_log_stands() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = JobId::new("2026-0143_b").unwrap();
    assert!(!store.job_exists(&job).unwrap());
    assert!(store.create_job(&job, "travel trailer, site 14").unwrap());
    assert!(!store.create_job(&job, "another line").unwrap());
    assert!(store.create_job(&JobId::new("2025").unwrap(), "").unwrap());
    assert!(store.job_exists(&job).unwrap());

    store.append(&job, &[crate::child::chunk(1, 1, 30)]).unwrap();
    let listed = |store: &Store| {
        let jobs = store.jobs().unwrap().into_iter();
        jobs.map(|job| (job.id.to_string(), job.summary, job.head_seq)).collect::<Vec<_>>()
    };
    let line = |summary: &str| {
        vec![("2025".into(), String::new(), 0), ("2026-0143_b".into(), summary.into(), 1)]
    };
    assert_eq!(listed(&store), line("travel trailer, site 14"));
    store.set_summary(&job, "fifth wheel").unwrap();
    drop(store);
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(listed(&store), line("fifth wheel"));
    // 1 January 2025: a clock before that would be wrong.
    assert!(store.jobs().unwrap()[0].created_unix_ms > 1_735_689_600_000);
}

#[test]
fn a_job_that_is_not_kept_is_named_in_the_answer() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = JobId::new("gone").unwrap();
    for error in [
        store.append(&job, &[]).unwrap_err(),
        store.changes(&job, 0, 10).unwrap_err(),
        store.set_summary(&job, "x").unwrap_err(),
    ] {
        assert!(matches!(error, StoreError::NoSuchJob { .. }), "{error:?}");
        assert_eq!(error.to_string(), "no job \"gone\" is kept here");
    }
}

#[test]
fn ids_that_could_not_stand_in_a_file_name_are_refused_with_a_sentence() {
    let long = "x".repeat(65);
    for (text, why) in [
        ("", "is empty"),
        ("a/b", "contains '/'"),
        ("..", "contains '.'"),
        ("ä", "contains 'ä'"),
        (&long, "has 65 bytes"),
    ] {
        let sentence = JobId::new(text).unwrap_err().to_string();
        assert!(sentence.contains(why), "{sentence}");
        assert!(sentence.contains("takes 1 to 64 letters a to z, digits"), "{sentence}");
    }
    assert_eq!("A-9_z".parse::<JobId>().unwrap().as_str(), "A-9_z");
    assert_eq!(JobId::new(&long[..64]).unwrap().to_string(), long[..64]);
}

/// FIPS 180-4's message "abc"; the digest is in NIST's example values for SHA-256.
#[test]
fn a_blob_is_named_by_the_published_hash() {
    let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert_eq!(Sha256Hex::of(b"abc").as_str(), abc);
    assert_eq!(Sha256Hex::new(abc).unwrap(), abc.parse().unwrap());
    for wrong in [&abc[1..], &abc.to_uppercase(), &format!("{}g", &abc[1..])] {
        let sentence = Sha256Hex::new(wrong).unwrap_err().to_string();
        assert!(sentence.contains("takes 64 hexadecimal digits"), "{sentence}");
    }
}

#[test]
fn settings_are_kept_and_the_first_of_two_wins_where_asked() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(store.setting("device").unwrap(), None);
    assert_eq!(store.setting_or_first("device", "one").unwrap(), "one");
    assert_eq!(store.setting_or_first("device", "two").unwrap(), "one");
    store.set_setting("device", "three").unwrap();
    drop(store);
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(store.setting("device").unwrap().unwrap(), "three");
}
