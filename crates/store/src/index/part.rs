//! The parts of the index: table files that are written once, and thrown away when others took their place.

use std::{
    collections::BTreeSet,
    fs::{self, File},
    io::{self, BufRead, BufReader, Seek, Write},
    path::PathBuf,
};

use rusqlite::{OptionalExtension, Transaction, TransactionBehavior};

use super::{Index, known_id, remove};
use crate::{JobId, StoreError, error::During};

/// A part to add: its files by name, each with its bytes, and the parts whose rows it has taken over.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct NewPart {
    /// The files; a part without any holds nothing and is not added.
    pub files: Vec<(&'static str, Vec<u8>)>,
}

/// A part that counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Its number; later ones are higher.
    pub number: i64,
    /// How many jobs its files have.
    pub jobs: usize,
    /// Jobs of its files whose rows count no more.
    pub gone: BTreeSet<JobId>,
}

impl Index {
    /// The parts that count, the earliest first.
    pub fn parts(&self) -> Result<Vec<Part>, StoreError> {
        let doing = "listing the parts of the index";
        let transaction =
            Transaction::new_unchecked(&self.connection, TransactionBehavior::Deferred)
                .during(doing)?;
        parts(&transaction)
    }

    /// A file of a part, open for reading from its beginning; refused as damaged if it is not what was written.
    pub fn part_file(&self, number: i64, name: &str) -> Result<File, StoreError> {
        let path = self.part_path(number, name);
        let doing = format!("reading {}", path.display());
        let written: Option<u32> = self
            .connection
            .prepare_cached("select sum from file where part = ?1 and name = ?2")
            .and_then(|mut statement| {
                statement.query_row((number, name), |row| row.get(0)).optional()
            })
            .during(&doing)?;
        let mut file = File::open(&path).during(&doing)?;
        if Some(sum_of(&file).during(&doing)?) != written {
            let what = format!("{} is not what was written", path.display());
            return Err(StoreError::Damaged { what });
        }
        file.rewind().during(&doing)?;
        Ok(file)
    }

    /// Puts one part in the place of several, with the rows of theirs that count. Only for whoever holds the index.
    pub fn merge_parts(&self, merged: &[i64], part: &NewPart) -> Result<(), StoreError> {
        let doing = "merging parts of the index";
        let transaction =
            Transaction::new_unchecked(&self.connection, TransactionBehavior::Immediate)
                .during(doing)?;
        let mut jobs = 0;
        let mut moved = Vec::new();
        for part in merged {
            let count: usize = transaction
                .query_row("select count(*) from job where part = ?1", [part], |row| row.get(0))
                .during(doing)?;
            jobs += count;
            moved.push(*part);
        }
        let number = self.write_part(&transaction, part, jobs)?;
        for part in &moved {
            for update in [
                "update job set part = ?2 where part = ?1",
                "delete from part where number = ?1 and number <> ?2",
                "delete from file where part = ?1 and part <> ?2",
                "delete from gone where part = ?1 and part <> ?2",
            ] {
                transaction.execute(update, (part, number)).during(doing)?;
            }
        }
        transaction.commit().during(doing)?;
        self.sweep()
    }

    /// Removes files of parts that count no more. Only for whoever holds the index.
    pub fn sweep(&self) -> Result<(), StoreError> {
        let doing = "sweeping the index's files";
        let counting: BTreeSet<String> =
            self.parts()?.iter().map(|part| beginning(part.number)).collect();
        for entry in fs::read_dir(self.folder.join("tables")).during(doing)? {
            let entry = entry.during(doing)?;
            let name = entry.file_name().to_string_lossy().into_owned();
            if !counting.iter().any(|part| name.starts_with(part)) {
                remove(&entry.path())?;
            }
        }
        Ok(())
    }

    /// Writes a part's files and its row; its number, which no part had before. An empty part gets a number alone.
    pub(super) fn write_part(
        &self,
        transaction: &Transaction<'_>,
        part: &NewPart,
        jobs: usize,
    ) -> Result<i64, StoreError> {
        let doing = "writing a part of the index";
        let last: i64 = transaction
            .query_row(
                "select max(coalesce((select max(number) from part), 0), coalesce((select max(part) from job), 0))",
                [],
                |row| row.get(0),
            )
            .during(doing)?;
        let number = last + 1;
        if part.files.is_empty() {
            return Ok(number);
        }
        for (name, bytes) in &part.files {
            let path = self.part_path(number, name);
            let doing = format!("writing {}", path.display());
            let mut file = File::create(&path).during(&doing)?;
            file.write_all(bytes).during(&doing)?;
            // Before the row that says it is there.
            file.sync_all().during(&doing)?;
            transaction
                .execute(
                    "insert into file (part, name, sum) values (?1, ?2, ?3)",
                    (number, name, crc32fast::hash(bytes)),
                )
                .during(&doing)?;
        }
        transaction
            .execute("insert into part (number, jobs) values (?1, ?2)", (number, jobs))
            .during(doing)?;
        Ok(number)
    }

    fn part_path(&self, number: i64, name: &str) -> PathBuf {
        self.folder.join("tables").join(format!("{}{name}", beginning(number)))
    }
}

/// The check sum of what is in a file from where it stands.
fn sum_of(file: &File) -> io::Result<u32> {
    let mut reading = BufReader::with_capacity(1 << 18, file);
    let mut sum = crc32fast::Hasher::new();
    loop {
        let bytes = reading.fill_buf()?;
        if bytes.is_empty() {
            return Ok(sum.finalize());
        }
        sum.update(bytes);
        let length = bytes.len();
        reading.consume(length);
    }
}

/// How the names of a part's files begin.
fn beginning(number: i64) -> String {
    format!("{number:010}-")
}

fn parts(transaction: &Transaction<'_>) -> Result<Vec<Part>, StoreError> {
    let doing = "listing the parts of the index";
    let mut statement = transaction
        .prepare_cached("select number, jobs from part order by number")
        .during(doing)?;
    let listed = statement
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .and_then(Iterator::collect::<Result<Vec<(i64, usize)>, _>>)
        .during(doing)?;
    let mut statement =
        transaction.prepare_cached("select job from gone where part = ?1").during(doing)?;
    let mut parts = Vec::new();
    for (number, jobs) in listed {
        let gone = statement
            .query_map([number], |row| row.get(0))
            .and_then(Iterator::collect::<Result<Vec<String>, _>>)
            .during(doing)?;
        let gone = gone.iter().map(|job| known_id(job)).collect::<Result<_, _>>()?;
        parts.push(Part { number, jobs, gone });
    }
    Ok(parts)
}
