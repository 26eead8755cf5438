//! A phone: a replica, the job's records as the app holds them, and a disk.

use std::collections::{BTreeMap, BTreeSet};

use record::Record;
use sync::{
    Batch, BlobHash, Effect, Event, Hash, JobId, Replica, RequestId, Standing, Write, WriteId,
    wire::Request,
};

use super::{disk::PhoneDisk, world::Fault};

pub(super) struct Phone {
    pub(super) number: u8,
    pub(super) replica: Replica,
    pub(super) records: BTreeMap<JobId, Record>,
    pub(super) disk: PhoneDisk,
    /// The photos' bytes, durable before anybody hears of them.
    pub(super) photos: BTreeMap<BlobHash, Vec<u8>>,
    /// On its way to the disk.
    pub(super) writing: Vec<(WriteId, Batch)>,
    /// How often it was started.
    pub(super) life: u64,
    /// Its clock: off by this much, and so many thousandths of the right speed.
    pub(super) clock_off: u64,
    pub(super) clock_speed: u64,
    pub(super) said_kept: BTreeSet<(JobId, Hash)>,
    pub(super) said_copied: BTreeSet<(JobId, Hash)>,
    pub(super) photos_said_kept: BTreeSet<(JobId, BlobHash)>,
    pub(super) photos_said_copied: BTreeSet<(JobId, BlobHash)>,
    /// Made in this life and not yet called copied.
    pub(super) watched: BTreeSet<(JobId, Hash)>,
    pub(super) photos_watched: BTreeSet<(JobId, BlobHash)>,
    /// The tick that is due.
    pub(super) tick_at: Option<u64>,
    /// Its disk fails when it is read, until then by the world's clock.
    pub(super) unreadable_until: u64,
    /// How often it did.
    pub(super) reads_failed: u64,
    pub(super) fault: Fault,
}

/// What a phone asks of the world.
pub(super) enum Wants {
    Send(RequestId, Request),
    DiskTime,
}

impl Phone {
    pub(super) fn new(number: u8, clock_off: u64, clock_speed: u64, fault: Fault) -> Self {
        let disk = PhoneDisk::default();
        Self {
            number,
            replica: Replica::restore(disk.state(), u64::from(number), clock_off),
            records: BTreeMap::new(),
            disk,
            photos: BTreeMap::new(),
            writing: Vec::new(),
            life: 0,
            clock_off,
            clock_speed,
            said_kept: BTreeSet::new(),
            said_copied: BTreeSet::new(),
            photos_said_kept: BTreeSet::new(),
            photos_said_copied: BTreeSet::new(),
            watched: BTreeSet::new(),
            photos_watched: BTreeSet::new(),
            tick_at: None,
            unreadable_until: 0,
            reads_failed: 0,
            fault,
        }
    }

    pub(super) fn clock(&self, now: u64) -> u64 {
        self.clock_off + now * self.clock_speed / 1_000
    }

    /// Hands an event in and does what can be done at once.
    pub(super) fn handle(&mut self, now: u64, event: Event) -> Result<Vec<Wants>, String> {
        let mut wants = Vec::new();
        let mut events = vec![event];
        while let Some(event) = events.pop() {
            for effect in self.replica.handle(self.clock(now), event) {
                match effect {
                    Effect::Write { write, batch } => {
                        if !self.writing.is_empty() && self.fault != Fault::KeptBeforeWritten {
                            return Err("two batches at a time".into());
                        }
                        if self.fault == Fault::CursorBeforeChanges {
                            for write in &batch.writes {
                                if matches!(write, Write::Cursor { .. }) {
                                    self.disk.write(write);
                                }
                            }
                        }
                        self.writing.push((write, batch));
                        wants.push(Wants::DiskTime);
                        if self.fault == Fault::KeptBeforeWritten {
                            events.push(Event::Written { write });
                        }
                    }
                    Effect::Send { request, message } => {
                        if let Request::Piece { job, blob, .. } = &message
                            && self.photos_said_copied.contains(&(job.clone(), *blob))
                            && self.replica.blob(job, *blob).unwrap().standing == Standing::Copied
                        {
                            return Err(format!("photo {blob} is sent twice"));
                        }
                        wants.push(Wants::Send(request, message));
                    }
                    Effect::ReadBlob { request, .. } if now < self.unreadable_until => {
                        self.reads_failed += 1;
                        events.push(Event::BlobNotRead { request });
                    }
                    Effect::ReadChanges { job, .. } if now < self.unreadable_until => {
                        self.reads_failed += 1;
                        events.push(Event::ChangesNotRead { job });
                    }
                    Effect::ReadBlob { request, blob, offset, length } => {
                        let from = usize::try_from(offset).unwrap();
                        let to = from + usize::try_from(length).unwrap();
                        let bytes = self.photos.get(&blob).map(|bytes| bytes[from..to].to_vec());
                        events.push(Event::BlobRead { request, bytes });
                    }
                    Effect::ReadChanges { job, hashes } => {
                        // Only what was called kept is read.
                        let kept = &self.disk.jobs[&job].changes;
                        let changes = hashes
                            .iter()
                            .map(|hash| match kept.get(hash) {
                                Some(change) => Ok(change.bytes.clone()),
                                None => Err(format!("{hash} was called kept and cannot be read")),
                            })
                            .collect::<Result<_, _>>()?;
                        events.push(Event::ChangesRead { job, changes });
                    }
                    Effect::Arrived { job, changes } => self.take_in(&job, &changes)?,
                    Effect::Discovered { job, .. } => events.push(Event::Followed { job }),
                    Effect::Changed { .. } => {}
                    Effect::ShutOut { refusal } => return Err(format!("shut out: {refusal}")),
                }
            }
        }
        Ok(wants)
    }

