//! What is there when the app starts, and the changes of one job.

use idb::{KeyRange, ObjectStore, Query};
use js_sys::Uint8Array;
use sync::{BlobHash, Hash, JobId, LocalBlob, LocalChange, LocalJob, LocalState};
use wasm_bindgen::JsValue;

use super::{
    BYTES, CHANGES, Disk, JOBS, PHOTOS,
    rows::{JobRows, PhotoRow, Row, Rows, cursor_of, key, parts},
    sentence_of,
};

impl Disk {
    /// Reads the short tables, and the bytes of changes that the server has not got.
    pub(crate) async fn restore(&self) -> Result<LocalState, String> {
        let mut rows = Rows::default();
        let transaction = self.reading(&[JOBS, CHANGES, PHOTOS])?;
        let table = |name| transaction.object_store(name).map_err(|error| sentence_of(&error));
        for (key, value) in all(&table(JOBS)?, None).await? {
            let id = key.as_string().and_then(|text| JobId::new(&text).ok());
            if let Some(id) = id {
                let cursor = cursor_of(&value).unwrap_or_default();
                rows.jobs.insert(id, JobRows { cursor, ..JobRows::default() });
            }
        }
        for (key, value) in all(&table(CHANGES)?, None).await? {
            if let (Some((id, hash)), Some(row)) = (parts(&key), Row::from_value(&value)) {
                rows.jobs.entry(id).or_default().changes.insert(hash, row);
            }
        }
        for (key, value) in all(&table(PHOTOS)?, None).await? {
            if let (Some((id, hash)), Some(row)) = (parts(&key), PhotoRow::from_value(&value)) {
                rows.jobs.entry(id).or_default().photos.insert(BlobHash(hash.0), row);
            }
        }
        let mut jobs = Vec::new();
        for (id, rows) in &rows.jobs {
            jobs.push(self.local_job(id, rows).await?);
        }
        *self.rows.borrow_mut() = rows;
        Ok(LocalState { jobs })
    }

    async fn local_job(&self, id: &JobId, rows: &JobRows) -> Result<LocalJob, String> {
        let mut changes: Vec<(&Hash, &Row)> = rows.changes.iter().collect();
        changes.sort_by_key(|(_, row)| row.number);
        let mut photos: Vec<(&BlobHash, &PhotoRow)> = rows.photos.iter().collect();
        photos.sort_by_key(|(_, photo)| photo.row.number);
        let waiting: Vec<Hash> =
            changes.iter().filter(|(_, row)| !row.copied).map(|(hash, _)| **hash).collect();
        let mut bytes = self.some_changes(id, &waiting).await?.into_iter();
        Ok(LocalJob {
            job: id.clone(),
            cursor: rows.cursor,
            changes: changes
                .into_iter()
                .map(|(hash, row)| LocalChange {
                    hash: *hash,
                    copied: row.copied,
                    refused: row.refused.clone(),
                    bytes: if row.copied { None } else { bytes.next().flatten() },
                })
                .collect(),
            blobs: photos
                .into_iter()
                .map(|(blob, photo)| LocalBlob {
                    blob: *blob,
                    size: photo.size,
                    rank: photo.rank,
                    copied: photo.row.copied,
                    refused: photo.row.refused.clone(),
                })
                .collect(),
        })
    }

    /// All raw changes of a job, in the order in which they were written.
    pub(crate) async fn changes(&self, id: &JobId) -> Result<Vec<Vec<u8>>, String> {
        let transaction = self.reading(&[BYTES])?;
        let table = transaction.object_store(BYTES).map_err(|error| sentence_of(&error))?;
        let mut found = Vec::new();
        for (key, value) in all(&table, Some(id)).await? {
            let number = parts(&key).and_then(|(_, hash)| {
                Some(self.rows.borrow().jobs.get(id)?.changes.get(&hash)?.number)
            });
            if let Some(number) = number {
                found.push((number, Uint8Array::new(&value).to_vec()));
            }
        }
        found.sort();
        Ok(found.into_iter().map(|(_, bytes)| bytes).collect())
    }

    /// These raw changes of a job; none for one that is not there.
    pub(crate) async fn some_changes(
        &self,
        id: &JobId,
        hashes: &[Hash],
    ) -> Result<Vec<Option<Vec<u8>>>, String> {
        if hashes.is_empty() {
            return Ok(Vec::new());
        }
        let transaction = self.reading(&[BYTES])?;
        let table = transaction.object_store(BYTES).map_err(|error| sentence_of(&error))?;
        let mut asked = Vec::new();
        for hash in hashes {
            asked.push(table.get(key(id, hash)).map_err(|error| sentence_of(&error))?);
        }
        let mut found = Vec::new();
        for request in asked {
            let value = request.await.map_err(|error| sentence_of(&error))?;
            found.push(value.map(|value| Uint8Array::new(&value).to_vec()));
        }
        Ok(found)
    }
}

/// All records of a table, or of one job in it, with their keys.
async fn all(table: &ObjectStore, job: Option<&JobId>) -> Result<Vec<(JsValue, JsValue)>, String> {
    let query = || -> Result<Option<Query>, String> {
        let Some(job) = job else { return Ok(None) };
        // `0` follows `/`: everything between belongs to this job.
        let (first, end) = (format!("{job}/"), format!("{job}0"));
        KeyRange::bound(&first.into(), &end.into(), None, Some(true))
            .map(|range| Some(range.into()))
            .map_err(|error| sentence_of(&error))
    };
    let keys = table.get_all_keys(query()?, None).map_err(|error| sentence_of(&error))?;
    let values = table.get_all(query()?, None).map_err(|error| sentence_of(&error))?;
    let keys = keys.await.map_err(|error| sentence_of(&error))?;
    let values = values.await.map_err(|error| sentence_of(&error))?;
    Ok(keys.into_iter().zip(values).collect())
}
