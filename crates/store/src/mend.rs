//! Putting right what [`Store::verify`] found wrong, where it can be proved what was there.

use rusqlite::{OptionalExtension, Transaction};

use crate::{
    Fault, JobId, Sha256Hex, Store, StoreError, StoredChange, change::seal, clock, error::During,
};

impl Store {
    /// Mends a fault, from the store itself where a seal proves what was kept, else from a sound copy such as a
    /// backup; whether it could. What is damaged beyond that stays as it is: nothing is guessed, nothing is dropped.
    pub fn mend(&self, fault: &Fault, copy: Option<&Self>) -> Result<bool, StoreError> {
        match fault {
            Fault::Database { message: _ } => Ok(false),
            Fault::ChangeDamaged { job, seq } => match JobId::new(job) {
                Ok(job) => self.mend_change(&job, *seq, copy),
                Err(_) => Ok(false),
            },
            Fault::ChangeMissing { job, seq } => self.mend_change(job, *seq, copy),
            Fault::ChangeUncounted { job, seq: _ } => match JobId::new(job) {
                Ok(job) => self.count_again(&job),
                Err(_) => Ok(false),
            },
            Fault::BlobDamaged { hash } | Fault::BlobMissing { hash } => {
                let Some(copy) = copy else { return Ok(false) };
                match copy.blob(hash) {
                    Ok(Some(bytes)) => self.put_blob(&bytes).map(|_| true),
                    Ok(None) | Err(StoreError::Damaged { .. }) => Ok(false),
                    Err(error) => Err(error),
                }
            }
            Fault::FileUnrecorded { path } => {
                let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
                let Ok(hash) = Sha256Hex::new(name) else { return Ok(false) };
                if !self.is_whole(&hash)? {
                    return Ok(false);
                }
                self.put_blob_from_file(path).map(|_| true)
            }
        }
    }

    /// Takes one change from a copy of the same log.
    fn mend_change(&self, job: &JobId, seq: u64, copy: Option<&Self>) -> Result<bool, StoreError> {
        let Some(copy) = copy else { return Ok(false) };
        let Some(wanted) = one_change(copy, job, seq)? else { return Ok(false) };
        let doing = format!("mending change {seq} of job \"{job}\"");
        self.write(&doing, |transaction| {
            if !same_log(transaction, job, &wanted, copy, &doing)? {
                return Ok(false);
            }
            // The row may be damaged in its number or its hash: whatever stands in the place of either goes.
            transaction
                .execute(
                    "delete from change where job = ?1 and (seq = ?2 or hash = ?3)",
                    (job.as_str(), seq, wanted.hash),
                )
                .during(&doing)?;
            transaction
                .execute(
                    "insert into change (job, seq, hash, seal, bytes) values (?1, ?2, ?3, ?4, ?5)",
                    (
                        job.as_str(),
                        seq,
                        wanted.hash,
                        seal(job, seq, &wanted.hash, &wanted.bytes),
                        &wanted.bytes,
                    ),
                )
                .during(&doing)?;
            Ok(true)
        })
    }

    /// Counts the changes of a job again: those whose seals say that they were kept, without a gap.
    fn count_again(&self, job: &JobId) -> Result<bool, StoreError> {
        let doing = format!("counting the changes of job \"{job}\" again");
        self.write(&doing, |transaction| {
            let mut statement = transaction
                .prepare("select seq, hash, seal, bytes from change where job = ?1 order by seq")
                .during(&doing)?;
            let mut rows = statement.query([job.as_str()]).during(&doing)?;
            let mut head = 0_u64;
            while let Some(row) = rows.next().during(&doing)? {
                let seq: u64 = row.get(0).during(&doing)?;
                let sealed: Option<[u8; 32]> = row.get(2).ok();
                let parts = (row.get_ref(1).during(&doing)?, row.get_ref(3).during(&doing)?);
                let proved = match (parts.0.as_blob(), parts.1.as_blob()) {
                    (Ok(hash), Ok(bytes)) => sealed == Some(seal(job, seq, hash, bytes)),
                    _ => false,
                };
                if seq != head + 1 || !proved {
                    break;
                }
                head = seq;
            }
            drop(rows);
            drop(statement);
            if head == 0 {
                return Ok(false);
            }
            let raised = transaction
                .execute(
                    "insert into job (id, summary, created_ms, head_seq) values (?1, '', ?3, ?2)
                     on conflict (id) do update set head_seq = ?2 where head_seq < ?2",
                    (job.as_str(), head, clock::unix_milliseconds()),
                )
                .during(&doing)?;
            Ok(raised > 0)
        })
    }
}

/// A change of a copy, if it is sound there.
fn one_change(copy: &Store, job: &JobId, seq: u64) -> Result<Option<StoredChange>, StoreError> {
    let Some(before) = seq.checked_sub(1) else { return Ok(None) };
    match copy.changes(job, before, 1) {
        Ok(changes) => Ok(changes.into_iter().next()),
        Err(
            StoreError::Damaged { .. }
            | StoreError::NoSuchJob { .. }
            | StoreError::CursorAhead { .. },
        ) => Ok(None),
        Err(error) => Err(error),
    }
}

/// Whether the copy has the same log here: by the damaged row's own hash or seal, or by a neighbour.
fn same_log(
    transaction: &Transaction<'_>,
    job: &JobId,
    wanted: &StoredChange,
    copy: &Store,
    doing: &str,
) -> Result<bool, StoreError> {
    /// A row's hash and seal, each as far as it can be read.
    type Marks = (Option<[u8; 32]>, Option<[u8; 32]>);
    let row = |seq: u64| -> Result<Option<Marks>, StoreError> {
        transaction
            .query_row(
                "select hash, seal from change where job = ?1 and seq = ?2",
                (job.as_str(), seq),
                |row| Ok((row.get(0).ok(), row.get(1).ok())),
            )
            .optional()
            .during(doing)
    };
    if let Some((hash, sealed)) = row(wanted.seq)? {
        let right_seal = seal(job, wanted.seq, &wanted.hash, &wanted.bytes);
        return Ok(hash == Some(wanted.hash) || sealed == Some(right_seal));
    }
    for neighbour in [wanted.seq.checked_sub(1), wanted.seq.checked_add(1)].into_iter().flatten() {
        if let Some((Some(hash), _)) = row(neighbour)?
            && let Some(theirs) = one_change(copy, job, neighbour)?
        {
            return Ok(theirs.hash == hash);
        }
    }
    // Nothing else of the log is here to tell it from another by.
    Ok(wanted.seq == 1)
}
