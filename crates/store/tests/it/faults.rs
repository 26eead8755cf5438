//! Faults of every kind, done to a store behind its back: found, every one, and mended where it can be proved what was there.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

use rusqlite::{Connection, types::Value};
use store::{
    BackupOrder, Chunk, ClientFile, Companion, Fault, JobId, LeadsTo, NewClientLink, NewDevice,
    NewInvoice, Sha256Hex, Store,
};

use crate::child::{Dice, chunk};

fn losses(store: &Store) -> Vec<Fault> {
    store.verify(&mut |_| {}).unwrap().into_iter().filter(Fault::is_loss).collect()
}

pub(crate) fn blob_file(data: &Path, hash: &Sha256Hex) -> PathBuf {
    data.join("blobs").join(&hash.as_str()[..2]).join(hash.as_str())
}

/// Three jobs with twenty changes each, thirty blobs, and a few rows of every other kind.
pub(crate) fn filled(data: &Path) -> (Vec<JobId>, Vec<Sha256Hex>) {
    let store = Store::open(data).unwrap();
    let jobs: Vec<JobId> = ["a", "b", "c"].map(|id| JobId::new(id).unwrap()).into();
    for (writer, job) in (1..).zip(&jobs) {
        store.create_job(job, "").unwrap();
        let chunks: Vec<Chunk> = (1..=20).map(|number| chunk(writer, number, 200)).collect();
        store.append(job, &chunks).unwrap();
    }
    let blobs: Vec<Sha256Hex> = (0..30_u64)
        .map(|number| {
            store.put_blob(&Dice(number).bytes(100 + usize::try_from(number).unwrap())).unwrap()
        })
        .collect();
    for (number, job) in (1_u8..).zip(&jobs) {
        store.add_job_blob(job, &blobs[usize::from(number)]).unwrap();
        store.set_setting(&format!("setting {number}"), "a value").unwrap();
        let device = NewDevice {
            id: format!("device {number}"),
            name: "Kitchen phone".into(),
            person: "B. Inspector".into(),
            key: vec![number; 32],
        };
        store.add_pairing_code([number; 32], 1, 1_000, Some(job)).unwrap();
        store.pair([number; 32], 2, &device).unwrap();
        store.devices_seen(&BTreeMap::from([(device.id, 3)])).unwrap();
        let files = ["index.html", "waiting.html"].map(|name| ClientFile {
            name: name.into(),
            media_type: "text/html".into(),
            blob: blobs[usize::from(number)].clone(),
        });
        let link = NewClientLink {
            secret_sha256: [number; 32],
            job,
            leads_to: LeadsTo::Page { after_payment: false },
            now_ms: 4,
            expires_ms: 1_000_000,
            files: &files,
        };
        store.add_client_link(link).unwrap();
        store.client_viewed([number; 32], 5).unwrap();
        store.set_pages_wait(job, true).unwrap();
        let invoice = store
            .add_invoice("2026-", job, None, |_| {
                Ok(NewInvoice { body: vec![number; 40], due: 900 })
            })
            .unwrap();
        store.add_payment(&invoice, "2026-06-12", 100 + i64::from(number), "cheque").unwrap();
        let name = format!("keys/{number}.pem");
        store.put_file(&Companion { name, bytes: vec![number; 50], secret: true }).unwrap();
    }
    store.revoke_client_link("020202020202", 6).unwrap();
    store.remove_device("device 3", 7).unwrap();
    (jobs, blobs)
}

/// The files that [`filled`] put beside the store.
pub(crate) fn companions(data: &Path) -> Vec<Companion> {
    let read = |number: u8| {
        let name = format!("keys/{number}.pem");
        Companion { bytes: fs::read(data.join(&name)).unwrap(), name, secret: true }
    };
    (1..=3).map(read).collect()
}

