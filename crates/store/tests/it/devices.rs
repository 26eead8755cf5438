//! Who is let in: one-time codes, devices, and their removal.

use store::{JobId, NewDevice, Pairing, Store, StoreError};

fn device(id: &str) -> NewDevice {
    NewDevice {
        id: id.into(),
        name: "Rosa's phone".into(),
        person: "Rosa Field".into(),
        key: format!("key of {id}").into_bytes(),
    }
}

#[test]
fn a_code_lets_one_device_in_once_and_in_time() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let (code, old) = ([1; 32], [2; 32]);
    store.add_pairing_code(code, 1_000, 2_000, None).unwrap();
    store.add_pairing_code(old, 1_000, 1_500, None).unwrap();
    assert_eq!(store.pair([9; 32], 1_600, &device("a")).unwrap(), Pairing::UnknownCode);
    assert_eq!(store.pair(old, 1_600, &device("a")).unwrap(), Pairing::ExpiredCode);
    assert_eq!(store.devices().unwrap(), []);
    assert_eq!(store.pair(code, 1_600, &device("a")).unwrap(), Pairing::Paired);
    assert_eq!(store.pair(code, 1_700, &device("b")).unwrap(), Pairing::UsedCode);
    assert_eq!(store.device_by_key(b"key of a").unwrap().unwrap().id, "a");
    assert_eq!(store.device_by_key(b"key of b").unwrap(), None);
}

#[test]
fn of_two_devices_with_one_code_one_gets_in() {
    let folder = tempfile::tempdir().unwrap();
    Store::open(folder.path()).unwrap().add_pairing_code([1; 32], 0, 10, None).unwrap();
    let outcomes: Vec<Pairing> = std::thread::scope(|scope| {
        ["a", "b", "c", "d"]
            .map(|id| {
                let folder = folder.path();
                scope.spawn(move || Store::open(folder).unwrap().pair([1; 32], 5, &device(id)))
            })
            .map(|thread| thread.join().unwrap().unwrap())
            .into()
    });
    assert_eq!(outcomes.iter().filter(|outcome| **outcome == Pairing::Paired).count(), 1);
    assert_eq!(Store::open(folder.path()).unwrap().devices().unwrap().len(), 1);
}

#[test]
fn a_removed_device_stays_known_as_removed_and_its_key_is_never_used_again() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    store.add_device(1, &device("a")).unwrap();
    assert!(store.remove_device("a", 7).unwrap());
    assert!(!store.remove_device("a", 8).unwrap());
    assert!(!store.remove_device("b", 8).unwrap());
    let kept = store.device_by_key(b"key of a").unwrap().unwrap();
    assert_eq!(kept.removed_unix_ms, Some(7));
    let again = NewDevice { id: "new".into(), ..device("a") };
    assert!(matches!(store.add_device(9, &again), Err(StoreError::Refused { .. })));
}

#[test]
fn a_device_keeps_to_the_job_of_its_code() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = JobId::new("2026-041").unwrap();
    store.add_pairing_code([1; 32], 0, 10, Some(&job)).unwrap();
    store.add_pairing_code([2; 32], 0, 10, None).unwrap();
    store.pair([1; 32], 1, &device("one")).unwrap();
    store.pair([2; 32], 1, &device("all")).unwrap();
    store.devices_seen(&[("all".to_owned(), 5)].into()).unwrap();
    let devices = store.devices().unwrap();
    let said: Vec<_> = devices
        .iter()
        .map(|one| (one.id.as_str(), one.job.as_ref(), one.role.as_str(), one.seen_unix_ms))
        .collect();
    assert_eq!(said, [("all", None, "inspector", Some(5)), ("one", Some(&job), "inspector", None)]);
}
