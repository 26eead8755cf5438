//! A phone as the app has it: a replica, the job's record, a disk, and a line to a real server.

use std::{
    collections::{BTreeMap, BTreeSet},
    time::Instant,
};

use record::{Author, Record};
use sync::{
    BlobHash, Effect, Event, Hash, JobId, LocalState, NewBlob, Rank, Replica, Standing,
    wire::Response,
};

use crate::{line::Line, records};

/// A phone with one job.
pub(crate) struct Phone {
    replica: Replica,
    pub(crate) record: Option<Record>,
    pub(crate) author: Author,
    job: JobId,
    line: Line,
    start: Instant,
    /// Bytes of changes by hash, as on the phone's disk.
    changes: BTreeMap<Hash, Vec<u8>>,
    photos: BTreeMap<BlobHash, Vec<u8>>,
    /// What was called kept and is not called copied yet.
    watched: BTreeSet<Hash>,
    watched_photos: BTreeSet<BlobHash>,
    /// What was called copied.
    pub(crate) copied: BTreeSet<Hash>,
    pub(crate) copied_photos: BTreeSet<BlobHash>,
}

impl Phone {
    pub(crate) fn new(number: u8, job: &str, line: Line) -> Self {
        Self {
            replica: Replica::restore(LocalState::default(), u64::from(number), 0),
            record: None,
            author: records::author(number),
            job: JobId::new(job).unwrap(),
            line,
            start: Instant::now(),
            changes: BTreeMap::new(),
            photos: BTreeMap::new(),
            watched: BTreeSet::new(),
            watched_photos: BTreeSet::new(),
            copied: BTreeSet::new(),
            copied_photos: BTreeSet::new(),
        }
    }

    fn now(&self) -> u64 {
        u64::try_from(self.start.elapsed().as_millis()).unwrap()
    }

    /// Begins the job here.
    pub(crate) fn begin(&mut self) {
        let record = records::new_record(&self.author, self.job.as_str());
        let changes = record.changes_after(&[]).into_iter().map(|change| change.bytes).collect();
        self.record = Some(record);
        self.edited(changes, Vec::new());
    }

    /// A person reads an instrument, if the job is here.
    pub(crate) fn read_instrument(&mut self) {
        let Some(record) = &mut self.record else { return };
        let change = records::one_more(record, &self.author);
        self.edited(vec![change.bytes], Vec::new());
    }

    /// A person takes a photo of so many bytes.
    pub(crate) fn take_photo(&mut self, bytes: usize) {
        if self.record.is_none() {
            return;
        }
        let filling = self.author.device[0];
        let mut photo: Vec<u8> =
            (0..bytes).map(|at| filling ^ u8::try_from(at % 251).unwrap()).collect();
        photo.extend(self.now().to_le_bytes());
        photo.extend(u64::try_from(self.photos.len()).unwrap().to_le_bytes());
        let blob = BlobHash::new(store::Sha256Hex::of(&photo).as_str()).unwrap();
        let size = u64::try_from(photo.len()).unwrap();
        self.photos.insert(blob, photo);
        self.watched_photos.insert(blob);
        self.edited(Vec::new(), vec![NewBlob { blob, size, rank: Rank::Photo }]);
    }

    fn edited(&mut self, changes: Vec<Vec<u8>>, blobs: Vec<NewBlob>) {
        for bytes in &changes {
            for link in sync::Link::read(bytes).unwrap() {
                self.watched.insert(link.hash);
                self.changes.insert(link.hash, link.bytes);
            }
        }
        self.handle(Event::Edited { job: self.job.clone(), changes, blobs });
    }

    /// The line is back.
    pub(crate) fn online(&mut self) {
        self.handle(Event::Online);
    }

    /// Time passes; what is due is done.
    pub(crate) fn tick(&mut self) {
        self.handle(Event::Tick);
    }

    /// Whether nothing is left to send or fetch, as far as the phone knows.
    pub(crate) fn is_quiet(&self) -> bool {
        let summary = self.replica.job(&self.job);
        summary.is_some_and(|summary| summary.all_copied() && summary.behind == 0)
    }

    /// Hands an event in and carries out all that follows from it, one thing after the other.
    fn handle(&mut self, event: Event) {
        let mut events = vec![event];
        while let Some(event) = events.pop() {
            for effect in self.replica.handle(self.now(), event) {
                match effect {
                    Effect::Write { write, batch } => {
                        for one in batch.writes {
                            if let sync::Write::Change { hash, bytes, .. } = one {
                                self.changes.insert(hash, bytes);
                            }
                        }
                        events.push(Event::Written { write });
                    }
                    Effect::Send { request, message } => {
                        let answered = self.line.send(&message.to_http());
                        events.push(match answered {
                            Ok(answer) => {
                                let answer =
                                    Response::from_http(&message, answer.status, &answer.body);
                                Event::Answered { request, answer }
                            }
                            Err(_) => Event::Unanswered { request },
                        });
                    }
                    Effect::ReadBlob { request, blob, offset, length } => {
                        let from = usize::try_from(offset).unwrap();
                        let to = from + usize::try_from(length).unwrap();
                        let bytes = self.photos.get(&blob).map(|bytes| bytes[from..to].to_vec());
                        events.push(Event::BlobRead { request, bytes });
                    }
                    Effect::ReadChanges { job, hashes } => {
                        let found =
                            hashes.iter().filter_map(|hash| self.changes.get(hash).cloned());
                        events.push(Event::ChangesRead { job, changes: found.collect() });
                    }
                    Effect::Arrived { job: _, changes } => {
                        let all = changes.concat();
                        match &mut self.record {
                            Some(record) => {
                                record.apply(&all).unwrap();
                            }
                            None => self.record = Some(Record::load([all.as_slice()]).unwrap()),
                        }
                    }
                    Effect::Discovered { job, .. } => events.push(Event::Followed { job }),
                    Effect::Changed { .. } => {}
                    Effect::ShutOut { refusal } => panic!("shut out: {refusal}"),
                }
            }
        }
        let (replica, job) = (&self.replica, &self.job);
        let is_copied = |standing: &Standing| *standing == Standing::Copied;
        let copied: Vec<Hash> = self
            .watched
            .iter()
            .filter(|hash| replica.change(job, hash).as_ref().is_some_and(is_copied))
            .copied()
            .collect();
        for hash in copied {
            self.watched.remove(&hash);
            self.copied.insert(hash);
        }
        let copied: Vec<BlobHash> = self
            .watched_photos
            .iter()
            .filter(|blob| replica.blob(job, **blob).is_some_and(|blob| is_copied(&blob.standing)))
            .copied()
            .collect();
        for blob in copied {
            self.watched_photos.remove(&blob);
            self.copied_photos.insert(blob);
        }
    }

    /// How much is kept here and not called copied.
    pub(crate) fn waiting(&self) -> usize {
        self.watched.len() + self.watched_photos.len()
    }
}
