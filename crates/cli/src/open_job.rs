//! One job, opened: its record, its plan, and edits that are on disk before anybody is told.
//!
//! All programs on this machine are one device to the record, and a device's changes are numbered
//! one after the other. So each edit holds a lock from reading what others added to appending its
//! own change; two commands at once wait for each other instead of colliding.

use std::fs::File;

use field::{Act, Now, Said, Visit};
use inspection::{Inspection, Job};
use plan::Plan;
use record::{Author, Edit, Record, RecordError};
use store::{Chunk, JobId, Store};

use crate::commands::nearest;
use crate::data_folder::{Place, device};
use crate::failure::Failure;
use crate::today;

pub(crate) use server::{summary, unit_in_words};

/// A job with its record and its plan.
#[derive(Debug)]
pub(crate) struct OpenJob {
    pub(crate) store: Store,
    pub(crate) id: JobId,
    pub(crate) record: Record,
    pub(crate) plan: Plan,
    pub(crate) author: Author,
    /// Number of the last change that was read.
    read_to: u64,
}

impl OpenJob {
    /// Opens the job with this number.
    pub(crate) fn open(place: &Place, number: &str) -> Result<Self, Failure> {
        let store = place.store()?;
        let id = known_job(&store, number)?;
        let (record, read_to) = load(&store, &id)?;
        let plan = plan_of(&record)?;
        let (inspection, _) = record.inspection();
        let author = Author::new(device(&store)?, place.person(&inspection.job.inspector)?);
        Ok(Self { store, id, record, plan, author, read_to })
    }

    /// How many changes of the job's log were read.
    pub(crate) fn read_to(&self) -> u64 {
        self.read_to
    }

    /// Everything recorded.
    pub(crate) fn inspection(&self) -> Inspection {
        self.record.inspection().0
    }

    /// What could not be read from the record, in sentences.
    pub(crate) fn trouble(&self) -> Vec<String> {
        self.record.inspection().1.iter().map(ToString::to_string).collect()
    }

    /// Makes the edits that `build` names as one change, kept on disk when this returns; false if
    /// the record says so already. `build` sees the record with what other programs have just added.
    pub(crate) fn edit(
        &mut self,
        build: impl FnOnce(&Record, &Author) -> Vec<Edit>,
    ) -> Result<bool, Failure> {
        Ok(self.edit_each(|record, author| vec![build(record, author)])? > 0)
    }

    /// Makes the edits of each act that `build` names as one change, all kept on disk when this returns, or none; how many
    /// changes it were. `build` looks at the record once, however many acts it names.
    pub(crate) fn edit_each(
        &mut self,
        build: impl FnOnce(&Record, &Author) -> Vec<Vec<Edit>>,
    ) -> Result<usize, Failure> {
        let _held = hold(&self.store)?;
        self.catch_up()?;
        let acts = build(&self.record, &self.author);
        if acts.iter().all(Vec::is_empty) {
            return Ok(0);
        }
        let made = self.record.edit_each(&self.author, today::unix_seconds(), acts);
        let changes: Vec<Chunk> = made
            .map_err(refused)?
            .into_iter()
            .map(|change| Chunk { hash: change.hash.0, bytes: change.bytes })
            .collect();
        if !changes.is_empty() {
            self.store.append(&self.id, &changes)?;
        }
        Ok(changes.len())
    }

    /// Does what a person did, as the app would: at most one change; false if the record says so already.
    pub(crate) fn act(&mut self, act: Act) -> Result<bool, Failure> {
        let now = Now { unix_seconds: today::unix_seconds(), moment: today::now() };
        let mut refusal = None;
        let made = self.edit(|record, author| {
            let edits = Visit::of(record.clone(), author.clone())
                .map_err(Failure::failed)
                .and_then(|visit| {
                    visit.edits_of(act, now).map_err(|said| Failure::input(in_a_clause(&said)))
                });
            edits.unwrap_or_else(|failure| {
                refusal = Some(failure);
                Vec::new()
            })
        })?;
        refusal.map_or(Ok(made), Err)
    }

    /// Takes in what other programs have added since.
    fn catch_up(&mut self) -> Result<(), Failure> {
        for change in self.store.changes(&self.id, self.read_to, usize::MAX)? {
            self.record.apply(&change.bytes)?;
            self.read_to = change.seq;
        }
        Ok(())
    }
}

