//! Counting over the tables: every word is looked at once a dictionary, every row as a few small numbers.

use std::collections::BTreeMap;
use std::fs::File;

use inspection::DwellingKind;
use store::JobId;

use super::file::Table;
use super::read::{Coded, meanings, no_job, numbers};
use super::{JOB_COLUMNS, POINT_COLUMNS};
use crate::AgeBand;
use crate::error::ArchiveError;
use crate::figures::{By, Counts, Figure, Filter, Group, Question};
use crate::rows::{FindingSeen, PointOutcome, WorstVerdict};

/// Counts of a point in a group: the fields of [`Counts`] side by side, so that one row adds all of them at once.
type Lanes = [u32; 8];

/// Stands for a job that the question leaves out, or that is not in this part any more.
const LEFT_OUT: u32 = u32::MAX;

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
            jobs: Table::open(jobs, &JOB_COLUMNS)?,
            points: Table::open(points, &POINT_COLUMNS)?,
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
    Ok(tally.figures(question))
}

#[derive(Default)]
struct Tally {
    groups: Vec<Group>,
    group_numbers: BTreeMap<Group, u32>,
    points: Vec<String>,
    point_numbers: BTreeMap<String, u16>,
    /// By group, then by point.
    counts: Vec<Vec<Lanes>>,
}

