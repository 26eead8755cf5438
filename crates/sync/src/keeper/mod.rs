//! The server's side of the change log: which changes fit, which number each gets, and when to say
//! that they are kept.
//!
//! For each job at work the keeper knows every change's name, not its content. A push is checked
//! against that, numbered on from the log's head, and given out to be written
//! ([`KeeperEffect::Append`]); the next push need not wait for it. Whoever sent a change is answered
//! only when the write that holds it, and all before it, are durable. A write names the change it
//! comes after, so that storage can refuse it when another process wrote meanwhile; the keeper then
//! reads the log again and starts over.
//!
//! Who may write to which job is decided before this: by the server.

mod log;

use std::collections::{BTreeMap, VecDeque};

use record::{Hash, Link};

use self::log::Log;
use crate::{
    JobId, Place, Refusal, RequestId, WriteId, limits,
    wire::{Kept, Pushed},
};

/// What the server is to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeeperEffect {
    /// Read the job's whole log and call [`Keeper::loaded`].
    Load {
        /// The job.
        job: JobId,
    },
    /// Append these changes in one transaction if the log still ends at `after`, make that durable,
    /// and call [`Keeper::stored`]. Carry appends out in the order in which they were given. A job
    /// that is not there begins with this, if `after` is [`Place::START`].
    Append {
        /// Name it in [`Keeper::stored`].
        write: WriteId,
        /// The job.
        job: JobId,
        /// Where the log must end.
        after: Place,
        /// The changes; the first gets the number `after.seq` + 1.
        changes: Vec<Link>,
    },
    /// Answer a push. A kept one also says how far the log is for [`crate::wire::Poke`]s.
    Answer {
        /// The request.
        request: RequestId,
        /// The job.
        job: JobId,
        /// What to say.
        answer: Result<Pushed, Refusal>,
    },
}

/// What was read of a job's log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LoadedLog {
    /// Every change in order, from number 1.
    Whole(Vec<Link>),
    /// There is no such job yet; a push that brings its beginning may make it.
    Absent,
    /// It could not be read.
    Failed(Refusal),
}

/// What became of an append.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stored {
    /// It is durable.
    Durable,
    /// The log did not end where the append said: somebody else wrote. Nothing was written.
    HeadMoved,
    /// It failed, and may or may not be there.
    Failed(Refusal),
}

/// The keeper of all jobs' logs on one server.
#[derive(Debug, Default)]
pub struct Keeper {
    jobs: BTreeMap<JobId, Job>,
    last_write: u64,
    /// Counts pushes, to know which log was needed longest ago.
    pushes: u64,
    waiting_bytes: usize,
}

#[derive(Debug, Default)]
struct Job {
    /// None while it is being read.
    log: Option<Log>,
    /// Pushes that wait for the log to be read.
    queue: VecDeque<Pushing>,
    /// Writes on their way, in order, with the number of the last change of each.
    writes: VecDeque<(WriteId, u64)>,
    /// Answers that wait for a write.
    owed: Vec<Owed>,
    durable: u64,
    last_push: u64,
}

#[derive(Debug)]
struct Pushing {
    request: RequestId,
    links: Vec<Link>,
    bytes: usize,
    attempts: u32,
}

#[derive(Debug)]
struct Owed {
    pushing: Pushing,
    until: WriteId,
    answer: Result<(Hash, Vec<Kept>), Refusal>,
}

impl Job {
    /// The write that an answer rests on, if that is not durable yet.
    fn waits_for(&self, answer: &Result<(Hash, Vec<Kept>), Refusal>) -> Option<WriteId> {
        let rests_on = match answer {
            Ok((_, kept)) => kept.iter().map(|kept| kept.seq).max().unwrap_or_default(),
            Err(_) => u64::MAX,
        };
        if rests_on <= self.durable {
            return None;
        }
        let holds_it = self.writes.iter().find(|(_, last)| *last >= rests_on);
        holds_it.or(self.writes.back()).map(|(write, _)| *write)
    }
}

