//! Keeping the archive: what changed is worked out anew, and parts are merged so that they stay few.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;

use record::Record;
use sha2::{Digest, Sha256};
use store::index::{Entry, Index, NewPart, Part};
use store::{JobId, LogHead, Store};

use crate::asked::{Answered, Counted};
use crate::derive::{Derived, KnownPlan, derive};
use crate::error::ArchiveError;
use crate::figures::{Figure, Filter, Question};
use crate::listed::ListedJob;
use crate::rows::{JobRow, PointRow};
use crate::search::{Searched, Wording, search};
use crate::tables::{Columns, JOBS, POINTS, Rows, TableFile, figures_of, table_files};

/// Raised when something else comes out of a record: then everything is worked out anew.
const DERIVATION: u32 = 2;
/// Jobs that are kept at once.
const BATCH: usize = 500;
/// How often a part that somebody merged away meanwhile is looked for again.
const TRIES: usize = 5;

/// The archive of a data folder.
#[derive(Debug)]
pub struct Archive {
    index: Index,
}

/// How far bringing it up to date has come, in jobs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Worked out so far.
    pub done: usize,
    /// To be worked out in all.
    pub total: usize,
}

/// What bringing it up to date did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Updated {
    /// Jobs that were worked out anew.
    pub jobs: usize,
    /// Jobs that are not in the store any more.
    pub gone: usize,
    /// Jobs whose record could not be read, and why.
    pub troubled: Vec<(String, String)>,
}

impl Archive {
    /// Opens the archive beside a store; an empty one if there is none, or if another version of the program made it.
    ///
    /// # Errors
    /// If the folder cannot be written.
    pub fn open(store: &Store) -> Result<Self, ArchiveError> {
        let stamp = format!("{} {DERIVATION}", env!("CARGO_PKG_VERSION"));
        Ok(Self { index: Index::open(store, &stamp)? })
    }

    /// Works out anew what changed since the last time; waits while somebody else does so.
    ///
    /// # Errors
    /// If store or archive do not answer. A job that cannot be read is no error: it is listed with what is wrong.
    pub fn update(
        &self,
        store: &Store,
        progress: &mut dyn FnMut(Progress),
    ) -> Result<Updated, ArchiveError> {
        let _held = self.index.hold()?;
        let (changed, gone) = self.changes(store)?;
        let mut updated = Updated { gone: gone.len(), ..Updated::default() };
        let mut at = Progress { done: 0, total: changed.len() };
        let mut plans = Plans::default();
        if !gone.is_empty() {
            self.index.replace(&[], &gone, &[], &NewPart::default())?;
        }
        for batch in changed.chunks(BATCH) {
            let mut jobs = Vec::with_capacity(batch.len());
            for head in batch {
                progress(at);
                let derived = work_out(store, &head.job, &mut plans);
                if let Err(why) = &derived {
                    updated.troubled.push((head.job.as_str().to_owned(), why.clone()));
                }
                jobs.push((head.clone(), derived));
                at.done += 1;
            }
            self.keep(jobs)?;
        }
        progress(at);
        updated.jobs = at.done;
        if updated.jobs + updated.gone > 0 {
            self.merge()?;
        }
        Ok(updated)
    }

    /// Throws everything away and works it out anew.
    ///
    /// # Errors
    /// As for [`Archive::update`].
    pub fn rebuild(
        self,
        store: &Store,
        progress: &mut dyn FnMut(Progress),
    ) -> Result<(Self, Updated), ArchiveError> {
        let archive = Self { index: self.index.clear()? };
        let updated = archive.update(store, progress)?;
        Ok((archive, updated))
    }

    /// Takes in jobs that were worked out already, as measuring programs and tests do.
    ///
    /// # Errors
    /// If the archive cannot be written.
    pub fn take_in(&self, jobs: Vec<(LogHead, Derived)>) -> Result<(), ArchiveError> {
        let _held = self.index.hold()?;
        self.keep(jobs.into_iter().map(|(head, derived)| (head, Ok(derived))).collect())?;
        self.merge()
    }

    /// How many jobs changed since they were worked out; of one alone, if one is named.
    ///
    /// # Errors
    /// If store or archive do not answer.
    pub fn behind(&self, store: &Store, only: Option<&JobId>) -> Result<usize, ArchiveError> {
        let (changed, gone) = self.changes(store)?;
        let changed = changed.iter().map(|head| &head.job);
        Ok(changed.chain(&gone).filter(|job| only.is_none_or(|only| only == *job)).count())
    }

    /// All jobs, by their numbers.
    ///
    /// # Errors
    /// If the archive does not answer.
    pub fn jobs(&self) -> Result<Vec<ListedJob>, ArchiveError> {
        let rows = self.index.rows()?;
        Ok(rows.iter().map(|(job, row)| ListedJob::from_json(job.as_str(), row)).collect())
    }