    /// What came from elsewhere goes into the job's document.
    fn take_in(&mut self, job: &JobId, changes: &[Vec<u8>]) -> Result<(), String> {
        let all = changes.concat();
        let outcome = match self.records.get_mut(job) {
            Some(record) => record.apply(&all).map(|received| {
                if received.waiting.is_empty() { Ok(()) } else { Err("changes wait") }
            }),
            None => Record::load([all.as_slice()]).map(|record| {
                self.records.insert(job.clone(), record);
                Ok(())
            }),
        };
        outcome.map_err(|error| error.to_string())?.map_err(str::to_owned)
    }

    /// The batch on its way is durable.
    pub(super) fn written(&mut self, now: u64) -> Result<Vec<Wants>, String> {
        if self.writing.is_empty() {
            return Ok(Vec::new());
        }
        let (write, batch) = self.writing.remove(0);
        for write in &batch.writes {
            self.disk.write(write);
        }
        if self.fault == Fault::KeptBeforeWritten {
            return Ok(Vec::new());
        }
        self.handle(now, Event::Written { write })
    }

    /// The disk did not take the batch on its way; nothing of it is there.
    pub(super) fn not_written(&mut self, now: u64) -> Result<Vec<Wants>, String> {
        let (write, _) = self.writing.remove(0);
        self.handle(now, Event::NotWritten { write, why: "the disk is full".into() })
    }

    /// The power goes, and comes back. The batch on its way may or may not have become durable.
    pub(super) fn power_cut(&mut self, now: u64, batch_reached: bool) -> Result<(), String> {
        for (_, batch) in std::mem::take(&mut self.writing) {
            if batch_reached {
                batch.writes.iter().for_each(|write| self.disk.write(write));
            }
        }
        self.life += 1;
        self.tick_at = None;
        self.watched.clear();
        self.photos_watched.clear();
        for (job, hash) in &self.said_kept {
            if !self.disk.jobs.get(job).is_some_and(|job| job.changes.contains_key(hash)) {
                return Err(format!("phone {}: {hash} was called kept and is gone", self.number));
            }
        }
        self.records.clear();
        for (id, job) in &self.disk.jobs {
            let pieces: Vec<&[u8]> =
                job.in_order().into_iter().map(|(_, change)| change.bytes.as_slice()).collect();
            if pieces.is_empty() {
                continue;
            }
            let record = Record::load(pieces).map_err(|error| error.to_string())?;
            if !record.missing().is_empty() {
                return Err(format!("phone {}: changes of {id} are missing", self.number));
            }
            self.records.insert(id.clone(), record);
        }
        let seed = u64::from(self.number) + self.life;
        self.replica = Replica::restore(self.disk.state(), seed, self.clock(now));
        for (job, kept) in &self.disk.jobs {
            let own = kept.changes.keys().map(|hash| (job.clone(), *hash));
            self.watched.extend(own);
            self.photos_watched.extend(kept.blobs.keys().map(|blob| (job.clone(), *blob)));
        }
        Ok(())
    }
}
