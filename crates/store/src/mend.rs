//! Putting right what [`Store::verify`] found wrong, where it can be proved what was there.

use rusqlite::{OptionalExtension, Transaction};

use crate::{
    Fault, JobId, Sha256Hex, Store, StoreError, StoredChange, change::seal, clock, error::During,
    row_seal::changing,
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
            Fault::ChangeUncounted { job, seq } => {
                if self.put_under_its_job(job, *seq)? {
                    return Ok(true);
                }
                let Ok(job) = JobId::new(job) else { return Ok(false) };
                let counted = self.count_again(&job)?;
                self.count_once("job", job.as_str())?;
                Ok(counted)
            }
            Fault::BlobDamaged { hash } | Fault::BlobMissing { hash } => {
                let Some(copy) = copy else { return Ok(false) };
                match copy.blob(hash) {
                    Ok(Some(bytes)) => self.put_blob(&bytes).map(|_| true),
                    Ok(None) | Err(StoreError::Damaged { .. }) => Ok(false),
                    Err(error) => Err(error),
                }
            }
            Fault::RowDamaged { table, row: _, content } => self.mend_row(table, content, copy),
            Fault::RowsMissing { table, what: _, count: _ } => self.mend_missing_rows(table, copy),
            Fault::TallyDamaged { table, what: _ } => self.mend_tally(table, copy),
            Fault::FileDamaged { name } | Fault::FileMissing { name } => self.mend_file(name, copy),
            Fault::FileUnrecorded { path } => {
                let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
                let Ok(hash) = Sha256Hex::new(name) else { return Ok(false) };
                if !self.is_whole(&hash)? {
                    return Ok(false);
                }
                let hash = self.put_blob_from_file(path)?;
                self.count_once("blob", hash.as_str())?;
                Ok(true)
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
            let raised = changing(transaction, "job", "id = ?1", &[&job.as_str()], || {
                transaction
                    .execute(
                        "insert into job (id, summary, created_ms, head_seq) values (?1, '', ?3, ?2)
                         on conflict (id) do update set head_seq = ?2 where head_seq < ?2",
                        (job.as_str(), head, clock::unix_milliseconds()),
                    )
                    .during(&doing)
            })?;
            Ok(raised > 0)
        })
    }

    /// Brings a change under another job back to the one that its seal names; whether there is one.
    fn put_under_its_job(&self, stands_under: &str, seq: u64) -> Result<bool, StoreError> {
        let doing = format!("bringing change {seq} back to its job");
        // A list of jobs that cannot be read is a fault of its own.
        let Ok(jobs) = self.jobs() else { return Ok(false) };
        self.write(&doing, |transaction| {
            /// Hash, seal and bytes, each as far as it can be read.
            type Parts = (Vec<u8>, [u8; 32], Vec<u8>);
            let parts: Option<Parts> = transaction
                .query_row(
                    "select hash, seal, bytes from change where job = ?1 and seq = ?2",
                    (stands_under, seq),
                    |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
                )
                .optional()
                .during(&doing)?;
            let Some((hash, sealed, bytes)) = parts else { return Ok(false) };
            let is_of = |job: &JobId| seal(job, seq, &hash, &bytes) == sealed;
            let Some(job) = jobs.iter().map(|job| &job.id).find(|job| is_of(job)) else {
                return Ok(false);
            };
            if job.as_str() == stands_under {
                return Ok(false);
            }
            // Where the right one is there again, this one is a second copy of it.
            let removed = transaction
                .execute(
                    "delete from change where job = ?1 and seq = ?2 and exists
                     (select 1 from change where job = ?3 and seq = ?2 and hash = ?4 and seal = ?5)",
                    (stands_under, seq, job.as_str(), &hash, sealed),
                )
                .during(&doing)?;
            let moved = transaction
                .execute(
                    "update or ignore change set job = ?3 where job = ?1 and seq = ?2",
                    (stands_under, seq, job.as_str()),
                )
                .during(&doing)?;
            Ok(removed + moved > 0)
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
