//! What cannot be brought about from outside: the settings in force, a full disk, a busy store,
//! other layouts.

mod forgetful_disk;
mod power_loss;

use std::{fs::File, io::Write, path::Path, time::Duration};

use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::{
    Chunk, JobId, Sha256Hex, Store, StoreError,
    error::During,
    schema::{self, Layout},
};

fn chunk(number: u8, length: usize) -> Chunk {
    Chunk { hash: [number; 32], bytes: vec![number; length] }
}

#[test]
fn the_settings_that_keep_what_was_acknowledged_are_in_force() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let setting = |name: &str| -> String {
        store
            .connection
            .pragma_query_value(None, name, |row| {
                Ok(match row.get_ref(0)? {
                    rusqlite::types::ValueRef::Integer(number) => number.to_string(),
                    other => other.as_str()?.to_owned(),
                })
            })
            .unwrap()
    };
    for (name, value) in [
        ("journal_mode", "wal"),
        ("synchronous", "2"),
        ("foreign_keys", "1"),
        ("trusted_schema", "0"),
        ("busy_timeout", "10000"),
    ] {
        assert_eq!(setting(name), value, "{name}");
    }
}

#[test]
fn a_full_database_says_so_keeps_all_that_was_answered_for_and_goes_on_when_there_is_room() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let job = JobId::new("full").unwrap();
    store.create_job(&job, "").unwrap();
    let pages: u32 =
        store.connection.pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
    store.connection.pragma_update(None, "max_page_count", pages + 30).unwrap();

    let mut kept = 0;
    let error = loop {
        match store.append(&job, &[chunk(kept + 1, 9_000)]) {
            Ok(appended) => {
                kept += 1;
                assert_eq!(appended.head_seq, u64::from(kept));
            }
            Err(error) => break error,
        }
    };
    assert!(matches!(error, StoreError::Full { .. }), "{error:?}");
    assert_eq!(
        error.to_string(),
        "the disk is full while appending to job \"full\"; what was kept before is safe: \
         make room and try again"
    );
    assert!(kept > 5, "{kept}");
    let in_order = |store: &Store, count: u8| {
        let changes = store.changes(&job, 0, 100).unwrap();
        assert_eq!(
            changes.iter().map(|change| change.bytes[0]).collect::<Vec<_>>(),
            (1..=count).collect::<Vec<_>>()
        );
    };
    in_order(&store, kept);

    store.connection.pragma_update(None, "max_page_count", pages + 1_000).unwrap();
    store.append(&job, &[chunk(kept + 1, 9_000)]).unwrap();
    in_order(&store, kept + 1);
    drop(store);
    in_order(&Store::open(folder.path()).unwrap(), kept + 1);
}

/// `/dev/full` answers every write with "no space left on device" (Linux manual page full(4)).
#[test]
#[cfg(target_os = "linux")]
fn a_file_that_finds_no_room_is_told_as_a_full_disk() {
    let mut full = File::options().write(true).open("/dev/full").unwrap();
    let error = full.write_all(b"x").during("writing").unwrap_err();
    assert!(matches!(error, StoreError::Full { .. }), "{error:?}");
}

#[test]
fn a_store_that_somebody_else_keeps_busy_says_so_and_works_again_afterwards() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let other = Store::open(folder.path()).unwrap();
    let job = JobId::new("busy").unwrap();
    store.create_job(&job, "").unwrap();
    store.patience = Duration::from_millis(30);
    store.connection.busy_timeout(store.patience).unwrap();

    let held =
        Transaction::new_unchecked(&other.connection, TransactionBehavior::Immediate).unwrap();
    let error = store.append(&job, &[chunk(1, 10)]).unwrap_err();
    assert!(matches!(error, StoreError::Busy { .. }), "{error:?}");
    assert_eq!(store.changes(&job, 0, 10).unwrap(), [], "reading does not wait for writers");

    drop(held);
    assert_eq!(store.append(&job, &[chunk(1, 10)]).unwrap().head_seq, 1);
}

const FIRST: &str = "create table first (x) strict";
const OLD: &[&str] = &["create table first (x integer) strict"];
const NEW: &[&str] =
    &[OLD[0], "alter table first add column y text; insert into first values (1, 'a')"];

#[test]
fn a_database_that_cannot_log_ahead_is_refused() {
    let connection = Connection::open_in_memory().unwrap();
    let error = schema::prepare(&connection, OLD, Path::new("here")).unwrap_err();
    assert!(matches!(error, StoreError::Io { .. }), "{error:?}");
    assert_eq!(schema::layout(&connection, OLD, Path::new("here")).unwrap(), Layout::Behind);
}

