//! Reading everything again, to know that all of it is still what was kept.

use std::{collections::BTreeSet, fs, path::PathBuf};

use rusqlite::Connection;

use crate::{
    JobId, Sha256Hex, Store, StoreError, StoredJob, change::seal, error::During, job::head_seq,
};

/// How far a verification has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Changes and blobs read.
    pub done: u64,
    /// Changes and blobs to read in all.
    pub total: u64,
}

/// Something that is not as it was kept.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// The database contradicts itself or cannot be read.
    #[error("the database: {message}")]
    Database {
        /// What SQLite says about it.
        message: String,
    },
    /// A change does not match its seal.
    #[error("change {seq} of job \"{job}\" is not what was kept")]
    ChangeDamaged {
        /// The job as written in the row.
        job: String,
        /// The number as written in the row.
        seq: u64,
    },
    /// A change that the job's count includes is not there.
    #[error("change {seq} of job \"{job}\" is missing")]
    ChangeMissing {
        /// The job.
        job: JobId,
        /// The first number missing.
        seq: u64,
    },
    /// A change is beyond its job's count, or its job is not there.
    #[error("change {seq} stands under job \"{job}\", which does not count it")]
    ChangeUncounted {
        /// The job as written in the row.
        job: String,
        /// The number as written in the row.
        seq: u64,
    },
    /// A blob's file does not hold what its name says.
    #[error("blob {hash} is not what was kept")]
    BlobDamaged {
        /// The blob.
        hash: Sha256Hex,
    },
    /// A blob was kept, but its file is gone.
    #[error("the file of blob {hash} is missing")]
    BlobMissing {
        /// The blob.
        hash: Sha256Hex,
    },
    /// A row does not match its seal.
    #[error("{row} is not what was kept")]
    RowDamaged {
        /// Its table.
        table: &'static str,
        /// The row, in words.
        row: String,
        /// The seal that what stands there would have.
        content: Sha256Hex,
    },
    /// Rows are gone.
    #[error("rows are missing, {count} of them: {what}")]
    RowsMissing {
        /// Their table.
        table: &'static str,
        /// What one such row is, in words.
        what: &'static str,
        /// How many.
        count: u64,
    },
    /// The count of a table's rows does not match them.
    #[error("the count of the rows with {what} is not what was kept")]
    TallyDamaged {
        /// The table.
        table: &'static str,
        /// What one of its rows is, in words.
        what: &'static str,
    },
    /// A file beside the store is not as the program last wrote it.
    #[error("{name} is not what was kept")]
    FileDamaged {
        /// Its name in the data folder.
        name: String,
    },
    /// A file beside the store is gone.
    #[error("{name} is missing")]
    FileMissing {
        /// Its name in the data folder.
        name: String,
    },
    /// A file has no row. Harmless where a program stopped, or is just about, to record it:
    /// nobody was told that it is kept.
    #[error("{} is not recorded", path.display())]
    FileUnrecorded {
        /// The file, in full.
        path: PathBuf,
    },
}

impl Fault {
    /// Whether something that was acknowledged is not as it was: all but leftover files.
    pub fn is_loss(&self) -> bool {
        !matches!(self, Self::FileUnrecorded { .. })
    }
}

impl Store {
    /// Reads every change, every other row, every blob and every sealed file again and checks the database; answers with
    /// all that is wrong, which is nothing in a sound store. Others may go on writing meanwhile.
    pub fn verify(&self, progress: &mut dyn FnMut(Progress)) -> Result<Vec<Fault>, StoreError> {
        let mut faults = Vec::new();
        // Files before rows: a blob being put meanwhile has its file first.
        let files = self.blob_files()?;
        // First, and so mended first: a job whose row is put back has its line again.
        match self.verify_rows() {
            Ok(found) => faults.extend(found),
            Err(error) => note(Err(error), &mut faults)?,
        }
        let mut steps = Progress { done: 0, total: 0 };
        let outcome = self.verify_database(&mut steps, progress, &mut faults);
        note(outcome, &mut faults)?;
        match self.blobs() {
            Ok(blobs) => {
                let mut unrecorded = files;
                for blob in blobs {
                    let path = self.folder.blob_file(&blob.hash);
                    unrecorded.remove(&path);
                    match self.is_whole(&blob.hash) {
                        Ok(true) => {}
                        Ok(false) if !path.exists() => {
                            faults.push(Fault::BlobMissing { hash: blob.hash });
                        }
                        // A file that cannot be read is as bad as one that reads wrong.
                        Ok(false) | Err(_) => faults.push(Fault::BlobDamaged { hash: blob.hash }),
                    }
                    steps.done += 1;
                    progress(steps);
                }
                faults.extend(unrecorded.into_iter().map(|path| Fault::FileUnrecorded { path }));
            }
            Err(error) => note(Err(error), &mut faults)?,
        }
        match self.verify_files() {
            Ok(found) => faults.extend(found),
            Err(error) => note(Err(error), &mut faults)?,
        }
        Ok(faults)
    }