/// The jobs of a part: number and group, in the order of their numbers.
struct Jobs {
    numbers: Vec<String>,
    groups: Vec<u32>,
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
        let (mut codes, mut points, mut more) = (Vec::new(), Vec::new(), Vec::new());
        let mut after = 0;
        for group in 0..part.points.groups() {
            let read = |name: &str| Coded::read(&part.points, group, name);
            let point = read("point")?;
            let known: Vec<u16> =
                point.words.iter().map(|word| self.point(word)).collect::<Result<_, _>>()?;
            point.translated(&known, &mut points)?;
            codes.clear();
            codes.resize(points.len(), 0);
            for (name, meaning) in [
                ("outcome", outcome as fn(&str) -> Option<u8>),
                ("verdict", verdict),
                ("finding", finding),
                ("held", held),
            ] {
                let coded = read(name)?;
                coded.translated(&meanings(&coded, name, meaning)?, &mut more)?;
                if more.len() != codes.len() {
                    return Err(uneven());
                }
                for (code, one) in codes.iter_mut().zip(&more) {
                    *code |= one;
                }
            }
            let job = read("job")?;
            let groups = groups_of(&job.words, &jobs, &mut after)?;
            let mut at = 0;
            for (number, length) in job.runs()? {
                let group = usize::try_from(number).ok().and_then(|number| groups.get(number));
                let stretch = at..at + length;
                at += length;
                let (Some(group), Some(codes), Some(points)) =
                    (group, codes.get(stretch.clone()), points.get(stretch))
                else {
                    return Err(uneven());
                };
                if *group == LEFT_OUT {
                    continue;
                }
                let counts = &mut self.counts[index(*group)];
                counts.resize(counts.len().max(self.points.len()), Lanes::default());
                for (code, point) in codes.iter().zip(points) {
                    // The point is one of those counted: the list is as long as they are many.
                    let counts = &mut counts[usize::from(*point)];
                    for (count, one) in counts.iter_mut().zip(&lanes[usize::from(*code)]) {
                        *count += one;
                    }
                }
            }
            if at != codes.len() {
                return Err(uneven());
            }
        }
        Ok(())
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
        let read = |name: &str| Coded::read(table, group, name);
        let coded = read("job")?;
        jobs.numbers.extend(coded.all()?.into_iter().map(str::to_owned));
        let count = jobs.numbers.len() - jobs.groups.len();
        if !jobs.numbers.is_sorted_by(|one, next| one < next) {
            let what = "the jobs of a table are out of order".to_owned();
            return Err(ArchiveError::Damaged { what });
        }
        let by = |what| question.by.contains(&what);
        let mut wanted = vec![true; count];
        let mut keys = vec![Group::default(); count];
        if by(By::Kind) || kind.is_some() {
            let coded = read("kind")?;
            let meanings =
                meanings(&coded, "kind", |word| DwellingKind::from_word(word).map(Some))?;
            let mut all = Vec::new();
            coded.translated(&meanings, &mut all)?;
            for ((key, wanted), this) in keys.iter_mut().zip(&mut wanted).zip(all) {
                *wanted &= kind.is_none() || *kind == this;
                key.kind = this.filter(|_| by(By::Kind));
            }
        }
        if by(By::Age) || age.is_some() {
            let coded = read("age_band")?;
            let meanings = meanings(&coded, "age_band", |word| AgeBand::from_word(word).map(Some))?;
            let mut all = Vec::new();
            coded.translated(&meanings, &mut all)?;
            for ((key, wanted), this) in keys.iter_mut().zip(&mut wanted).zip(all) {
                *wanted &= age.is_none() || *age == this;
                key.age = this.filter(|_| by(By::Age));
            }
        }
        if by(By::Region) || region.is_some() {
            let coded = read("region")?;
            for ((key, wanted), this) in keys.iter_mut().zip(&mut wanted).zip(coded.all()?) {
                *wanted &= region.as_ref().is_none_or(|region| region == this);
                key.region = by(By::Region).then(|| this.to_owned());
            }
        }
        if let Some(purpose) = purpose {
            let coded = read("purpose")?;
            for (wanted, this) in wanted.iter_mut().zip(coded.all()?) {
                *wanted &= purpose == this;
            }
        }
        if from.is_some() || to.is_some() {
            let first = from.map_or(i32::MIN, super::write::days);
            let last = to.map_or(i32::MAX, super::write::days);
            for (wanted, this) in wanted.iter_mut().zip(numbers(table, group, "visited")?) {
                *wanted &= this.is_some_and(|day| (first..=last).contains(&day));
            }
        }
        for (key, wanted) in keys.into_iter().zip(wanted) {
            let number = if wanted { self.group(key) } else { LEFT_OUT };
            jobs.groups.push(number);
        }
        Ok(())
    }

    fn group(&mut self, key: Group) -> u32 {
        if let Some(number) = self.group_numbers.get(&key) {
            return *number;
        }
        let number = u32::try_from(self.groups.len()).unwrap_or(LEFT_OUT - 1);
        self.groups.push(key.clone());
        self.counts.push(Vec::new());
        self.group_numbers.insert(key, number);
        number
    }

    fn point(&mut self, id: &str) -> Result<u16, ArchiveError> {
        if let Some(number) = self.point_numbers.get(id) {
            return Ok(*number);
        }
        let number = u16::try_from(self.points.len()).map_err(|_| ArchiveError::Damaged {
            what: "the tables name more points than any plan has".into(),
        })?;
        self.points.push(id.to_owned());
        self.point_numbers.insert(id.to_owned(), number);
        Ok(number)
    }

    fn figures(self, question: &Question) -> Vec<Figure> {
        let mut figures = Vec::new();
        for (group, counts) in self.groups.iter().zip(&self.counts) {
            for (point, lanes) in self.points.iter().zip(counts) {
                let counts = of_lanes(*lanes);
                let asked = question.point.as_ref().is_none_or(|asked| asked == point);
                if asked && counts.jobs() > 0 {
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
fn groups_of(words: &[String], jobs: &Jobs, after: &mut usize) -> Result<Vec<u32>, ArchiveError> {
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

fn outcome(word: &str) -> Option<u8> {
    let one = PointOutcome::from_word(word)?;
    Some(match one {
        PointOutcome::NothingEntered => 0,
        PointOutcome::Examined => 1,
        PointOutcome::NotExamined => 2,
        PointOutcome::NotFitted => 3,
    })
}

fn verdict(word: &str) -> Option<u8> {
    let one = WorstVerdict::from_word(word)?;
    Some(if one == WorstVerdict::DoesNotConform { 1 << 2 } else { 0 })
}

fn finding(word: &str) -> Option<u8> {
    let one = FindingSeen::from_word(word)?;
    Some(match one {
        FindingSeen::None => 0,
        FindingSeen::Draft => 1 << 5,
        FindingSeen::Confirmed => 2 << 5,
    })
}

fn held(word: &str) -> Option<u8> {
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

fn index(number: u32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}

fn uneven() -> ArchiveError {
    ArchiveError::Damaged { what: "the columns of a table differ in length".into() }
}
