//! Counting over the tables: every word is looked at once a dictionary, every row as a few small numbers.

use std::collections::BTreeMap;
use std::fs::File;

use inspection::DwellingKind;
use store::JobId;

use super::file::{Codes, Table};
use super::read::{meanings, meanings_of_rows, no_job};
use super::{JOB_TABLE, POINT_TABLE};
use crate::AgeBand;
use crate::error::ArchiveError;
use crate::figures::{By, Counts, Figure, Filter, Group, Question};
use crate::rows::{FindingSeen, PointOutcome, WorstVerdict};

/// Counts of a point in a group: the fields of [`Counts`] side by side, so that one row adds all of them at once.
type Lanes = [u32; 8];

/// Stands for a job or a point that the question leaves out, and for a job that is not in this part any more.
const LEFT_OUT: i32 = -1;

/// Rows that are counted at once: as many as fit a processor's cache.
const BLOCK: usize = 1 << 15;

/// The two files of one part, open for reading.
pub struct TableFile {
    pub(super) jobs: Table,
    pub(super) points: Table,
}

impl TableFile {
    /// Opens them.
    ///
    /// # Errors
    /// If they are no Parquet files.
    pub fn new(jobs: File, points: File) -> Result<Self, ArchiveError> {
        Ok(Self {
            jobs: Table::open(jobs, &JOB_TABLE)?,
            points: Table::open(points, &POINT_TABLE)?,
        })
    }
}

/// The figures of several parts together. Each comes with the jobs whose rows in it count no more.
///
/// # Errors
/// If a part cannot be read.
pub fn figures_of<'a>(
    parts: impl IntoIterator<Item = (&'a TableFile, Vec<&'a JobId>)>,
    question: &Question,
) -> Result<Vec<Figure>, ArchiveError> {
    let mut tally = Tally::default();
    for (part, gone) in parts {
        tally.count(part, &gone, question)?;
    }
    Ok(tally.figures())
}

#[derive(Default)]
struct Tally {
    groups: Vec<Group>,
    group_numbers: BTreeMap<Group, i32>,
    points: Vec<String>,
    point_numbers: BTreeMap<String, i32>,
    /// By group, then by point.
    counts: Vec<Vec<Lanes>>,
}

/// The jobs of a part: number and group, in the order of their numbers.
struct Jobs {
    numbers: Vec<String>,
    groups: Vec<i32>,
}

impl Tally {
    fn count(
        &mut self,
        part: &TableFile,
        gone: &[&JobId],
        question: &Question,
    ) -> Result<(), ArchiveError> {
        let mut jobs = Jobs { numbers: Vec::new(), groups: Vec::new() };
        for group in 0..part.jobs.groups() {
            self.take_in(&part.jobs, group, question, &mut jobs)?;
        }
        for job in gone {
            if let Ok(at) =
                jobs.numbers.binary_search_by(|number| number.as_str().cmp(job.as_str()))
            {
                jobs.groups[at] = LEFT_OUT;
            }
        }
        let lanes = lanes();
        let (mut of_jobs, mut of_points) = (Vec::new(), Vec::new());
        let (mut codes, mut more) = (Vec::new(), Vec::new());
        let mut after = 0;
        for group in 0..part.points.groups() {
            let coded = |name: &str, meaning: fn(&str) -> Option<i32>| {
                let column = part.points.words(group, name)?;
                let codes = meanings(&column.words, name, meaning)?;
                column.coded(&codes)
            };
            let mut parts: [Codes; 4] = [
                coded("outcome", outcome)?,
                coded("verdict", verdict)?,
                coded("finding", finding)?,
                coded("held", held)?,
            ];
            let points = part.points.words(group, "point")?;
            let asked = |word: &String| question.point.as_ref().is_none_or(|asked| asked == word);
            let known: Result<Vec<i32>, _> = points
                .words
                .iter()
                .map(|word| if asked(word) { self.point(word) } else { Ok(LEFT_OUT) })
                .collect();
            let mut points = points.coded(&known?)?;
            let groups = part.points.words(group, "job")?;
            let known = groups_of(&groups.words, &jobs, &mut after)?;
            let mut groups = groups.coded(&known)?;
            while groups.left() > 0 {
                groups.read(BLOCK, &mut of_jobs)?;
                points.read(BLOCK, &mut of_points)?;
                codes.clear();
                codes.resize(of_jobs.len(), 0);
                for part in &mut parts {
                    part.read(BLOCK, &mut more)?;
                    for (code, one) in codes.iter_mut().zip(&more) {
                        *code |= one;
                    }
                }
                self.add(&of_jobs, &of_points, &codes, &lanes);
            }
        }
        Ok(())
    }

