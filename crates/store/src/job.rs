//! Which jobs are kept, and how far each one's log goes.

use rusqlite::{Connection, OptionalExtension, Row};

use crate::{JobId, Store, StoreError, error::During, row_seal::changing};

/// A job as the store knows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredJob {
    /// Its id.
    pub id: JobId,
    /// One line for lists, given by the caller; not part of the job's log and not sealed.
    pub summary: String,
    /// How many changes its log has: the number of the last one.
    pub head_seq: u64,
    /// When it was created here, in milliseconds since the start of 1970, universal time.
    pub created_unix_ms: i64,
}

/// Where a job's log ends. A log grows and is never changed, so this tells whether anything was added.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct LogHead {
    /// The job.
    pub job: JobId,
    /// The number of its last change; 0 if there is none.
    pub seq: u64,
    /// The hash of its last change; zeros if there is none.
    pub hash: [u8; 32],
}

impl Store {
    /// Creates a job with an empty log; `false` if it was there already, then it stays as it is.
    pub fn create_job(&self, job: &JobId, summary: &str) -> Result<bool, StoreError> {
        let doing = format!("creating job \"{job}\"");
        self.write(&doing, |transaction| {
            let added = changing(transaction, "job", "id = ?1", &[&job.as_str()], || {
                transaction
                    .execute(
                        "insert into job (id, summary, created_ms) values (?1, ?2, ?3)
                         on conflict (id) do nothing",
                        (job.as_str(), summary, crate::clock::unix_milliseconds()),
                    )
                    .during(&doing)
            })?;
            Ok(added == 1)
        })
    }

    /// Replaces the line shown for a job in lists.
    pub fn set_summary(&self, job: &JobId, summary: &str) -> Result<(), StoreError> {
        let doing = format!("keeping the summary of job \"{job}\"");
        self.write(&doing, |transaction| {
            let found = transaction
                .execute("update job set summary = ?2 where id = ?1", (job.as_str(), summary))
                .during(&doing)?;
            if found == 0 {
                return Err(StoreError::NoSuchJob { job: job.clone() });
            }
            Ok(())
        })
    }

    /// Whether a job is kept here.
    pub fn job_exists(&self, job: &JobId) -> Result<bool, StoreError> {
        match head_seq(&self.connection, job) {
            Ok(_) => Ok(true),
            Err(StoreError::NoSuchJob { .. }) => Ok(false),
            Err(error) => Err(error),
        }
    }

    /// All jobs, by id.
    pub fn jobs(&self) -> Result<Vec<StoredJob>, StoreError> {
        let doing = "listing the jobs";
        let mut statement = self
            .connection
            .prepare_cached("select id, summary, head_seq, created_ms from job order by id")
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut jobs = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            jobs.push(stored_job(row)?);
        }
        Ok(jobs)
    }
}

impl Store {
    /// Where the log of every job ends, by the job's id.
    pub fn log_heads(&self) -> Result<Vec<LogHead>, StoreError> {
        let doing = "listing where the jobs' logs end";
        let mut statement = self
            .connection
            .prepare_cached(
                "select job.id, job.head_seq, change.hash from job
                     left join change on change.job = job.id and change.seq = job.head_seq
                     order by job.id",
            )
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut heads = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            let id: String = row.get(0).during(doing)?;
            let hash: Option<[u8; 32]> = row.get(2).during(doing)?;
            heads.push(LogHead {
                job: JobId::new(&id).map_err(|refused| StoreError::Damaged {
                    what: format!("the list of jobs: {refused}"),
                })?,
                seq: row.get(1).during(doing)?,
                hash: hash.unwrap_or_default(),
            });
        }
        Ok(heads)
    }
}

/// The number of a job's last change.
pub(crate) fn head_seq(connection: &Connection, job: &JobId) -> Result<u64, StoreError> {
    connection
        .prepare_cached("select head_seq from job where id = ?1")
        .and_then(|mut statement| statement.query_row([job.as_str()], |row| row.get(0)).optional())
        .during(format_args!("looking up job \"{job}\""))?
        .ok_or_else(|| StoreError::NoSuchJob { job: job.clone() })
}

fn stored_job(row: &Row<'_>) -> Result<StoredJob, StoreError> {
    let doing = "listing the jobs";
    let id: String = row.get(0).during(doing)?;
    Ok(StoredJob {
        id: JobId::new(&id).map_err(|refused| StoreError::Damaged {
            what: format!("the list of jobs: {refused}"),
        })?,
        summary: row.get(1).during(doing)?,
        head_seq: row.get(2).during(doing)?,
        created_unix_ms: row.get(3).during(doing)?,
    })
}