    /// The jobs that have every word that was typed, best first, at most `most` of them; only one, if one is named.
    ///
    /// A word finds what begins with it, from three letters on; words in quotation marks are found as they stand.
    /// Neither case nor accents count.
    ///
    /// # Errors
    /// If there is no word in it, or the archive does not answer.
    pub fn search(
        &self,
        typed: &str,
        most: usize,
        only: Option<&JobId>,
    ) -> Result<Searched, ArchiveError> {
        search(&self.index, typed, most, only)
    }

    /// The counts that a question asks for, by point and group; none where there is no job.
    ///
    /// # Errors
    /// If the archive does not answer.
    pub fn figures(&self, question: &Question) -> Result<Vec<Figure>, ArchiveError> {
        let (parts, files) = self.files()?;
        let counted =
            files.iter().zip(&parts).map(|(file, part)| (file, part.gone.iter().collect()));
        figures_of(counted, question)
    }

    /// The jobs that a filter takes, the latest visit first. One that could not be read has nothing to filter by: it is among
    /// them only if nobody is left out.
    ///
    /// # Errors
    /// If the archive does not answer.
    pub fn jobs_like(&self, filter: &Filter) -> Result<Vec<ListedJob>, ArchiveError> {
        let everybody = *filter == Filter::default();
        let mut jobs = self.jobs()?;
        jobs.retain(|job| if job.trouble.is_empty() { filter.takes(&job.row) } else { everybody });
        jobs.sort_by(|one, other| {
            other.row.visited.cmp(&one.row.visited).then(one.row.job.cmp(&other.row.job))
        });
        Ok(jobs)
    }

    /// The answer to a question, with what the points are called; none for a point that no job's plan has.
    ///
    /// # Errors
    /// If the archive does not answer.
    pub fn answer(
        &self,
        question: Question,
        counted: Counted,
    ) -> Result<Option<Answered>, ArchiveError> {
        let titles = self.titles()?;
        if question.point.as_ref().is_some_and(|point| !titles.contains_key(point)) {
            return Ok(None);
        }
        let figures = self.figures(&question)?;
        Ok(Some(Answered::new(question, counted, figures, titles)))
    }

    /// What plans call the points, by their ids.
    ///
    /// # Errors
    /// If the archive does not answer.
    pub fn titles(&self) -> Result<BTreeMap<String, String>, ArchiveError> {
        let mut titles = BTreeMap::new();
        for (_, text) in self.index.settings(WORDING)? {
            for (id, title) in Wording::from_json(&text).titles() {
                titles.insert(id.to_owned(), title.to_owned());
            }
        }
        Ok(titles)
    }

    /// Gives every job that a filter takes with its points, in the order of their numbers.
    ///
    /// # Errors
    /// If the archive does not answer, or `each` does not want more.
    pub fn each_job<E: From<ArchiveError>>(
        &self,
        filter: &Filter,
        mut each: impl FnMut(&JobRow, &[PointRow]) -> Result<(), E>,
    ) -> Result<(), E> {
        let (parts, files) = self.files()?;
        each_of(
            &parts,
            &files,
            |job, points| {
                if filter.takes(&job) { each(&job, &points) } else { Ok(()) }
            },
        )
    }

    /// Writes both tables as Parquet files, with the jobs that a filter takes.
    ///
    /// # Errors
    /// If the archive does not answer or the files cannot be written.
    pub fn write_tables<W: Write + Send>(
        &self,
        filter: &Filter,
        jobs: W,
        points: W,
    ) -> Result<(W, W), ArchiveError> {
        let (parts, files) = self.files()?;
        let mut columns = Columns::new(jobs, points)?;
        each_of(&parts, &files, |job, points| {
            if filter.takes(&job) { columns.push(job, &points) } else { Ok(()) }
        })?;
        columns.finish()
    }

    /// Jobs whose log does not end where it did when they were worked out, or that have more invoices or payments; and jobs
    /// that are gone.
    fn changes(&self, store: &Store) -> Result<(Vec<LogHead>, Vec<JobId>), ArchiveError> {
        let mut known: BTreeMap<JobId, LogHead> =
            self.index.heads()?.into_iter().map(|head| (head.job.clone(), head)).collect();
        let heads = store.log_heads().map_err(ArchiveError::Store)?;
        // A job without changes is what a program that was cut off left.
        let heads = heads.into_iter().filter(|head| head.seq > 0);
        let billed = store.invoice_counts().map_err(ArchiveError::Store)?;
        let heads = heads.map(|head| with_invoices(head, &billed));
        let changed = heads.filter(|head| known.remove(&head.job).as_ref() != Some(head)).collect();
        Ok((changed, known.into_keys().collect()))
    }

