//! Carrying out what the replica wants written: all of it in one transaction, durable before it is told.

use js_sys::Uint8Array;
use sync::{Batch, Cursor, JobId, Write};
use wasm_bindgen::JsValue;

use super::{
    BYTES, CHANGES, Disk, JOBS, PHOTOS, finished,
    rows::{JobRows, PhotoRow, Row, Rows, cursor_value, key},
    sentence_of,
};

/// One record to put.
struct Put {
    table: &'static str,
    key: JsValue,
    value: JsValue,
}

impl Disk {
    /// Writes a batch. On failure nothing of it is there.
    pub(crate) async fn write(&self, batch: &Batch) -> Result<(), String> {
        // Worked out on copies of the jobs concerned: if the disk refuses, nothing has happened.
        let mut after = Rows::default();
        let mut puts = Vec::new();
        for write in &batch.writes {
            let id = job_of(write);
            if !after.jobs.contains_key(id) {
                let rows = self.rows.borrow().jobs.get(id).cloned().unwrap_or_default();
                after.jobs.insert(id.clone(), rows);
            }
            if let Some(job) = after.jobs.get_mut(id) {
                puts.extend(record(id, job, write));
            }
        }
        let transaction = self.writing(&[JOBS, CHANGES, BYTES, PHOTOS])?;
        for put in &puts {
            let table = transaction.object_store(put.table).map_err(|error| sentence_of(&error))?;
            table.put(&put.value, Some(&put.key)).map_err(|error| sentence_of(&error))?;
        }
        finished(transaction).await?;
        self.rows.borrow_mut().jobs.extend(after.jobs);
        Ok(())
    }
}

fn job_of(write: &Write) -> &JobId {
    match write {
        Write::Job { job }
        | Write::Change { job, hash: _, bytes: _, copied: _ }
        | Write::Copied { job, hash: _ }
        | Write::NotCopied { job, hash: _ }
        | Write::Refused { job, hash: _, why: _ }
        | Write::Cursor { job, cursor: _ }
        | Write::Reset { job }
        | Write::Blob { job, blob: _, size: _, rank: _ }
        | Write::BlobCopied { job, blob: _ }
        | Write::BlobNotCopied { job, blob: _ }
        | Write::BlobRefused { job, blob: _, why: _ } => job,
    }
}

/// The records that one write puts; `job` is brought up to date.
fn record(id: &JobId, job: &mut JobRows, write: &Write) -> Vec<Put> {
    match write {
        Write::Job { job: _ } => vec![cursor_put(id, job.cursor)],
        Write::Cursor { job: _, cursor } => {
            job.cursor = *cursor;
            vec![cursor_put(id, *cursor)]
        }
        Write::Change { job: _, hash, bytes, copied } => {
            let key = key(id, hash);
            let number = job.next_number();
            let new = Row { number, copied: false, refused: None };
            let row = job.changes.entry(*hash).or_insert(new);
            row.copied |= *copied;
            // The bytes each time: they may be gone though their row is there.
            let value = Uint8Array::from(bytes.as_slice()).into();
            vec![
                Put { table: BYTES, key: key.clone(), value },
                Put { table: CHANGES, key, value: row.to_value() },
            ]
        }
        Write::Copied { job: _, hash } => change(id, job, hash, |row| row.copied = true),
        Write::NotCopied { job: _, hash } => change(id, job, hash, |row| row.copied = false),
        Write::Refused { job: _, hash, why } => {
            change(id, job, hash, |row| row.refused = Some(why.clone()))
        }
        Write::Reset { job: _ } => reset(id, job),
        Write::Blob { job: _, blob, size, rank } => {
            let number = job.next_number();
            let row = Row { number, copied: false, refused: None };
            let photo = PhotoRow { row, size: *size, rank: *rank };
            let photo = job.photos.entry(*blob).or_insert(photo);
            vec![Put { table: PHOTOS, key: key(id, blob), value: photo.to_value() }]
        }
        Write::BlobCopied { job: _, blob } => photo(id, job, *blob, |row| row.copied = true),
        Write::BlobNotCopied { job: _, blob } => photo(id, job, *blob, |row| row.copied = false),
        Write::BlobRefused { job: _, blob, why } => {
            photo(id, job, *blob, |row| row.refused = Some(why.clone()))
        }
    }
}

fn cursor_put(id: &JobId, cursor: Cursor) -> Put {
    Put { table: JOBS, key: JsValue::from_str(id.as_str()), value: cursor_value(cursor) }
}

fn change(
    id: &JobId,
    job: &mut JobRows,
    hash: &sync::Hash,
    act: impl FnOnce(&mut Row),
) -> Vec<Put> {
    let Some(row) = job.changes.get_mut(hash) else { return Vec::new() };
    act(row);
    vec![Put { table: CHANGES, key: key(id, hash), value: row.to_value() }]
}

fn photo(
    id: &JobId,
    job: &mut JobRows,
    blob: sync::BlobHash,
    act: impl FnOnce(&mut Row),
) -> Vec<Put> {
    let Some(photo) = job.photos.get_mut(&blob) else { return Vec::new() };
    act(&mut photo.row);
    vec![Put { table: PHOTOS, key: key(id, blob), value: photo.to_value() }]
}

fn reset(id: &JobId, job: &mut JobRows) -> Vec<Put> {
    job.cursor = Cursor::START;
    let mut puts = vec![cursor_put(id, job.cursor)];
    for (hash, row) in &mut job.changes {
        row.copied = false;
        puts.push(Put { table: CHANGES, key: key(id, hash), value: row.to_value() });
    }
    for (blob, photo) in &mut job.photos {
        photo.row.copied = false;
        puts.push(Put { table: PHOTOS, key: key(id, blob), value: photo.to_value() });
    }
    puts
}
