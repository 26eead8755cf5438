//! Writing the tables.

use std::collections::BTreeMap;
use std::io::Write;

use jiff::civil::{Date, date};
use parquet::data_type::ByteArray;

use super::file::{TableWriter, Values};
use super::{JOB_TABLE, JOBS, POINT_TABLE, POINTS};
use crate::error::ArchiveError;
use crate::rows::{JobRow, PointRow};

/// Rows of a group; its words and numbers are in memory while it is written.
const POINTS_OF_GROUP: usize = 1 << 19;
const JOBS_OF_GROUP: usize = 1 << 17;

/// Both tables, written a job at a time in the order of their numbers.
pub struct Columns<W: Write> {
    jobs: TableWriter<W>,
    points: TableWriter<W>,
    job_rows: Vec<JobRow>,
    /// The columns of the points of the group at hand.
    columns: [Words; 6],
}

/// A column of words: each once, in the order in which they came, and for each row its number.
#[derive(Default)]
pub(super) struct Words {
    words: Vec<ByteArray>,
    known: BTreeMap<String, u32>,
    numbers: Vec<u32>,
}

impl Words {
    fn push(&mut self, word: &str) {
        let last = self.numbers.last().copied();
        let same = last.filter(|last| self.word(*last) == Some(word.as_bytes()));
        let number = same.or_else(|| self.known.get(word).copied()).unwrap_or_else(|| {
            let number = u32::try_from(self.words.len()).unwrap_or(u32::MAX);
            self.words.push(word.into());
            self.known.insert(word.to_owned(), number);
            number
        });
        self.numbers.push(number);
    }

    fn word(&self, number: u32) -> Option<&[u8]> {
        let at = usize::try_from(number).ok()?;
        self.words.get(at).map(ByteArray::data)
    }

    pub(super) fn values(&self) -> Values<'_> {
        Values::Words { words: &self.words, numbers: &self.numbers }
    }

    pub(super) fn of<'a>(rows: impl Iterator<Item = &'a str>) -> Self {
        let mut words = Self::default();
        rows.for_each(|word| words.push(word));
        words
    }
}

/// The two files of a part, with these jobs and their points; no file if there is no job.
///
/// # Errors
/// If the jobs do not stand in the order of their numbers.
pub fn table_files(
    rows: &[(JobRow, Vec<PointRow>)],
) -> Result<Vec<(&'static str, Vec<u8>)>, ArchiveError> {
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    let mut columns = Columns::new(Vec::new(), Vec::new())?;
    for (job, points) in rows {
        columns.push(job.clone(), points)?;
    }
    let (jobs, points) = columns.finish()?;
    Ok(vec![(JOBS, jobs), (POINTS, points)])
}

impl<W: Write + Send> Columns<W> {
    /// Begins both files.
    ///
    /// # Errors
    /// If they cannot be written.
    pub fn new(jobs: W, points: W) -> Result<Self, ArchiveError> {
        Ok(Self {
            jobs: TableWriter::new(jobs, &JOB_TABLE)?,
            points: TableWriter::new(points, &POINT_TABLE)?,
            job_rows: Vec::new(),
            columns: Default::default(),
        })
    }

    /// Adds a job with its points; its number must come after the one before.
    ///
    /// # Errors
    /// If it does not, or the files cannot be written.
    pub fn push(&mut self, job: JobRow, points: &[PointRow]) -> Result<(), ArchiveError> {
        if self.job_rows.last().is_some_and(|last| last.job >= job.job) {
            let what = format!("job {} is out of its order in the tables", job.job);
            return Err(ArchiveError::Damaged { what });
        }
        for row in points {
            let held = row.held.words();
            let words = [
                &job.job,
                &row.point,
                row.outcome.word(),
                row.verdict.word(),
                row.finding.word(),
                &held,
            ];
            self.columns.iter_mut().zip(words).for_each(|(column, word)| column.push(word));
        }
        self.job_rows.push(job);
        if self.columns[0].numbers.len() >= POINTS_OF_GROUP {
            self.flush_points()?;
        }
        if self.job_rows.len() >= JOBS_OF_GROUP {
            // The last job stays, so that the next can be held against it.
            let last = self.job_rows.pop();
            self.flush_jobs()?;
            self.job_rows.extend(last);
        }
        Ok(())
    }

    /// Ends both files and gives back what they were written into: jobs, points.
    ///
    /// # Errors
    /// If they cannot be written.
    pub fn finish(mut self) -> Result<(W, W), ArchiveError> {
        self.flush_points()?;
        self.flush_jobs()?;
        Ok((self.jobs.finish()?, self.points.finish()?))
    }

    fn flush_points(&mut self) -> Result<(), ArchiveError> {
        if !self.columns[0].numbers.is_empty() {
            self.points.group(&self.columns.each_ref().map(Words::values))?;
            self.columns = Default::default();
        }
        Ok(())
    }

    fn flush_jobs(&mut self) -> Result<(), ArchiveError> {
        let rows = &self.job_rows;
        if rows.is_empty() {
            return Ok(());
        }
        let words = |of: fn(&JobRow) -> &str| Words::of(rows.iter().map(of));
        let numbers =
            |of: fn(&JobRow) -> Option<i32>| rows.iter().map(of).collect::<Vec<Option<i32>>>();
        let (job, kind) = (words(|row| &row.job), words(|row| row.kind.word()));
        let (maker, model) = (words(|row| &row.maker), words(|row| &row.model));
        let year = numbers(|row| row.model_year.map(i32::from));
        let built = numbers(|row| row.built.map(days));
        let visited = numbers(|row| row.visited.map(days));
        let age = numbers(|row| row.age.map(i32::from));
        let (band, region) = (words(|row| row.age_band().word()), words(|row| &row.region));
        let purpose = words(|row| &row.purpose);
        let points = numbers(|row| Some(count(row.points)));
        let examined = numbers(|row| Some(count(row.examined)));
        let findings = numbers(|row| Some(count(row.findings)));
        self.jobs.group(&[
            job.values(),
            kind.values(),
            maker.values(),
            model.values(),
            Values::Numbers(&year),
            Values::Numbers(&built),
            Values::Numbers(&visited),
            Values::Numbers(&age),
            band.values(),
            region.values(),
            purpose.values(),
            Values::Numbers(&points),
            Values::Numbers(&examined),
            Values::Numbers(&findings),
        ])?;
        self.job_rows.clear();
        Ok(())
    }
}

fn count(number: u32) -> i32 {
    i32::try_from(number).unwrap_or(i32::MAX)
}

/// Days since 1970-01-01, as Parquet writes dates.
pub(super) fn days(day: Date) -> i32 {
    date(1970, 1, 1).until(day).map_or(0, |span| span.get_days())
}