    fn keep(&self, jobs: Vec<(LogHead, Result<Derived, String>)>) -> Result<(), ArchiveError> {
        let mut entries = Vec::with_capacity(jobs.len());
        let mut rows = Vec::with_capacity(jobs.len());
        let mut wordings = BTreeMap::new();
        for (head, derived) in jobs {
            let number = head.job.as_str().to_owned();
            match derived {
                Ok(derived) => {
                    let (key, wording) = &*derived.wording;
                    wordings.entry(format!("{WORDING}{key}")).or_insert_with(|| wording.to_json());
                    let row = JobRow { job: number, ..derived.job };
                    let listed = ListedJob {
                        row: row.clone(),
                        client: derived.client,
                        trouble: String::new(),
                    };
                    entries.push(Entry {
                        head,
                        row: listed.json().to_string(),
                        texts: derived.texts.to_json(key),
                        words: derived.texts.words(wording),
                    });
                    rows.push((row, derived.points));
                }
                Err(trouble) => {
                    let row = JobRow { job: number, ..JobRow::default() };
                    let listed = ListedJob { row, client: String::new(), trouble };
                    entries.push(Entry {
                        head,
                        row: listed.json().to_string(),
                        texts: String::new(),
                        words: Default::default(),
                    });
                }
            }
        }
        rows.sort_by(|one, other| one.0.job.cmp(&other.0.job));
        let part = NewPart { files: table_files(&rows)? };
        let wordings: Vec<(String, String)> = wordings.into_iter().collect();
        Ok(self.index.replace(&entries, &[], &wordings, &part)?)
    }

    fn merge(&self) -> Result<(), ArchiveError> {
        loop {
            let parts = self.index.parts()?;
            let numbers = to_merge(&parts);
            if numbers.is_empty() {
                return Ok(());
            }
            let parts: Vec<Part> =
                parts.into_iter().filter(|part| numbers.contains(&part.number)).collect();
            let files = self.opened(&parts)?;
            let mut columns = Columns::new(Vec::new(), Vec::new())?;
            let mut count = 0_usize;
            each_of(&parts, &files, |job, points| {
                count += 1;
                columns.push(job, &points)
            })?;
            let (jobs, points) = columns.finish()?;
            let files = if count == 0 { Vec::new() } else { vec![(JOBS, jobs), (POINTS, points)] };
            self.index.merge_parts(&numbers, &NewPart { files })?;
        }
    }

    /// The parts that count, with their files open.
    fn files(&self) -> Result<(Vec<Part>, Vec<TableFile>), ArchiveError> {
        let mut tries = 0;
        loop {
            let parts = self.index.parts()?;
            match self.opened(&parts) {
                Ok(files) => return Ok((parts, files)),
                Err(_) if tries < TRIES => tries += 1,
                Err(error) => return Err(error),
            }
        }
    }

    fn opened(&self, parts: &[Part]) -> Result<Vec<TableFile>, ArchiveError> {
        parts
            .iter()
            .map(|part| {
                let file = |name| {
                    let file = self.index.part_file(part.number, name);
                    file.map_err(|error| match ArchiveError::from(error) {
                        damaged @ ArchiveError::Damaged { .. } => damaged,
                        other => ArchiveError::Damaged { what: other.to_string() },
                    })
                };
                TableFile::new(file(JOBS)?, file(POINTS)?)
            })
            .collect()
    }
}

/// How the settings begin that hold what a plan calls its points.
pub(crate) const WORDING: &str = "wording ";

/// Plans that were thawed, by their text: most jobs have one that another has too.
#[derive(Default)]
struct Plans(BTreeMap<String, KnownPlan>);

impl Plans {
    const MOST: usize = 16;

    fn of(&mut self, text: String) -> Result<&KnownPlan, String> {
        if !self.0.contains_key(&text) {
            let plan = plan::thaw(&text).map_err(|problems| {
                let first = problems.first().map(ToString::to_string).unwrap_or_default();
                format!("the job's plan cannot be read: {first}")
            })?;
            if self.0.len() >= Self::MOST {
                self.0.clear();
            }
            return Ok(self.0.entry(text).or_insert(KnownPlan::new(plan)));
        }
        self.0.get(&text).ok_or_else(String::new)
    }
}

/// Where a job's log ends, with how many invoices and payments it has mixed in: neither is ever changed or taken away, so
/// their number tells whether anything was added.
fn with_invoices(head: LogHead, billed: &BTreeMap<JobId, (u64, u64)>) -> LogHead {
    let Some((invoices, payments)) = billed.get(&head.job) else { return head };
    let mut mixed = Sha256::new();
    mixed.update(head.hash);
    mixed.update(invoices.to_be_bytes());
    mixed.update(payments.to_be_bytes());
    LogHead { hash: mixed.finalize().into(), ..head }
}

