//! A job's entry in the index: replaced whole when the job changed, read back for lists and results.

use rusqlite::{OptionalExtension, Transaction, TransactionBehavior};

use super::{COLUMNS, Index, NewPart, known_id};
use crate::{JobId, StoreError, error::During, job::LogHead};

/// What is kept of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The job, and how far its log went.
    pub head: LogHead,
    /// The caller's row for lists.
    pub row: String,
    /// The caller's texts, for showing where something was found.
    pub texts: String,
    /// Words to search, by column: folded, apart by spaces.
    pub words: [String; COLUMNS],
}

/// A job as it is in the index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IndexedJob {
    /// Its id.
    pub job: JobId,
    /// The caller's row.
    pub row: String,
    /// The caller's texts.
    pub texts: String,
}

impl Index {
    /// Puts these entries in the place of what was known of their jobs, takes out the jobs that are gone, and adds the
    /// part with the entries' table rows: all or nothing. Only for whoever holds the index.
    pub fn replace(
        &self,
        entries: &[Entry],
        gone: &[JobId],
        settings: &[(String, String)],
        part: &NewPart,
    ) -> Result<(), StoreError> {
        let doing = "bringing the index up to date";
        let jobs = entries.len();
        let transaction =
            Transaction::new_unchecked(&self.connection, TransactionBehavior::Immediate)
                .during(doing)?;
        for job in gone {
            take_out(&transaction, job)?;
        }
        let number = self.write_part(&transaction, part, jobs)?;
        for entry in entries {
            let id = take_out(&transaction, &entry.head.job)?;
            put_in(&transaction, id, entry, number)?;
        }
        for (key, value) in settings {
            transaction
                .prepare_cached("insert or replace into setting (key, value) values (?1, ?2)")
                .and_then(|mut statement| statement.execute((key, value)))
                .during(doing)?;
        }
        transaction.commit().during(doing)
    }

    /// The caller's rows of all jobs, by the job's id.
    pub fn rows(&self) -> Result<Vec<(JobId, String)>, StoreError> {
        let doing = "listing the index";
        let mut statement = self
            .connection
            .prepare_cached("select job, row from job order by job")
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut all = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            let job: String = row.get(0).during(doing)?;
            all.push((known_id(&job)?, row.get(1).during(doing)?));
        }
        Ok(all)
    }

    /// One job by the number that a search gave.
    pub fn indexed(&self, id: i64) -> Result<Option<IndexedJob>, StoreError> {
        let doing = "reading a job of the index";
        let found: Option<(String, String, String)> = self
            .connection
            .prepare_cached(
                "select job, row, texts from job join texts on texts.id = job.id where job.id = ?1",
            )
            .and_then(|mut statement| {
                statement
                    .query_row([id], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))
                    .optional()
            })
            .during(doing)?;
        found
            .map(|(job, row, texts)| Ok(IndexedJob { job: known_id(&job)?, row, texts }))
            .transpose()
    }

    /// The number under which a search gives this job.
    pub fn number_of(&self, job: &JobId) -> Result<Option<i64>, StoreError> {
        self.connection
            .prepare_cached("select id from job where job = ?1")
            .and_then(|mut statement| {
                statement.query_row([job.as_str()], |row| row.get(0)).optional()
            })
            .during("looking up a job in the index")
    }
}

/// Takes a job out of everything but the parts' files, where its rows count no more; its number, if it was there.
fn take_out(transaction: &Transaction<'_>, job: &JobId) -> Result<Option<i64>, StoreError> {
    let doing = format!("taking job \"{job}\" out of the index");
    let found: Option<(i64, i64)> = transaction
        .prepare_cached("select id, part from job where job = ?1")
        .and_then(|mut statement| {
            statement.query_row([job.as_str()], |row| Ok((row.get(0)?, row.get(1)?))).optional()
        })
        .during(&doing)?;
    let Some((id, part)) = found else { return Ok(None) };
    transaction
        .prepare_cached("insert or ignore into gone (part, job) values (?1, ?2)")
        .and_then(|mut statement| statement.execute((part, job.as_str())))
        .during(&doing)?;
    for delete in [
        "delete from job where id = ?1",
        "delete from texts where id = ?1",
        "delete from words where rowid = ?1",
    ] {
        transaction
            .prepare_cached(delete)
            .and_then(|mut statement| statement.execute([id]))
            .during(&doing)?;
    }
    Ok(Some(id))
}

fn put_in(
    transaction: &Transaction<'_>,
    id: Option<i64>,
    entry: &Entry,
    part: i64,
) -> Result<(), StoreError> {
    let head = &entry.head;
    let doing = format!("indexing job \"{}\"", head.job);
    transaction
        .prepare_cached(
            "insert into job (id, job, head_seq, head_hash, row, part) values (?1, ?2, ?3, ?4, ?5, ?6)",
        )
        .and_then(|mut statement| {
            statement.execute((id, head.job.as_str(), head.seq, head.hash, &entry.row, part))
        })
        .during(&doing)?;
    let id = transaction.last_insert_rowid();
    transaction
        .prepare_cached("insert into texts (id, texts) values (?1, ?2)")
        .and_then(|mut statement| statement.execute((id, &entry.texts)))
        .during(&doing)?;
    let [c0, c1, c2, c3, c4, c5, c6] = &entry.words;
    transaction
        .prepare_cached(
            "insert into words (rowid, c0, c1, c2, c3, c4, c5, c6) values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )
        .and_then(|mut statement| statement.execute((id, c0, c1, c2, c3, c4, c5, c6)))
        .during(&doing)?;
    Ok(())
}
