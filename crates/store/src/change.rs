//! A job's log: changes appended once, numbered in order, read back from a cursor.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, Transaction};
use sha2::{Digest, Sha256};

use crate::{JobId, Sha256Hex, Store, StoreError, error::During, job::head_seq};

/// One change to keep: opaque bytes under the change's own hash, computed by the caller.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chunk {
    /// The change's identity; a job's log has it at most once.
    pub hash: [u8; 32],
    /// The change.
    pub bytes: Vec<u8>,
}

/// What became of an append, once it is on disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Appended {
    /// The number of the log's last change.
    pub head_seq: u64,
    /// How many of the chunks were new; the others were kept already.
    pub new: usize,
}

/// One change as it was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredChange {
    /// Its number in the job's log, from 1.
    pub seq: u64,
    /// The hash the caller gave.
    pub hash: [u8; 32],
    /// The change.
    pub bytes: Vec<u8>,
}

impl Store {
    /// Appends the chunks a job's log does not have yet, in the order given, all or none.
    ///
    /// A repeat is harmless, and mends: a kept change found damaged is put right from the repeat
    /// when that is provably what was kept. The same hash with other bytes is refused.
    pub fn append(&self, job: &JobId, chunks: &[Chunk]) -> Result<Appended, StoreError> {
        let doing = format!("appending to job \"{job}\"");
        self.write(&doing, |transaction| {
            let head = head_seq(transaction, job)?;
            let mut fresh = Vec::new();
            let mut given = BTreeMap::new();
            for chunk in chunks {
                match given.insert(chunk.hash, &chunk.bytes) {
                    Some(same) if *same == chunk.bytes => {}
                    Some(_) => return Err(clash(job, chunk)),
                    None if is_kept(transaction, job, chunk, &doing)? => {}
                    None => fresh.push(chunk),
                }
            }
            if fresh.is_empty() {
                return Ok(Appended { head_seq: head, new: 0 });
            }
            // Numbers come from the job's own row, under the transaction's lock: whoever has read
            // up to a number has read all before it.
            let head: u64 = transaction
                .prepare_cached(
                    "update job set head_seq = head_seq + ?2 where id = ?1 returning head_seq",
                )
                .and_then(|mut statement| {
                    statement.query_row((job.as_str(), fresh.len()), |row| row.get(0))
                })
                .during(&doing)?;
            let mut insert = transaction
                .prepare_cached(
                    "insert into change (job, seq, hash, seal, bytes) values (?1, ?2, ?3, ?4, ?5)",
                )
                .during(&doing)?;
            for (seq, chunk) in (1..=head).rev().zip(fresh.iter().rev()) {
                let seal = seal(job, seq, &chunk.hash, &chunk.bytes);
                insert
                    .execute((job.as_str(), seq, chunk.hash, seal, &chunk.bytes))
                    .during(&doing)?;
            }
            Ok(Appended { head_seq: head, new: fresh.len() })
        })
    }

    /// The changes of a job after number `after_seq`, in order, at most `limit` of them.
    ///
    /// Fewer than `limit` means the log ends there. Each one is checked first, and that none is
    /// missing in between; the first that fails is named in the error.
    pub fn changes(
        &self,
        job: &JobId,
        after_seq: u64,
        limit: usize,
    ) -> Result<Vec<StoredChange>, StoreError> {
        let doing = format!("reading the changes of job \"{job}\"");
        let transaction = self.read(&doing)?;
        let head_seq = head_seq(&transaction, job)?;
        if after_seq > head_seq {
            return Err(StoreError::CursorAhead { job: job.clone(), after_seq, head_seq });
        }
        changes_in(&transaction, job, head_seq, after_seq, limit, usize::MAX)
    }
}