/// Works one job out; a sentence where its record or its invoices cannot be read.
fn work_out(store: &Store, job: &JobId, plans: &mut Plans) -> Result<Derived, String> {
    let said = |error: &dyn std::fmt::Display| format!("the job's record cannot be read: {error}");
    let changes = store.changes(job, 0, usize::MAX).map_err(|error| said(&error))?;
    let record = Record::load(changes.iter().map(|change| change.bytes.as_slice()))
        .map_err(|error| said(&error))?;
    let (inspection, _) = record.inspection();
    let invoices = store
        .invoices_of(job)
        .map_err(|error| format!("the job's invoices cannot be read: {error}"))?;
    let plan = plans.of(record.plan().map_err(|error| said(&error))?)?;
    Ok(derive(plan, &inspection, &invoices))
}

/// Gives the jobs of several parts that count, each with its points, in the order of their numbers.
fn each_of<E: From<ArchiveError>>(
    parts: &[Part],
    files: &[TableFile],
    mut each: impl FnMut(JobRow, Vec<PointRow>) -> Result<(), E>,
) -> Result<(), E> {
    type Row = (JobRow, Vec<PointRow>);
    let mut readers = Vec::new();
    let mut next: Vec<Option<Row>> = Vec::new();
    let counting =
        |rows: &mut Rows<'_>, gone: &BTreeSet<JobId>| -> Result<Option<Row>, ArchiveError> {
            loop {
                let row = rows.next()?;
                let is_gone = |job: &str| gone.iter().any(|gone| gone.as_str() == job);
                if !row.as_ref().is_some_and(|(job, _)| is_gone(&job.job)) {
                    return Ok(row);
                }
            }
        };
    for (part, file) in parts.iter().zip(files) {
        let mut rows = Rows::new(file)?;
        next.push(counting(&mut rows, &part.gone)?);
        readers.push((rows, &part.gone));
    }
    loop {
        let waiting =
            next.iter().enumerate().filter_map(|(at, row)| Some((&row.as_ref()?.0.job, at)));
        let Some((_, first)) = waiting.min() else { return Ok(()) };
        let (rows, gone) = &mut readers[first];
        let following = counting(rows, gone)?;
        if let Some((job, points)) = std::mem::replace(&mut next[first], following) {
            each(job, points)?;
        }
    }
}

/// The parts to put together: each part that is no larger than all smaller ones together, with those; and one most of
/// whose rows count no more. So there are never more parts than the number of jobs has binary digits, and a job's rows are
/// written as often at most.
fn to_merge(parts: &[Part]) -> Vec<i64> {
    let counting = |part: &Part| part.jobs.saturating_sub(part.gone.len());
    let mut sorted: Vec<&Part> = parts.iter().collect();
    sorted.sort_by_key(|part| (std::cmp::Reverse(counting(part)), part.number));
    let from = sorted.iter().enumerate().position(|(at, part)| {
        let smaller: usize = sorted.iter().skip(at + 1).map(|part| counting(part)).sum();
        (at + 1 < sorted.len() && counting(part) <= smaller) || part.gone.len() > counting(part)
    });
    from.map_or_else(Vec::new, |from| sorted.iter().skip(from).map(|part| part.number).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(number: i64, jobs: usize, gone: usize) -> Part {
        let gone = (0..gone).map(|it| JobId::new(&it.to_string()).unwrap()).collect();
        Part { number, jobs, gone }
    }

    #[test]
    fn parts_stay_few_and_large_ones_are_seldom_written_again() {
        assert!(to_merge(&[]).is_empty());
        assert!(to_merge(&[part(1, 10, 5)]).is_empty());
        assert_eq!(to_merge(&[part(1, 10, 6)]), [1]);
        assert_eq!(to_merge(&[part(1, 1000, 0), part(2, 1, 0), part(3, 1, 0)]), [2, 3]);
        assert!(to_merge(&[part(1, 1000, 1), part(2, 2, 0), part(3, 1, 0)]).is_empty());
        // As many single jobs added one by one: never more parts than binary digits.
        let (mut parts, mut number, mut most) = (Vec::new(), 0, 0);
        for _ in 0..1_000 {
            number += 1;
            parts.push(part(number, 1, 0));
            loop {
                let merged = to_merge(&parts);
                if merged.is_empty() {
                    break;
                }
                let jobs =
                    parts.iter().filter(|it| merged.contains(&it.number)).map(|it| it.jobs).sum();
                parts.retain(|it| !merged.contains(&it.number));
                number += 1;
                parts.push(part(number, jobs, 0));
            }
            most = most.max(parts.len());
        }
        assert!(most <= 10, "{most}");
    }
}