/// Makes a new job in the store; false if one with this number is there already.
pub(crate) fn create(
    store: &Store,
    author: &Author,
    job: &Job,
    dwelling: &inspection::Dwelling,
    plan_text: &str,
) -> Result<bool, Failure> {
    create_with(store, author, job, dwelling, plan_text, &[])
}

/// The same with what the job begins with, kept together with it or not at all.
pub(crate) fn create_with(
    store: &Store,
    author: &Author,
    job: &Job,
    dwelling: &inspection::Dwelling,
    plan_text: &str,
    edits: &[Edit],
) -> Result<bool, Failure> {
    let id = job_id(&job.number)?;
    let now = today::unix_seconds();
    let mut record = Record::create(author, now, job, dwelling, plan_text).map_err(refused)?;
    record.edit_together(author, now, edits.iter().cloned()).map_err(refused)?;
    let changes: Vec<Chunk> = record
        .changes_after(&[])
        .into_iter()
        .map(|change| Chunk { hash: change.hash.0, bytes: change.bytes })
        .collect();
    let _held = hold(store)?;
    let summary = summary(job, dwelling);
    let new = store.create_job(&id, &summary)?;
    // A job without changes is what a program that was cut off here left: it is taken over.
    if !new && !store.changes(&id, 0, 1)?.is_empty() {
        return Ok(false);
    }
    store.append(&id, &changes)?;
    store.set_summary(&id, &summary)?;
    Ok(true)
}

/// A job's number as the store's id.
pub(crate) fn job_id(number: &str) -> Result<JobId, Failure> {
    JobId::new(number).map_err(|_| {
        Failure::input(format!("`{number}` is no job's number"))
            .hint("it takes 1 to 64 letters a to z, digits, - or _, such as 2026-001")
    })
}

/// The job with this number.
pub(crate) fn known_job(store: &Store, number: &str) -> Result<JobId, Failure> {
    let jobs = store.jobs()?;
    if let Some(job) = jobs.iter().find(|job| job.id.as_str() == number) {
        return Ok(job.id.clone());
    }
    let unknown = Failure::input(format!("no job has the number `{number}`"));
    let numbers: Vec<&str> = jobs.iter().map(|job| job.id.as_str()).collect();
    Err(match nearest(number, numbers.iter().copied()).as_slice() {
        [] => unknown.hint("`nearside job new` makes one"),
        near => {
            unknown.hint(format!("the nearest: {}; `nearside job list` lists all", near.join(", ")))
        }
    })
}

/// A job's record, and the number of the last change that was read.
pub(crate) fn load(store: &Store, id: &JobId) -> Result<(Record, u64), Failure> {
    let changes = store.changes(id, 0, usize::MAX)?;
    let record = Record::load(changes.iter().map(|change| change.bytes.as_slice()))?;
    let read_to = changes.last().map_or(0, |change| change.seq);
    Ok((record, read_to))
}

/// The record of a job in the store, to be read only.
pub(crate) fn record_of(store: &Store, id: &JobId) -> Result<Record, Failure> {
    Ok(load(store, id)?.0)
}

/// The plan frozen in a record.
pub(crate) fn plan_of(record: &Record) -> Result<Plan, Failure> {
    plan::thaw(&record.plan()?).map_err(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        Failure::failed(format!("the job's plan cannot be read:\n{}", lines.join("\n")))
            .hint("use the version of the program that made the job")
    })
}

/// Holds the lock of everybody on this machine who edits; given up when dropped.
pub(crate) fn hold(store: &Store) -> Result<File, Failure> {
    let path = store.folder().join("edit.lock");
    let open = File::options().read(true).write(true).create(true).truncate(false).open(&path);
    let lock = |error: std::io::Error| Failure::failed(format!("{}: {error}", path.display()));
    let file = open.map_err(lock)?;
    file.lock().map_err(lock)?;
    Ok(file)
}

/// A sentence of the app as the terminal writes errors: no capital, no full stop.
fn in_a_clause(said: &Said) -> String {
    let text = said.to_string();
    let text = text.trim_end_matches('.');
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn refused(error: RecordError) -> Failure {
    match error {
        RecordError::Refused(refusal) => Failure::input(refusal.to_string()),
        other => other.into(),
    }
}