/// The changes of a job after a number, checked; fewer than `limit` where the log ends, or where more
/// would pass `most_bytes`. One change is given whatever its size.
pub(crate) fn changes_in(
    transaction: &Transaction<'_>,
    job: &JobId,
    head_seq: u64,
    after_seq: u64,
    limit: usize,
    most_bytes: usize,
) -> Result<Vec<StoredChange>, StoreError> {
    let doing = format!("reading the changes of job \"{job}\"");
    let mut statement = transaction
        .prepare_cached(
            "select seq, hash, seal, bytes from change
                 where job = ?1 and seq > ?2 order by seq limit ?3",
        )
        .during(&doing)?;
    let limit = i64::try_from(limit).unwrap_or(i64::MAX);
    let mut rows = statement.query((job.as_str(), after_seq, limit)).during(&doing)?;
    let mut changes = Vec::new();
    let mut bytes = 0;
    let mut expected = after_seq + 1;
    while let Some(row) = rows.next().during(&doing)? {
        let at = format!("change {expected} of job \"{job}\"");
        let seq: u64 = row.get(0).during(&at)?;
        if seq != expected || seq > head_seq {
            return Err(StoreError::Damaged {
                what: format!("{at} is missing: the next one there is {seq}, the last {head_seq}"),
            });
        }
        let change =
            StoredChange { seq, hash: row.get(1).during(&at)?, bytes: row.get(3).during(&at)? };
        let kept: [u8; 32] = row.get(2).during(&at)?;
        if kept != seal(job, seq, &change.hash, &change.bytes) {
            return Err(StoreError::Damaged { what: format!("{at} is not what was kept") });
        }
        bytes += change.bytes.len();
        if bytes > most_bytes && !changes.is_empty() {
            return Ok(changes);
        }
        changes.push(change);
        expected += 1;
    }
    if expected <= head_seq && i64::try_from(changes.len()).is_ok_and(|found| found < limit) {
        return Err(StoreError::Damaged {
            what: format!(
                "change {expected} of job \"{job}\" is missing, though {head_seq} were kept"
            ),
        });
    }
    Ok(changes)
}

/// The SHA-256 kept beside each change: of its bytes, and of where and under which hash they were
/// kept, so that no row can stand in for another.
pub(crate) fn seal(job: &JobId, seq: u64, hash: &[u8], bytes: &[u8]) -> [u8; 32] {
    let mut digest = Sha256::new();
    digest.update([u8::try_from(job.as_str().len()).expect("a job id has at most 64 bytes")]);
    digest.update(job.as_str());
    digest.update(seq.to_be_bytes());
    digest.update(hash);
    digest.update(bytes);
    digest.finalize().into()
}

/// Whether the log has this chunk, sound or mended from the repeat.
fn is_kept(
    transaction: &Transaction<'_>,
    job: &JobId,
    chunk: &Chunk,
    doing: &str,
) -> Result<bool, StoreError> {
    let kept: Option<(u64, [u8; 32], Vec<u8>)> = transaction
        .prepare_cached("select seq, seal, bytes from change where job = ?1 and hash = ?2")
        .and_then(|mut statement| {
            statement
                .query_row((job.as_str(), chunk.hash), |row| {
                    Ok((row.get(0)?, row.get(1)?, row.get(2)?))
                })
                .optional()
        })
        .during(doing)?;
    let Some((seq, kept_seal, kept_bytes)) = kept else { return Ok(false) };
    let right_seal = seal(job, seq, &chunk.hash, &chunk.bytes);
    match (kept_seal == right_seal, kept_bytes == chunk.bytes) {
        (true, true) => Ok(true),
        (false, false) => Err(clash(job, chunk)),
        // Either the seal vouches for the repeat or the kept bytes do: the other one rotted.
        (true, false) | (false, true) => {
            transaction
                .execute(
                    "update change set seal = ?3, bytes = ?4 where job = ?1 and seq = ?2",
                    (job.as_str(), seq, right_seal, &chunk.bytes),
                )
                .during(doing)?;
            Ok(true)
        }
    }
}

fn clash(job: &JobId, chunk: &Chunk) -> StoreError {
    let hash = Sha256Hex::from_digest(chunk.hash);
    StoreError::Refused {
        what: format!(
            "job \"{job}\": a change with the hash {hash} is kept or given already, with other bytes; \
             a hash must name one change only"
        ),
    }
}
