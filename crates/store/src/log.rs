//! A job's log for a server: appending only where the log ends as expected, and reading in pages.

use rusqlite::{OptionalExtension, Transaction};
use sha2::{Digest, Sha256};

use crate::{
    Chunk, JobId, Store, StoreError, StoredChange,
    change::{changes_in, seal},
    error::During,
    job::head_seq,
    row_seal::changing,
};

/// A place in a job's log: the number of a change and its hash; number 0 and zeros before the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// The number.
    pub seq: u64,
    /// The change's hash.
    pub hash: [u8; 32],
}

/// What became of an append that expected the log to end somewhere, once that is on disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AppendedAfter {
    /// Kept; the log now ends at this number.
    Kept {
        /// The number of the last change.
        head_seq: u64,
    },
    /// The log does not end there; nothing was written.
    HeadMoved,
}

/// A stretch of a job's log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LogPage {
    /// What comes after the place.
    Page {
        /// The number of the log's last change.
        head_seq: u64,
        /// The changes, in order and without a gap.
        changes: Vec<StoredChange>,
    },
    /// The log does not begin that way.
    OtherLog {
        /// The number of the log's last change.
        head_seq: u64,
    },
}

impl Store {
    /// Appends the chunks, all or none, if the log ends at `after`; makes the job first if there is
    /// none and `after` is number 0. None of the chunks may be in the log already.
    pub fn append_after(
        &self,
        job: &JobId,
        after: Place,
        chunks: &[Chunk],
    ) -> Result<AppendedAfter, StoreError> {
        let doing = format!("appending to job \"{job}\"");
        self.write(&doing, |transaction| append_after(transaction, job, after, chunks))
    }

    /// What comes after the first `after_seq` changes, whose digest is `chain`: at most `limit`
    /// changes, and no more than `most_bytes` of them, but always one if there is one.
    ///
    /// The digest is all zeros before the first change, and with each one the SHA-256 of the digest
    /// before and the change's hash. It tells a log that was put back from an old copy, and then
    /// grew another way, from the one that was read.
    pub fn page(
        &self,
        job: &JobId,
        after_seq: u64,
        chain: [u8; 32],
        limit: usize,
        most_bytes: usize,
    ) -> Result<LogPage, StoreError> {
        let doing = format!("reading the changes of job \"{job}\"");
        let transaction = self.read(&doing)?;
        let head_seq = head_seq(&transaction, job)?;
        if after_seq > head_seq || chain_at(&transaction, job, after_seq)? != chain {
            return Ok(LogPage::OtherLog { head_seq });
        }
        let changes = changes_in(&transaction, job, head_seq, after_seq, limit, most_bytes)?;
        Ok(LogPage::Page { head_seq, changes })
    }

    /// One job; `None` if it is not kept here.
    pub fn job_head(&self, job: &JobId) -> Result<Option<u64>, StoreError> {
        match head_seq(&self.connection, job) {
            Ok(head_seq) => Ok(Some(head_seq)),
            Err(StoreError::NoSuchJob { job: _ }) => Ok(None),
            Err(error) => Err(error),
        }
    }
}

/// The digest of a log's first changes, from an index that holds their hashes alone.
fn chain_at(transaction: &Transaction<'_>, job: &JobId, seq: u64) -> Result<[u8; 32], StoreError> {
    let doing = format!("comparing the log of job \"{job}\"");
    let mut statement = transaction
        .prepare_cached("select hash from change where job = ?1 and seq <= ?2 order by seq")
        .during(&doing)?;
    let mut rows = statement.query((job.as_str(), seq)).during(&doing)?;
    let mut chain = [0; 32];
    while let Some(row) = rows.next().during(&doing)? {
        let hash: [u8; 32] = row.get(0).during(&doing)?;
        chain = Sha256::new().chain_update(chain).chain_update(hash).finalize().into();
    }
    Ok(chain)
}

/// Whether this change is in the log at this number.
fn stands_at(transaction: &Transaction<'_>, job: &JobId, place: Place) -> Result<bool, StoreError> {
    if place.seq == 0 {
        return Ok(place.hash == [0; 32]);
    }
    let Ok(seq) = i64::try_from(place.seq) else { return Ok(false) };
    let hash: Option<[u8; 32]> = transaction
        .prepare_cached("select hash from change where job = ?1 and seq = ?2")
        .and_then(|mut statement| {
            statement.query_row((job.as_str(), seq), |row| row.get(0)).optional()
        })
        .during(format_args!("looking up change {seq} of job \"{job}\""))?;
    Ok(hash == Some(place.hash))
}

/// The same inside a transaction.
pub(crate) fn append_after(
    transaction: &Transaction<'_>,
    job: &JobId,
    after: Place,
    chunks: &[Chunk],
) -> Result<AppendedAfter, StoreError> {
    let doing = format!("appending to job \"{job}\"");
    if after.seq == 0 {
        changing(transaction, "job", "id = ?1", &[&job.as_str()], || {
            transaction
                .prepare_cached(
                    "insert into job (id, summary, created_ms) values (?1, '', ?2)
                     on conflict (id) do nothing",
                )
                .and_then(|mut statement| {
                    statement.execute((job.as_str(), crate::clock::unix_milliseconds()))
                })
                .during(&doing)
        })?;
    }
    let head = head_seq(transaction, job)?;
    if head != after.seq || !stands_at(transaction, job, after)? {
        return Ok(AppendedAfter::HeadMoved);
    }
    let mut insert = transaction
        .prepare_cached(
            "insert into change (job, seq, hash, seal, bytes) values (?1, ?2, ?3, ?4, ?5)",
        )
        .during(&doing)?;
    let mut seq = head;
    for chunk in chunks {
        seq += 1;
        let seal = seal(job, seq, &chunk.hash, &chunk.bytes);
        insert.execute((job.as_str(), seq, chunk.hash, seal, &chunk.bytes)).during(&doing)?;
    }
    transaction
        .prepare_cached("update job set head_seq = ?2 where id = ?1")
        .and_then(|mut statement| statement.execute((job.as_str(), seq)))
        .during(&doing)?;
    Ok(AppendedAfter::Kept { head_seq: seq })
}