/// Every table but the changes, whose kinds of faults are their own, and what is no table of ours.
const TABLES: &[&str] = &[
    "job",
    "blob",
    "setting",
    "device",
    "pairing_code",
    "job_blob",
    "client_link",
    "client_file",
    "client_view",
    "invoice",
    "payment",
    "sealed_file",
    "tally",
];
/// What changes all the time or says nothing that could be missed is not sealed: how far a log goes is known by its
/// changes, a job's line by its record.
const LEFT_OUT: &[&str] = &["job.summary", "job.created_ms", "job.head_seq", "blob.created_ms"];

/// A connection that lets everything through.
fn behind_its_back(data: &Path) -> Connection {
    let connection = Connection::open(data.join("store.sqlite")).unwrap();
    connection.pragma_update(None, "foreign_keys", "off").unwrap();
    connection.pragma_update(None, "ignore_check_constraints", "on").unwrap();
    connection
}

/// One value of one row of any table, changed; what it did, in words.
fn injure_value(data: &Path, dice: &mut Dice) -> String {
    let connection = behind_its_back(data);
    loop {
        let table = TABLES[dice.up_to(TABLES.len())];
        let columns: Vec<String> = connection
            .prepare(&format!("select name from pragma_table_info('{table}')"))
            .unwrap()
            .query_map([], |row| row.get(0))
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        let column = &columns[dice.up_to(columns.len())];
        if LEFT_OUT.contains(&format!("{table}.{column}").as_str()) {
            continue;
        }
        let rows: usize = connection
            .query_row(&format!("select count(*) from {table}"), [], |row| row.get(0))
            .unwrap();
        let row = dice.up_to(rows);
        let old: Value = connection
            .query_row(&format!("select {column} from {table} limit 1 offset {row}"), [], |row| {
                row.get(0)
            })
            .unwrap();
        let new = match old.clone() {
            Value::Null | Value::Real(_) => continue,
            Value::Integer(number) => Value::Integer(number ^ (1 << dice.up_to(9))),
            Value::Text(text) if text.is_empty() => continue,
            Value::Text(text) => {
                let mut bytes = text.into_bytes();
                let at = dice.up_to(bytes.len());
                // Stays text, and is another letter.
                bytes[at] = if bytes[at] == b'x' { b'y' } else { b'x' };
                Value::Text(String::from_utf8(bytes).unwrap())
            }
            Value::Blob(mut bytes) => {
                let at = dice.up_to(bytes.len());
                bytes[at] ^= 1 << dice.up_to(8);
                Value::Blob(bytes)
            }
        };
        assert_ne!(old, new);
        let first = &columns[0];
        let second = columns.get(1).unwrap_or(first);
        let key = format!("select {first}, {second} from {table} limit 1 offset {row}");
        let changed = connection
            .execute(
                &format!("update {table} set {column} = ?1 where ({first}, {second}) = ({key})"),
                [&new],
            )
            .unwrap();
        assert!(changed >= 1, "{table}.{column}");
        return format!("{table}.{column} of row {row}: {old:?} for {new:?}");
    }
}

/// One row of any table, gone; what it did, in words.
fn remove_row(data: &Path, dice: &mut Dice) -> String {
    let connection = behind_its_back(data);
    let table = TABLES[dice.up_to(TABLES.len())];
    let rows: usize = connection
        .query_row(&format!("select count(*) from {table}"), [], |row| row.get(0))
        .unwrap();
    let row = dice.up_to(rows);
    let columns: Vec<String> = connection
        .prepare(&format!("select name from pragma_table_info('{table}') limit 2"))
        .unwrap()
        .query_map([], |row| row.get(0))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    let key = columns.join(", ");
    let gone = connection
        .execute(
            &format!(
                "delete from {table} where ({key}) = (select {key} from {table} limit 1 offset {row})"
            ),
            [],
        )
        .unwrap();
    assert_eq!(gone, 1, "{table}");
    format!("row {row} of {table} removed")
}

