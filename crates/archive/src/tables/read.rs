//! Reading the tables: words by their numbers in a dictionary, and whole rows.

use std::iter::Peekable;
use std::vec::IntoIter;

use inspection::DwellingKind;
use jiff::Span;
use jiff::civil::{Date, date};

use super::JOB_COLUMNS;
use super::file::{Chunk, Table};
use super::hybrid::{Stretch, stretches, stretches_of, unpack};
use super::tally::TableFile;
use crate::error::ArchiveError;
use crate::rows::{FindingSeen, Held, JobRow, PointOutcome, PointRow, WorstVerdict};

/// A column of words of one row group: the words once, and the pages with their numbers.
pub(super) struct Coded {
    pub(super) words: Vec<String>,
    chunk: Chunk,
}

impl Coded {
    /// Reads the column with this name.
    pub(super) fn read(table: &Table, group: usize, name: &str) -> Result<Self, ArchiveError> {
        let chunk = table.chunk(group, name)?;
        Ok(Self { words: chunk.words()?, chunk })
    }

    /// Every stretch of its numbers, in order.
    pub(super) fn each(
        &self,
        mut each: impl FnMut(Stretch<'_>) -> Result<(), ArchiveError>,
    ) -> Result<(), ArchiveError> {
        for (count, page) in self.chunk.data() {
            stretches(page, count, &mut each)?;
        }
        Ok(())
    }

    /// Its runs: each number with how often it comes, one after the other.
    pub(super) fn runs(&self) -> Result<Vec<(u32, usize)>, ArchiveError> {
        let mut runs: Vec<(u32, usize)> = Vec::new();
        let mut add = |number: u32, length: usize| match runs.last_mut() {
            Some(last) if last.0 == number => last.1 += length,
            _ => runs.push((number, length)),
        };
        self.each(|stretch| {
            match stretch {
                Stretch::Run { number, length } => add(number, length),
                Stretch::Packed { bytes, width, length } => {
                    unpack(bytes, width, length, |number| add(number, 1));
                }
            }
            Ok(())
        })?;
        Ok(runs)
    }

    /// For each row what stands for its word, by a table with an entry a word.
    pub(super) fn translated<T: Copy + Default>(
        &self,
        table: &[T],
        into: &mut Vec<T>,
    ) -> Result<(), ArchiveError> {
        let count = self.chunk.rows;
        into.clear();
        into.reserve(count);
        let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        // Numbers of so many bits: with a table as long as that, no number lies outside.
        let mut padded = table.to_vec();
        padded.resize(table.len().next_power_of_two().max(256), T::default());
        let mut outside = false;
        self.each(|stretch| {
            match stretch {
                Stretch::Run { number, length } => {
                    outside |= at(number) >= table.len();
                    let value = padded.get(at(number)).copied().unwrap_or_default();
                    into.extend(std::iter::repeat_n(value, length));
                }
                Stretch::Packed { bytes, width, length } => {
                    unpack(bytes, width, length, |number| {
                        outside |= at(number) >= table.len();
                        into.push(padded.get(at(number)).copied().unwrap_or_default());
                    });
                }
            }
            Ok(())
        })?;
        if outside || into.len() != count {
            let what = "a table names words that its dictionary does not have".to_owned();
            return Err(ArchiveError::Damaged { what });
        }
        Ok(())
    }

    /// For each row its word.
    pub(super) fn all(&self) -> Result<Vec<&str>, ArchiveError> {
        let words: Vec<&str> = self.words.iter().map(String::as_str).collect();
        let mut all = Vec::new();
        self.translated(&words, &mut all)?;
        Ok(all)
    }
}

/// The jobs of a part with their points, in the order of their numbers; one row group is in memory at a time.
pub(crate) struct Rows<'a> {
    file: &'a TableFile,
    jobs: Peekable<IntoIter<JobRow>>,
    points: Peekable<IntoIter<(String, Vec<PointRow>)>>,
    /// The next row group of points.
    group: usize,
}

impl<'a> Rows<'a> {
    pub(crate) fn new(file: &'a TableFile) -> Result<Self, ArchiveError> {
        let mut jobs = Vec::new();
        for group in 0..file.jobs.groups() {
            jobs.extend(job_rows(&file.jobs, group)?);
        }
        let (jobs, points) = (jobs.into_iter().peekable(), Vec::new().into_iter().peekable());
        Ok(Self { file, jobs, points, group: 0 })
    }

    /// The next job; none after the last.
    pub(crate) fn next(&mut self) -> Result<Option<(JobRow, Vec<PointRow>)>, ArchiveError> {
        while self.points.peek().is_none() && self.group < self.file.points.groups() {
            self.points = point_rows(&self.file.points, self.group)?.into_iter().peekable();
            self.group += 1;
        }
        let Some(job) = self.jobs.next() else {
            return match self.points.next() {
                None => Ok(None),
                Some((number, _)) => Err(no_job(&number)),
            };
        };
        let points = match self.points.next_if(|(number, _)| *number <= job.job) {
            None => Vec::new(),
            Some((number, points)) if number == job.job => points,
            Some((number, _)) => return Err(no_job(&number)),
        };
        Ok(Some((job, points)))
    }
}

pub(super) fn no_job(number: &str) -> ArchiveError {
    let what = format!("the points of job {number} are there, the job is not");
    ArchiveError::Damaged { what }
}

