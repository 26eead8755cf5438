//! The device's side: what to keep, what to send, what to ask for, and what may be said of it.
//!
//! A change goes to this device's disk first and is sent only when it is durable there: after a power
//! cut the device must not make another change under the same number. Changes and the cursor that
//! counts them are written in one batch. The caller hands in an [`Event`] with the time, carries out
//! the [`Effect`]s, and comes back with [`Event::Tick`] at [`Replica::next_tick`].

mod answer;
mod blobs;
mod disk;
mod event;
mod job;
mod local;
mod send;
mod standing;

use std::collections::BTreeMap;

use record::Hash;

pub use event::{Effect, Event, NewBlob};
pub use local::{Batch, LocalBlob, LocalChange, LocalJob, LocalState, Rank, Write};
pub use standing::{BlobStanding, Connection, JobSummary, Standing};

use self::{blobs::Blobs, disk::Disk, job::Job, send::InFlight};
use crate::{
    BlobHash, Cursor, JobId, Refusal, RequestId, WriteId, backoff::Backoff, dice::Dice, limits,
    wire,
};

/// Everything one device knows about what it keeps and what the server has.
#[derive(Debug)]
pub struct Replica {
    now: u64,
    dice: Dice,
    jobs: BTreeMap<JobId, Job>,
    blobs: Blobs,
    disk: Disk,
    requests: BTreeMap<RequestId, InFlight>,
    last_request: u64,
    shut_out: Option<Refusal>,
    /// For changes and questions.
    backoff: Backoff,
    /// For photos.
    blob_backoff: Backoff,
    poll_at: u64,
    polling: Option<RequestId>,
    /// The answer that is waited for may be older than what was heard since: it is asked once more.
    poll_again: bool,
    /// How long the last answer took.
    answer_ms: Option<u64>,
    discovered: BTreeMap<JobId, u64>,
}

impl Replica {
    /// A device as its disk says, at the time `now`. `seed` is drawn by the caller, anew at each
    /// start; it only spreads retries.
    #[must_use]
    pub fn restore(local: LocalState, seed: u64, now: u64) -> Self {
        let mut replica = Self {
            now,
            dice: Dice::new(seed),
            jobs: BTreeMap::new(),
            blobs: Blobs::default(),
            disk: Disk::default(),
            requests: BTreeMap::new(),
            last_request: 0,
            shut_out: None,
            backoff: Backoff::default(),
            blob_backoff: Backoff::default(),
            poll_at: now,
            polling: None,
            poll_again: false,
            answer_ms: None,
            discovered: BTreeMap::new(),
        };
        for mut local in local.jobs {
            let job = local.job.clone();
            for blob in std::mem::take(&mut local.blobs) {
                replica.blobs.restore(&job, blob);
            }
            replica.jobs.insert(job, Job::restore(local));
        }
        replica.compare_all();
        replica
    }

    /// Takes in what happened, and says what to do. `now` counts milliseconds from anywhere; a time
    /// before the last one counts as that one.
    pub fn handle(&mut self, now: u64, event: Event) -> Vec<Effect> {
        self.now = self.now.max(now);
        let mut effects = Vec::new();
        match event {
            Event::Edited { job, changes, blobs } => {
                self.edited(&job, changes, &blobs, &mut effects);
            }
            Event::Followed { job } => self.follow(&job, &mut effects),
            Event::Written { write } => self.written(write, &mut effects),
            Event::NotWritten { write, why } => self.not_written(write, &why, &mut effects),
            Event::Answered { request, answer } => self.answered(request, answer, &mut effects),
            Event::Unanswered { request } => self.unanswered(request, &mut effects),
            Event::BlobRead { request, bytes } => self.blob_read(request, bytes, &mut effects),
            Event::BlobNotRead { request } => self.blob_not_read(request),
            Event::ChangesRead { job, changes } => {
                if self.jobs.get_mut(&job).is_some_and(|job| job.bytes_read(&changes)) {
                    effects.push(Effect::Changed { job });
                }
            }
            Event::ChangesNotRead { job } => {
                let again = self.now.saturating_add(limits::POLL_MS);
                if let Some(job) = self.jobs.get_mut(&job) {
                    job.reading.clear();
                    job.rest_until = job.rest_until.max(again);
                }
            }
            Event::Poked { poke } => {
                // Of a job that is nowhere known here, only the list of jobs can tell more.
                let known = self.head_is(&poke.job, poke.head);
                if !known && !self.discovered.contains_key(&poke.job) {
                    self.ask_for_heads();
                }
            }
            Event::Listening => self.ask_for_heads(),
            Event::Online => {
                self.try_now();
                self.compare_all();
            }
            Event::Paired => {
                self.shut_out = None;
                self.try_now();
                self.compare_all();
                for job in self.jobs.values_mut() {
                    job.ask = true;
                }
            }
            Event::Tick => {}
        }
        self.give_up_late(&mut effects);
        self.send_what_is_due(&mut effects);
        if let Some((write, batch)) = self.disk.begin(self.now) {
            effects.push(Effect::Write { write, batch });
        }
        effects
    }

    /// When to hand in [`Event::Tick`] at the latest; never, if nothing waits for time to pass.
    #[must_use]
    pub fn next_tick(&self) -> Option<u64> {
        let deadlines = self.requests.values().map(|request| request.deadline);
        let later = self.waits_for_time().into_iter().chain(self.disk.next_time());
        deadlines.chain(later).min()
    }

    /// What is true of a change; `None` if it is not of this device.
    #[must_use]
    pub fn change(&self, job: &JobId, change: &Hash) -> Option<Standing> {
        Some(self.jobs.get(job)?.changes.get(change)?.standing.clone())
    }