    /// Counts some rows: the group of each, its point, and what became of it.
    fn add(&mut self, groups: &[i32], points: &[i32], codes: &[i32], lanes: &[Lanes]) {
        let mut rows = points.iter().zip(codes);
        for stretch in groups.chunk_by(|one, next| one == next) {
            let rows = rows.by_ref().take(stretch.len());
            let group = stretch.first().and_then(|group| usize::try_from(*group).ok());
            let Some(counts) = group.and_then(|group| self.counts.get_mut(group)) else {
                rows.for_each(drop);
                continue;
            };
            counts.resize(counts.len().max(self.points.len()), Lanes::default());
            for (point, code) in rows {
                if *point == LEFT_OUT {
                    continue;
                }
                // Both were given out here: the lists are as long as they are many.
                let (counts, lanes) = (&mut counts[index(*point)], &lanes[index(*code)]);
                for (count, one) in counts.iter_mut().zip(lanes) {
                    *count += one;
                }
            }
        }
    }

    /// Reads a row group of jobs: to which group each belongs, if the question asks for it.
    fn take_in(
        &mut self,
        table: &Table,
        group: usize,
        question: &Question,
        jobs: &mut Jobs,
    ) -> Result<(), ArchiveError> {
        let Filter { kind, age, region, purpose, from, to } = &question.filter;
        let numbers = meanings_of_rows(table, group, "job", |word| Some(word.to_owned()))?;
        let mut wanted = vec![true; numbers.len()];
        let mut keys = vec![Group::default(); numbers.len()];
        jobs.numbers.extend(numbers);
        if !jobs.numbers.is_sorted_by(|one, next| one < next) {
            let what = "the jobs of a table are out of order".to_owned();
            return Err(ArchiveError::Damaged { what });
        }
        let by = |what| question.by.contains(&what);
        if by(By::Kind) || kind.is_some() {
            let all = meanings_of_rows(table, group, "kind", DwellingKind::from_word)?;
            for ((key, wanted), this) in keys.iter_mut().zip(&mut wanted).zip(all) {
                *wanted &= kind.is_none_or(|kind| kind == this);
                key.kind = by(By::Kind).then_some(this);
            }
        }
        if by(By::Age) || age.is_some() {
            let all = meanings_of_rows(table, group, "age_band", AgeBand::from_word)?;
            for ((key, wanted), this) in keys.iter_mut().zip(&mut wanted).zip(all) {
                *wanted &= age.is_none_or(|age| age == this);
                key.age = by(By::Age).then_some(this);
            }
        }
        if by(By::Region) {
            let all = meanings_of_rows(table, group, "region", |word| Some(word.to_owned()))?;
            for (key, this) in keys.iter_mut().zip(all) {
                key.region = Some(this);
            }
        }
        for (name, asked) in [("region", region), ("purpose", purpose)] {
            let Some(asked) = asked else { continue };
            let all = meanings_of_rows(table, group, name, |word| Some(word == asked))?;
            wanted.iter_mut().zip(all).for_each(|(wanted, this)| *wanted &= this);
        }
        if from.is_some() || to.is_some() {
            let first = from.map_or(i32::MIN, super::write::days);
            let last = to.map_or(i32::MAX, super::write::days);
            for (wanted, this) in wanted.iter_mut().zip(table.numbers(group, "visited")?) {
                *wanted &= this.is_some_and(|day| (first..=last).contains(&day));
            }
        }
        for (key, wanted) in keys.into_iter().zip(wanted) {
            let number = if wanted { self.group(key) } else { LEFT_OUT };
            jobs.groups.push(number);
        }
        Ok(())
    }