fn job_rows(table: &Table, group: usize) -> Result<Vec<JobRow>, ArchiveError> {
    let coded = |name: &str| Coded::read(table, group, name);
    let (job, kind, maker) = (coded("job")?, coded("kind")?, coded("maker")?);
    let (model, region, purpose) = (coded("model")?, coded("region")?, coded("purpose")?);
    let (jobs, kinds, makers) = (job.all()?, kind.all()?, maker.all()?);
    let (models, regions, purposes) = (model.all()?, region.all()?, purpose.all()?);
    let [years, built, visited, ages, points, examined, findings] =
        ["model_year", "built", "visited", "age", "points", "examined", "findings"]
            .map(|name| numbers(table, group, name));
    let (years, built, visited, ages) = (years?, built?, visited?, ages?);
    let (points, examined, findings) = (points?, examined?, findings?);
    let count = |numbers: &[Option<i32>], at: usize| {
        numbers.get(at).copied().flatten().and_then(|it| u32::try_from(it).ok()).unwrap_or(0)
    };
    (0..jobs.len())
        .map(|at| {
            let word = |words: &[&str]| words.get(at).copied().unwrap_or_default().to_owned();
            let number = |numbers: &[Option<i32>]| numbers.get(at).copied().flatten();
            Ok(JobRow {
                job: word(&jobs),
                kind: DwellingKind::from_word(&word(&kinds)).ok_or_else(|| unknown("kind"))?,
                maker: word(&makers),
                model: word(&models),
                model_year: number(&years).and_then(|it| i16::try_from(it).ok()),
                built: number(&built).and_then(day),
                visited: number(&visited).and_then(day),
                age: number(&ages).and_then(|it| u16::try_from(it).ok()),
                region: word(&regions),
                purpose: word(&purposes),
                points: count(&points, at),
                examined: count(&examined, at),
                findings: count(&findings, at),
            })
        })
        .collect()
}

fn point_rows(table: &Table, group: usize) -> Result<Vec<(String, Vec<PointRow>)>, ArchiveError> {
    let coded = |name: &str| Coded::read(table, group, name);
    let (job, point) = (coded("job")?, coded("point")?);
    let points = point.all()?;
    let outcomes = read_back(&coded("outcome")?, "outcome", PointOutcome::from_word)?;
    let verdicts = read_back(&coded("verdict")?, "verdict", WorstVerdict::from_word)?;
    let findings = read_back(&coded("finding")?, "finding", FindingSeen::from_word)?;
    let helds = read_back(&coded("held")?, "held", Held::from_words)?;
    let mut rows = points.iter().zip(outcomes).zip(verdicts).zip(findings).zip(helds).map(
        |((((point, outcome), verdict), finding), held)| PointRow {
            point: (*point).to_owned(),
            outcome,
            verdict,
            finding,
            held,
        },
    );
    let mut all = Vec::new();
    for (number, length) in job.runs()? {
        let number = usize::try_from(number).ok().and_then(|at| job.words.get(at));
        let number = number.ok_or_else(|| unknown("job"))?.clone();
        all.push((number, rows.by_ref().take(length).collect()));
    }
    Ok(all)
}

/// For each row what its word means.
fn read_back<T: Copy + Default>(
    coded: &Coded,
    name: &str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<Vec<T>, ArchiveError> {
    let mut all = Vec::new();
    coded.translated(&meanings(coded, name, meaning)?, &mut all)?;
    Ok(all)
}

/// What each word of a dictionary means.
pub(super) fn meanings<T>(
    coded: &Coded,
    name: &str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<Vec<T>, ArchiveError> {
    coded.words.iter().map(|word| meaning(word).ok_or_else(|| unknown(name))).collect()
}

/// The numbers of a column; none where a value is missing.
pub(super) fn numbers(
    table: &Table,
    group: usize,
    name: &str,
) -> Result<Vec<Option<i32>>, ArchiveError> {
    let chunk = table.chunk(group, name)?;
    let optional = JOB_COLUMNS.iter().any(|column| column.name == name && column.optional);
    let mut all = Vec::with_capacity(chunk.rows);
    for (count, page) in chunk.data() {
        let there = if optional { levels(page, count) } else { Some((vec![1; count], page)) };
        let (there, mut rest) = there.ok_or_else(|| unknown(name))?;
        for level in there {
            let mut value = None;
            if level == 1 {
                let (bytes, after) = rest.split_first_chunk::<4>().ok_or_else(|| unknown(name))?;
                value = Some(i32::from_le_bytes(*bytes));
                rest = after;
            }
            all.push(value);
        }
    }
    Ok(all)
}

/// Which values of a page are there, and the bytes of those.
fn levels(page: &[u8], count: usize) -> Option<(Vec<u32>, &[u8])> {
    let (length, rest) = page.split_first_chunk::<4>()?;
    let length = usize::try_from(u32::from_le_bytes(*length)).ok()?;
    let (levels, values) = rest.split_at_checked(length)?;
    let mut there = Vec::with_capacity(count);
    let read = stretches_of(1, levels, count, |stretch| {
        match stretch {
            Stretch::Run { number, length } => there.extend(std::iter::repeat_n(number, length)),
            Stretch::Packed { bytes, width, length } => {
                unpack(bytes, width, length, |number| there.push(number));
            }
        }
        Ok(())
    });
    (read.is_ok() && there.len() == count).then_some((there, values))
}

fn day(days: i32) -> Option<Date> {
    let span = Span::new().try_days(days).ok()?;
    date(1970, 1, 1).checked_add(span).ok()
}

fn unknown(name: &str) -> ArchiveError {
    ArchiveError::Damaged {
        what: format!("the column `{name}` of a table is not what was written"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::write::days;

    #[test]
    fn days_are_counted_from_1970_on_and_read_back() {
        for (text, number) in
            [("1970-01-01", 0), ("1969-12-31", -1), ("2026-06-12", 20_616), ("2000-02-29", 11_016)]
        {
            let date: Date = text.parse().unwrap();
            assert_eq!(days(date), number, "{text}");
            assert_eq!(day(number), Some(date));
        }
        assert_eq!(day(i32::MAX), None);
    }
}