/// One fault of a file; what it did, in words.
fn injure_file(file: &Path, dice: &mut Dice) -> String {
    let mut bytes = fs::read(file).unwrap();
    match dice.up_to(3) {
        0 => {
            let at = dice.up_to(bytes.len());
            bytes[at] ^= 1 << dice.up_to(8);
            fs::write(file, bytes).unwrap();
        }
        1 => fs::write(file, &bytes[..dice.up_to(bytes.len())]).unwrap(),
        _ => fs::remove_file(file).unwrap(),
    }
    file.display().to_string()
}

/// One fault of a job's log; what it did, in words.
fn injure_log(data: &Path, jobs: &[JobId], dice: &mut Dice) -> String {
    let connection = behind_its_back(data);
    let job = jobs[dice.up_to(jobs.len())].as_str();
    let seq = 1 + dice.up_to(20);
    let one = format!("where job = '{job}' and seq = {seq}");
    let sql = |text: String| {
        assert_eq!(connection.execute(&text, []).unwrap(), 1, "{text}");
        text
    };
    let flip = |column: &str, at: usize| {
        let mut bytes: Vec<u8> = connection
            .query_row(&format!("select {column} from change {one}"), [], |row| row.get(0))
            .unwrap();
        bytes[at] ^= 16;
        let text = format!("update change set {column} = ?1 {one}");
        assert_eq!(connection.execute(&text, [bytes]).unwrap(), 1);
        format!("{text}: byte {at}")
    };
    match dice.up_to(7) {
        0 => sql(format!("delete from change {one}")),
        1 => flip("bytes", dice.up_to(200)),
        2 => flip("hash", dice.up_to(32)),
        3 => flip("seal", dice.up_to(32)),
        4 => sql(format!("update job set head_seq = head_seq - 1 where id = '{job}'")),
        5 => sql(format!("update change set job = 'x' {one}")),
        _ => sql(format!("update change set seq = 1000 + seq {one}")),
    }
}

/// All that can be read, to be compared.
fn everything(data: &Path) -> Vec<String> {
    let store = Store::open(data).unwrap();
    let mut all = Vec::new();
    for job in store.jobs().unwrap() {
        all.push(format!("{:?}", store.changes(&job.id, 0, 100).unwrap()));
        all.push(job.id.to_string());
    }
    all.push(format!("{:?}", store.blobs().unwrap()));
    all.push(format!("{:?}", store.devices().unwrap()));
    all.push(format!("{:?}", store.client_links().unwrap()));
    all.push(format!("{:?}", store.invoices().unwrap()));
    all.push(format!("{:?}", store.sealed_files().unwrap()));
    all.push(format!("{:?}", companions(data)));
    all.extend((1..=3).map(|number| {
        let name = format!("setting {number}");
        format!("{:?}", store.setting(&name).unwrap())
    }));
    all
}

#[test]
fn every_one_of_five_hundred_faults_is_found_and_mended_from_the_backup() {
    let folder = tempfile::tempdir().unwrap();
    let (data, backup) = (folder.path().join("data"), folder.path().join("backup"));
    let (jobs, blobs) = filled(&data);
    let order = BackupOrder { put: companions(&data), ..BackupOrder::default() };
    Store::open(&data).unwrap().back_up(&backup, &order, &mut |_| {}).unwrap();
    let kept = everything(&data);
    let mut dice = Dice(500);
    for number in 0..500 {
        let what = match dice.up_to(10) {
            0 | 1 => injure_file(&blob_file(&data, &blobs[dice.up_to(blobs.len())]), &mut dice),
            2 => injure_file(&data.join(format!("keys/{}.pem", 1 + dice.up_to(3))), &mut dice),
            3..=5 => injure_log(&data, &jobs, &mut dice),
            6 | 7 => remove_row(&data, &mut dice),
            _ => injure_value(&data, &mut dice),
        };
        let store = Store::open(&data).unwrap();
        let first = losses(&store);
        assert_ne!(first, [], "fault {number} was not found: {what}");
        let copy = Store::open(&backup).unwrap();
        // Mending one fault can show the next: a change under a wrong number is missing at its own.
        let mut found = first.clone();
        for _ in 0..4 {
            if found.is_empty() {
                break;
            }
            for fault in &found {
                store.mend(fault, Some(&copy)).unwrap();
            }
            found = losses(&store);
        }
        assert_eq!(found, [], "fault {number} was not mended: {what}, found as {first:?}");
    }
    assert_eq!(everything(&data), kept);
}