    fn verify_database(
        &self,
        steps: &mut Progress,
        progress: &mut dyn FnMut(Progress),
        faults: &mut Vec<Fault>,
    ) -> Result<(), StoreError> {
        let doing = "checking the database";
        let transaction = self.read(doing)?;
        check_structure(&transaction, faults)?;
        steps.total = transaction
            .query_row(
                "select (select count(*) from change) + (select count(*) from blob)",
                [],
                |row| row.get(0),
            )
            .during(doing)?;
        progress(*steps);
        for job in self.jobs()? {
            let outcome = check_log(&transaction, &job, faults, &mut || {
                steps.done += 1;
                progress(*steps);
            });
            note(outcome, faults)?;
        }
        let mut statement = transaction
            .prepare(
                "select job, seq from change
                 where not exists (select 1 from job where id = job and head_seq >= seq)",
            )
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        while let Some(row) = rows.next().during(doing)? {
            faults.push(Fault::ChangeUncounted {
                job: row.get(0).during(doing)?,
                seq: row.get(1).during(doing)?,
            });
        }
        Ok(())
    }

    /// Every file below `blobs/`.
    fn blob_files(&self) -> Result<BTreeSet<PathBuf>, StoreError> {
        let doing = "listing the files of blobs";
        let mut files = BTreeSet::new();
        let mut folders = vec![self.folder.blobs()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).during(doing)? {
                let entry = entry.during(doing)?;
                if entry.file_type().during(doing)?.is_dir() {
                    folders.push(entry.path());
                } else {
                    files.insert(entry.path());
                }
            }
        }
        Ok(files)
    }
}

fn check_structure(connection: &Connection, faults: &mut Vec<Fault>) -> Result<(), StoreError> {
    let doing = "checking the database";
    let mut statement = connection.prepare("pragma integrity_check").during(doing)?;
    let mut rows = statement.query([]).during(doing)?;
    while let Some(row) = rows.next().during(doing)? {
        let message: String = row.get(0).during(doing)?;
        if message != "ok" {
            faults.push(Fault::Database { message });
        }
    }
    Ok(())
}

fn check_log(
    connection: &Connection,
    job: &StoredJob,
    faults: &mut Vec<Fault>,
    each: &mut dyn FnMut(),
) -> Result<(), StoreError> {
    let doing = format!("checking the changes of job \"{}\"", job.id);
    let head_seq = head_seq(connection, &job.id)?;
    let mut statement = connection
        .prepare_cached("select seq, hash, seal, bytes from change where job = ?1 order by seq")
        .during(&doing)?;
    let mut rows = statement.query([job.id.as_str()]).during(&doing)?;
    let mut expected = 1;
    while let Some(row) = rows.next().during(&doing)? {
        let seq: u64 = row.get(0).during(&doing)?;
        if seq > expected && expected <= head_seq {
            faults.push(Fault::ChangeMissing { job: job.id.clone(), seq: expected });
        }
        expected = seq + 1;
        let hash = row.get_ref(1).during(&doing)?;
        let kept = row.get_ref(2).during(&doing)?;
        let bytes = row.get_ref(3).during(&doing)?;
        let sound = match (hash.as_blob(), kept.as_blob(), bytes.as_blob()) {
            (Ok(hash), Ok(kept), Ok(bytes)) => kept == seal(&job.id, seq, hash, bytes).as_slice(),
            _ => false,
        };
        if !sound {
            faults.push(Fault::ChangeDamaged { job: job.id.to_string(), seq });
        }
        each();
    }
    if expected <= head_seq {
        faults.push(Fault::ChangeMissing { job: job.id.clone(), seq: expected });
    }
    Ok(())
}

/// Damage met on the way is a finding, and what can still be checked is checked.
fn note(outcome: Result<(), StoreError>, faults: &mut Vec<Fault>) -> Result<(), StoreError> {
    match outcome {
        Err(StoreError::Damaged { what }) => {
            faults.push(Fault::Database { message: what });
            Ok(())
        }
        other => other,
    }
}
