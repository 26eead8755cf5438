//! Reading the tables whole: row by row.

use std::iter::Peekable;
use std::vec::IntoIter;

use inspection::DwellingKind;
use jiff::Span;
use jiff::civil::{Date, date};

use super::file::Table;
use super::tally::TableFile;
use crate::error::ArchiveError;
use crate::rows::{FindingSeen, Held, JobRow, PointOutcome, PointRow, WorstVerdict};

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
    let texts = |name: &str| meanings_of_rows(table, group, name, |word| Some(word.to_owned()));
    let mut jobs = texts("job")?.into_iter();
    let mut kinds = meanings_of_rows(table, group, "kind", DwellingKind::from_word)?.into_iter();
    let (mut makers, mut models) = (texts("maker")?.into_iter(), texts("model")?.into_iter());
    let (mut regions, mut purposes) = (texts("region")?.into_iter(), texts("purpose")?.into_iter());
    let numbers = |name: &str| table.numbers(group, name).map(Vec::into_iter);
    let (mut years, mut ages) = (numbers("model_year")?, numbers("age")?);
    let (mut built, mut visited) = (numbers("built")?, numbers("visited")?);
    let (mut points, mut examined) = (numbers("points")?, numbers("examined")?);
    let mut findings = numbers("findings")?;
    let mut rows = Vec::new();
    // Every column has as many values as the group has rows.
    while let (Some(job), Some(kind), Some(maker), Some(model), Some(region), Some(purpose)) =
        (jobs.next(), kinds.next(), makers.next(), models.next(), regions.next(), purposes.next())
    {
        rows.push(JobRow {
            job,
            kind,
            maker,
            model,
            model_year: next(&mut years),
            built: next(&mut built).and_then(day),
            visited: next(&mut visited).and_then(day),
            age: next(&mut ages),
            region,
            purpose,
            points: next(&mut points).unwrap_or(0),
            examined: next(&mut examined).unwrap_or(0),
            findings: next(&mut findings).unwrap_or(0),
        });
    }
    Ok(rows)
}

/// The next number of a column, if there is one that such a number can be.
fn next<T: TryFrom<i32>>(numbers: &mut IntoIter<Option<i32>>) -> Option<T> {
    numbers.next().flatten().and_then(|number| T::try_from(number).ok())
}

fn point_rows(table: &Table, group: usize) -> Result<Vec<(String, Vec<PointRow>)>, ArchiveError> {
    let points = meanings_of_rows(table, group, "point", |word| Some(word.to_owned()))?;
    let outcomes = meanings_of_rows(table, group, "outcome", PointOutcome::from_word)?;
    let verdicts = meanings_of_rows(table, group, "verdict", WorstVerdict::from_word)?;
    let findings = meanings_of_rows(table, group, "finding", FindingSeen::from_word)?;
    let helds = meanings_of_rows(table, group, "held", Held::from_words)?;
    let mut rows = points.into_iter().zip(outcomes).zip(verdicts).zip(findings).zip(helds).map(
        |((((point, outcome), verdict), finding), held)| PointRow {
            point,
            outcome,
            verdict,
            finding,
            held,
        },
    );
    let jobs = table.words(group, "job")?;
    let numbers = jobs.words.clone();
    let mut all = Vec::new();
    for of_job in jobs.places()?.chunk_by(|one, next| one == next) {
        let number = of_job.first().and_then(|place| numbers.get(*place));
        let number = number.ok_or_else(|| unknown("job"))?.clone();
        all.push((number, rows.by_ref().take(of_job.len()).collect()));
    }
    Ok(all)
}

/// For each row of a group what its word means.
pub(super) fn meanings_of_rows<T: Clone>(
    table: &Table,
    group: usize,
    name: &str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<Vec<T>, ArchiveError> {
    let words = table.words(group, name)?;
    let meanings = meanings(&words.words, name, meaning)?;
    let of_row = |place: usize| meanings.get(place).cloned().ok_or_else(|| unknown(name));
    words.places()?.into_iter().map(of_row).collect()
}

/// What each word of a dictionary means.
pub(super) fn meanings<T>(
    words: &[String],
    name: &str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<Vec<T>, ArchiveError> {
    words.iter().map(|word| meaning(word).ok_or_else(|| unknown(name))).collect()
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