#[test]
fn without_a_copy_what_the_seals_prove_is_mended_and_the_rest_stays_named() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let (jobs, blobs) = filled(&data);
    let kept = everything(&data);
    let mend = |sql: &str| {
        assert_eq!(behind_its_back(&data).execute(sql, []).unwrap(), 1, "{sql}");
        let store = Store::open(&data).unwrap();
        assert_ne!(losses(&store), [], "{sql}");
        for _ in 0..4 {
            for fault in store.verify(&mut |_| {}).unwrap() {
                store.mend(&fault, None).unwrap();
            }
        }
        losses(&store)
    };
    for sql in [
        "update payment set row_seal = zeroblob(32) where number = 2",
        "update device set row_seal = null where id = 'device 1'",
        "update tally set count = count + 3 where of = 'invoice'",
        "update tally set mix = zeroblob(32) where of = 'payment'",
        "update job set head_seq = 4 where id = 'b'",
        "update change set job = 'x' where job = 'b' and seq = 20",
        &format!("delete from blob where hash = '{}'", blobs[7]),
        "delete from job where id = 'b'",
    ] {
        assert_eq!(mend(sql), [], "{sql}");
        assert_eq!(everything(&data), kept, "{sql}");
    }
    let left = mend("update payment set amount = 1000 where number = 1");
    let [Fault::RowDamaged { table: "payment", row, content: _ }] = &left[..] else {
        panic!("{left:?}");
    };
    assert_eq!(row, "a payment of invoice 2026- 1 2026-06-12");
    let left = mend("delete from client_link where job = 'a'");
    assert!(
        left.iter().any(|fault| fault.to_string().contains("the client's address")),
        "{left:?}"
    );
    assert_eq!(jobs.len(), 3);
}

#[test]
fn what_was_damaged_is_not_sealed_as_it_is_by_the_next_change() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    filled(&data);
    let sql = "update device set person = 'A. Stranger' where id = 'device 1'";
    assert_eq!(behind_its_back(&data).execute(sql, []).unwrap(), 1);
    let store = Store::open(&data).unwrap();
    store.devices_seen(&BTreeMap::from([("device 1".to_owned(), 99)])).unwrap();
    let left = losses(&store);
    assert!(matches!(left[..], [Fault::RowDamaged { table: "device", .. }]), "{left:?}");
}

#[test]
fn another_log_under_the_same_number_mends_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (data, other) = (folder.path().join("data"), folder.path().join("other"));
    let job = JobId::new("a").unwrap();
    for (writer, path) in [(1, &data), (2, &other)] {
        let store = Store::open(path).unwrap();
        store.create_job(&job, "").unwrap();
        let chunks: Vec<Chunk> = (1..=5).map(|number| chunk(writer, number, 50)).collect();
        store.append(&job, &chunks).unwrap();
    }
    let connection = Connection::open(data.join("store.sqlite")).unwrap();
    connection.execute("delete from change where seq = 3", []).unwrap();
    drop(connection);
    let (store, copy) = (Store::open(&data).unwrap(), Store::open(&other).unwrap());
    let found = losses(&store);
    assert_eq!(found, [Fault::ChangeMissing { job, seq: 3 }]);
    assert!(!store.mend(&found[0], Some(&copy)).unwrap());
    assert!(!store.mend(&found[0], None).unwrap());
    assert_eq!(losses(&store), found);
}