impl Keeper {
    /// A keeper that has read nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A device that may write to `job` sent these changes, read by [`crate::wire::Push::read`].
    pub fn push(&mut self, request: RequestId, job: &JobId, links: Vec<Link>) -> Vec<KeeperEffect> {
        let bytes = links.iter().map(|link| link.bytes.len() + 200).sum();
        if self.waiting_bytes > 0 && self.waiting_bytes + bytes > limits::WAITING_BYTES {
            let answer = Err(Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS });
            return vec![KeeperEffect::Answer { request, job: job.clone(), answer }];
        }
        self.waiting_bytes += bytes;
        self.pushes += 1;
        let mut effects = Vec::new();
        let entry = self.jobs.entry(job.clone()).or_insert_with(|| {
            effects.push(KeeperEffect::Load { job: job.clone() });
            Job::default()
        });
        entry.last_push = self.pushes;
        entry.queue.push_back(Pushing { request, links, bytes, attempts: 0 });
        self.go_on(job, &mut effects);
        self.forget_idle();
        effects
    }

    /// A job's log was read, as asked for by [`KeeperEffect::Load`].
    pub fn loaded(&mut self, job: &JobId, loaded: LoadedLog) -> Vec<KeeperEffect> {
        let mut effects = Vec::new();
        let Some(entry) = self.jobs.get_mut(job).filter(|entry| entry.log.is_none()) else {
            return effects;
        };
        let log = match loaded {
            LoadedLog::Whole(links) => Ok(Log::of(&links)),
            LoadedLog::Absent => Ok(Log::default()),
            LoadedLog::Failed(refusal) => Err(refusal),
        };
        match log {
            Ok(log) => {
                entry.durable = log.head().seq;
                entry.log = Some(log);
                self.go_on(job, &mut effects);
            }
            Err(refusal) => {
                for pushing in self.jobs.remove(job).into_iter().flat_map(|entry| entry.queue) {
                    self.answer(&pushing, job, Err(refusal.clone()), &mut effects);
                }
            }
        }
        effects
    }

    /// An append was carried out, or not.
    pub fn stored(&mut self, write: WriteId, outcome: &Stored) -> Vec<KeeperEffect> {
        let mut effects = Vec::new();
        let found = self
            .jobs
            .iter_mut()
            .find(|(_, entry)| entry.writes.iter().any(|(waiting, _)| *waiting == write));
        // A write that followed one that failed: it was given up then.
        let Some((job, entry)) = found else { return effects };
        let job = job.clone();
        if *outcome == Stored::Durable && entry.writes.front().is_some_and(|(w, _)| *w == write) {
            entry.durable = entry.writes.pop_front().map_or(entry.durable, |(_, last)| last);
            let head = entry.durable;
            let (settled, owed) = std::mem::take(&mut entry.owed)
                .into_iter()
                .partition::<Vec<_>, _>(|owed| owed.until <= write);
            entry.owed = owed;
            for Owed { pushing, until: _, answer } in settled {
                let answer = answer.map(|(before, kept)| Pushed { head, before, kept });
                self.answer(&pushing, &job, answer, &mut effects);
            }
            self.forget_idle();
            return effects;
        }
        // What was numbered after this write hangs in the air: read what is there, and start over.
        entry.log = None;
        entry.writes.clear();
        let owed = std::mem::take(&mut entry.owed);
        let refusal = match outcome {
            Stored::Durable | Stored::HeadMoved => None,
            Stored::Failed(refusal) => Some(refusal),
        };
        let mut again = Vec::new();
        for Owed { mut pushing, until: _, answer: _ } in owed {
            pushing.attempts += 1;
            match refusal {
                Some(refusal) => self.answer(&pushing, &job, Err(refusal.clone()), &mut effects),
                None if pushing.attempts >= limits::ATTEMPTS => {
                    let busy = Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS };
                    self.answer(&pushing, &job, Err(busy), &mut effects);
                }
                None => again.push(pushing),
            }
        }
        if let Some(entry) = self.jobs.get_mut(&job) {
            for pushing in again.into_iter().rev() {
                entry.queue.push_front(pushing);
            }
            if entry.queue.is_empty() {
                self.jobs.remove(&job);
            } else {
                effects.push(KeeperEffect::Load { job });
            }
        }
        effects
    }

    /// Takes the pushes of a job whose log is at hand.
    fn go_on(&mut self, job: &JobId, effects: &mut Vec<KeeperEffect>) {
        let mut answers = Vec::new();
        let Some(entry) = self.jobs.get_mut(job) else { return };
        let Some(mut log) = entry.log.take() else { return };
        while let Some(pushing) = entry.queue.pop_front() {
            let after = log.head();
            let answer = match log.take(&pushing.links) {
                Ok(taken) => {
                    if !taken.fresh.is_empty() {
                        self.last_write += 1;
                        let write = WriteId(self.last_write);
                        entry.writes.push_back((write, log.head().seq));
                        let (job, changes) = (job.clone(), taken.fresh);
                        effects.push(KeeperEffect::Append { write, job, after, changes });
                    }
                    Ok((taken.before, taken.kept))
                }
                Err(refusal) => Err(refusal),
            };
            // Even "kept already" and "does not fit" may rest on writes that can still fail.
            match entry.waits_for(&answer) {
                Some(until) => entry.owed.push(Owed { pushing, until, answer }),
                None => answers.push((pushing, answer)),
            }
        }
        entry.log = Some(log);
        let head = entry.durable;
        for (pushing, answer) in answers {
            let answer = answer.map(|(before, kept)| Pushed { head, before, kept });
            self.answer(&pushing, job, answer, effects);
        }
    }

    fn answer(
        &mut self,
        pushing: &Pushing,
        job: &JobId,
        answer: Result<Pushed, Refusal>,
        effects: &mut Vec<KeeperEffect>,
    ) {
        self.waiting_bytes = self.waiting_bytes.saturating_sub(pushing.bytes);
        effects.push(KeeperEffect::Answer { request: pushing.request, job: job.clone(), answer });
    }

    /// Lets go of the logs that were needed longest ago.
    fn forget_idle(&mut self) {
        while self.jobs.len() > limits::LOGS_AT_HAND {
            let idle = self
                .jobs
                .iter()
                .filter(|(_, entry)| entry.log.is_some() && entry.writes.is_empty())
                .min_by_key(|(_, entry)| entry.last_push)
                .map(|(job, _)| job.clone());
            let Some(idle) = idle else { return };
            self.jobs.remove(&idle);
        }
    }
}