    fn group(&mut self, key: Group) -> i32 {
        if let Some(number) = self.group_numbers.get(&key) {
            return *number;
        }
        let number = i32::try_from(self.groups.len()).unwrap_or(LEFT_OUT);
        self.groups.push(key.clone());
        self.counts.push(Vec::new());
        self.group_numbers.insert(key, number);
        number
    }

    fn point(&mut self, id: &str) -> Result<i32, ArchiveError> {
        if let Some(number) = self.point_numbers.get(id) {
            return Ok(*number);
        }
        let number = u16::try_from(self.points.len()).map(i32::from).map_err(|_| {
            ArchiveError::Damaged { what: "the tables name more points than any plan has".into() }
        })?;
        self.points.push(id.to_owned());
        self.point_numbers.insert(id.to_owned(), number);
        Ok(number)
    }

    fn figures(self) -> Vec<Figure> {
        let mut figures = Vec::new();
        for (group, counts) in self.groups.iter().zip(&self.counts) {
            for (point, lanes) in self.points.iter().zip(counts) {
                let counts = of_lanes(*lanes);
                if counts.jobs() > 0 {
                    figures.push(Figure { point: point.clone(), group: group.clone(), counts });
                }
            }
        }
        figures.sort_by(|one, other| {
            one.point.cmp(&other.point).then_with(|| one.group.cmp(&other.group))
        });
        figures
    }
}

/// The groups of the jobs that a dictionary names in the order of their numbers; both go on where they were.
fn groups_of(words: &[String], jobs: &Jobs, after: &mut usize) -> Result<Vec<i32>, ArchiveError> {
    words
        .iter()
        .map(|word| {
            let rest = jobs.numbers.get(*after..).unwrap_or_default();
            let found = rest.iter().position(|number| number >= word);
            match found.and_then(|found| Some((*after + found, rest.get(found)?))) {
                Some((at, number)) if number == word => {
                    *after = at + 1;
                    Ok(jobs.groups[at])
                }
                _ => Err(no_job(word)),
            }
        })
        .collect()
}

// A row as one byte: outcome in two bits, verdict in three, finding in two, whether a use is held in one.

fn outcome(word: &str) -> Option<i32> {
    let one = PointOutcome::from_word(word)?;
    Some(match one {
        PointOutcome::NothingEntered => 0,
        PointOutcome::Examined => 1,
        PointOutcome::NotExamined => 2,
        PointOutcome::NotFitted => 3,
    })
}

fn verdict(word: &str) -> Option<i32> {
    let one = WorstVerdict::from_word(word)?;
    Some(if one == WorstVerdict::DoesNotConform { 1 << 2 } else { 0 })
}

fn finding(word: &str) -> Option<i32> {
    let one = FindingSeen::from_word(word)?;
    Some(match one {
        FindingSeen::None => 0,
        FindingSeen::Draft => 1 << 5,
        FindingSeen::Confirmed => 2 << 5,
    })
}

fn held(word: &str) -> Option<i32> {
    Some(if word.is_empty() { 0 } else { 1 << 7 })
}

/// What a row of each byte adds. Whatever is counted beside the outcome is counted where the point was examined.
fn lanes() -> Vec<Lanes> {
    (0..=u8::MAX)
        .map(|code| {
            let is = |yes: bool| u32::from(yes);
            let examined = code & 3 == 1;
            [
                is(code & 3 == 0),
                is(examined),
                is(code & 3 == 2),
                is(code & 3 == 3),
                is(examined && code >> 5 & 3 == 2),
                is(examined && code >> 5 & 3 == 1),
                is(examined && code >> 2 & 1 == 1),
                is(examined && code >> 7 == 1),
            ]
        })
        .collect()
}

fn of_lanes(lanes: Lanes) -> Counts {
    let [nothing_entered, examined, not_examined, not_fitted, found, draft, not_conforming, held] =
        lanes;
    Counts {
        nothing_entered,
        examined,
        not_examined,
        not_fitted,
        found,
        draft,
        not_conforming,
        held,
    }
}

fn index(number: i32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}