    /// What is true of a photo; `None` if it is not of this device.
    #[must_use]
    pub fn blob(&self, job: &JobId, blob: BlobHash) -> Option<BlobStanding> {
        self.blobs.standing(job, blob)
    }

    /// One job at a glance; `None` if it is not on this device.
    #[must_use]
    pub fn job(&self, job: &JobId) -> Option<JobSummary> {
        let mut summary = self.jobs.get(job)?.summary();
        self.blobs.add_to(&mut summary, job);
        Some(summary)
    }

    /// The jobs on this device.
    pub fn jobs(&self) -> impl Iterator<Item = &JobId> {
        self.jobs.keys()
    }

    /// How far a job's log was read.
    #[must_use]
    pub fn cursor(&self, job: &JobId) -> Option<Cursor> {
        Some(self.jobs.get(job)?.cursor)
    }

    /// How the device stands to the server.
    #[must_use]
    pub fn connection(&self) -> Connection {
        match &self.shut_out {
            Some(refusal) => Connection::ShutOut { refusal: refusal.clone() },
            None if self.backoff.failures() > 0 => {
                Connection::Waiting { until: self.backoff.until() }
            }
            None => Connection::Working,
        }
    }

    fn edited(
        &mut self,
        id: &JobId,
        changes: Vec<Vec<u8>>,
        blobs: &[NewBlob],
        effects: &mut Vec<Effect>,
    ) {
        self.follow(id, effects);
        for new in blobs {
            if self.blobs.add(id, *new, Standing::Writing) {
                let NewBlob { blob, size, rank } = *new;
                self.disk.add(Write::Blob { job: id.clone(), blob, size, rank });
            }
        }
        let Some(job) = self.jobs.get_mut(id) else { return };
        for bytes in changes {
            // The app's own record made them; what cannot be read is kept all the same, unsent.
            let links = wire::read_changes(std::slice::from_ref(&bytes));
            match links.map(|mut links| links.pop()) {
                Ok(Some(link)) => {
                    if !job.changes.contains_key(&link.hash) {
                        let (hash, bytes) = (link.hash, link.bytes);
                        job.add(hash, Standing::Writing, link.deps, Some(bytes.clone()));
                        self.disk.add(Write::Change {
                            job: id.clone(),
                            hash,
                            bytes,
                            copied: false,
                        });
                    }
                }
                Ok(None) => {}
                Err(refusal) => job.trouble = Some(refusal),
            }
        }
        effects.push(Effect::Changed { job: id.clone() });
    }

    fn follow(&mut self, id: &JobId, effects: &mut Vec<Effect>) {
        if self.jobs.contains_key(id) {
            return;
        }
        let server_head = self.discovered.remove(id).unwrap_or_default();
        self.jobs.insert(id.clone(), Job { server_head, ask: true, ..Job::default() });
        self.disk.add(Write::Job { job: id.clone() });
        effects.push(Effect::Changed { job: id.clone() });
    }

    /// Marks everything in a batch as on this device's disk, and hands on what came from elsewhere.
    fn written(&mut self, write: WriteId, effects: &mut Vec<Effect>) {
        let Some(batch) = self.disk.written(write) else { return };
        let mut arrived: BTreeMap<JobId, Vec<Vec<u8>>> = BTreeMap::new();
        let mut touched = std::collections::BTreeSet::new();
        for write in batch.writes {
            match write {
                Write::Change { job: id, hash, bytes, copied } => {
                    if let Some(job) = self.jobs.get_mut(&id) {
                        job.written(&hash);
                    }
                    if copied {
                        arrived.entry(id.clone()).or_default().push(bytes);
                    }
                    touched.insert(id);
                }
                Write::Blob { job, blob, size: _, rank: _ } => {
                    if let Some(state) = self.blobs.get(&job, blob)
                        && matches!(
                            state.standing,
                            Standing::Writing | Standing::NotKept { why: _ }
                        )
                    {
                        state.standing = Standing::Kept;
                    }
                    touched.insert(job);
                }
                Write::Cursor { job: id, cursor } => {
                    if let Some(job) = self.jobs.get_mut(&id) {
                        job.cursor_in_writing = false;
                        // Unless it was reset meanwhile.
                        if cursor.seq > job.cursor.seq && !job.resetting {
                            job.cursor = cursor;
                        }
                    }
                    touched.insert(id);
                }
                Write::Reset { job: id } => {
                    if let Some(job) = self.jobs.get_mut(&id) {
                        job.resetting = false;
                    }
                }
                Write::Job { job: _ }
                | Write::Copied { job: _, hash: _ }
                | Write::NotCopied { job: _, hash: _ }
                | Write::Refused { job: _, hash: _, why: _ }
                | Write::BlobCopied { job: _, blob: _ }
                | Write::BlobNotCopied { job: _, blob: _ }
                | Write::BlobRefused { job: _, blob: _, why: _ } => {}
            }
        }
        for (job, changes) in arrived {
            effects.push(Effect::Arrived { job, changes });
        }
        effects.extend(touched.into_iter().map(|job| Effect::Changed { job }));
    }

    fn not_written(&mut self, write: WriteId, why: &str, effects: &mut Vec<Effect>) {
        let Some(batch) = self.disk.failed(write, self.now) else { return };
        for write in batch.writes {
            match write {
                Write::Change { job: id, hash, bytes: _, copied: _ } => {
                    if let Some(job) = self.jobs.get_mut(&id) {
                        job.not_written(&hash, why);
                        effects.push(Effect::Changed { job: id });
                    }
                }
                Write::Blob { job, blob, size: _, rank: _ } => {
                    if let Some(state) = self.blobs.get(&job, blob) {
                        state.standing = Standing::NotKept { why: why.to_owned() };
                        effects.push(Effect::Changed { job });
                    }
                }
                _ => {}
            }
        }
    }
}