fn on_disk(folder: &Path) -> Connection {
    Connection::open(folder.join("x.sqlite")).unwrap()
}

#[test]
fn an_older_layout_takes_only_the_steps_it_lacks() {
    let folder = tempfile::tempdir().unwrap();
    let connection = on_disk(folder.path());
    schema::prepare(&connection, OLD, folder.path()).unwrap();
    assert_eq!(schema::layout(&connection, OLD, folder.path()).unwrap(), Layout::Current);
    assert_eq!(schema::layout(&connection, NEW, folder.path()).unwrap(), Layout::Behind);

    schema::prepare(&connection, NEW, folder.path()).unwrap();
    schema::prepare(&connection, NEW, folder.path()).unwrap();
    assert_eq!(schema::layout(&connection, NEW, folder.path()).unwrap(), Layout::Current);
    let rows: u32 =
        connection.query_row("select count(*) from first", [], |row| row.get(0)).unwrap();
    assert_eq!(rows, 1, "the second step ran once");
}

#[test]
fn a_newer_layout_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let connection = on_disk(folder.path());
    schema::prepare(&connection, NEW, folder.path()).unwrap();
    let error = schema::layout(&connection, OLD, Path::new("there")).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the store in there has layout 2, this program knows layouts up to 1; \
         use a newer version of the program"
    );
}

#[test]
fn a_layout_made_by_an_edited_step_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let connection = on_disk(folder.path());
    schema::prepare(&connection, OLD, folder.path()).unwrap();
    let error = schema::layout(&connection, &[FIRST], folder.path()).unwrap_err();
    assert!(matches!(error, StoreError::NotOurs { .. }), "{error:?}");
}

#[test]
fn steps_that_fail_half_way_leave_the_layout_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let connection = on_disk(folder.path());
    schema::prepare(&connection, OLD, folder.path()).unwrap();
    let broken = [OLD[0], NEW[1], "create table first (z)"];
    schema::prepare(&connection, &broken, folder.path()).unwrap_err();
    assert_eq!(schema::layout(&connection, OLD, folder.path()).unwrap(), Layout::Current);
    let columns: u32 = connection
        .query_row("select count(*) from pragma_table_info('first')", [], |row| row.get(0))
        .unwrap();
    assert_eq!(columns, 1);
}

#[test]
fn the_rows_of_an_earlier_layout_are_sealed_when_it_is_brought_up_to_date() {
    let folder = tempfile::tempdir().unwrap();
    let connection = Connection::open(folder.path().join("store.sqlite")).unwrap();
    schema::prepare(&connection, &schema::STEPS[..5], folder.path()).unwrap();
    connection
        .execute_batch(
            "insert into job (id, summary, created_ms) values ('a', '', 1);
             insert into setting (key, value) values ('which', 'earlier');
             insert into device (id, name, person, key, added_ms) values ('d', 'phone', 'B', x'01', 2);",
        )
        .unwrap();
    drop(connection);
    let store = Store::open(folder.path()).unwrap();
    assert_eq!(store.verify(&mut |_| {}).unwrap(), []);
    store.connection.execute("update setting set value = 'other'", []).unwrap();
    store.connection.execute("delete from device", []).unwrap();
    let words: Vec<String> =
        store.verify(&mut |_| {}).unwrap().iter().map(ToString::to_string).collect();
    assert_eq!(
        words,
        ["setting which is not what was kept", "rows are missing, 1 of them: device"]
    );
}

/// The hash is written in every store: a released step that changes makes them all unreadable.
#[test]
fn the_released_steps_are_unchanged() {
    let hashes: Vec<Sha256Hex> =
        schema::STEPS.iter().map(|text| Sha256Hex::of(text.as_bytes())).collect();
    let released = [
        "019a74e70afea0e06302289ed7b4aebf477e676035c4b4680e698b2944dc6584",
        "f1d140b6a66c9112281509ecf5dd0e199b21ebc26b3273545833d379d19cd0b8",
        "49151a18f027b9dda70ecbc64fb4cf1c09ee68ba4df83d8de9324f1c749de49d",
        "d57b93fc75190413c4d12b3bcc4ba25ad8e08938a202ffaf468b4960510c9c62",
        "78a65836df1b2453be57ab2375884f6909e5aa49e46ca4937e21e95a58d0c89c",
        "a009ed5b09e5f14148edfb0fca895d20d46337298d742175f0833a034945b933",
        "98f9069d3d627f7942e640e7c6eb232b55a36e6a9bc4f52886ef8825408a3ad3",
    ]
    .map(|hash| Sha256Hex::new(hash).unwrap());
    assert_eq!(hashes, released);
}
