//! The server: a keeper in memory, a disk that commits in its own time, uploads in pieces.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use sha2::{Digest, Sha256};
use sync::{
    BlobHash, Cursor, Hash, JobId, Keeper, KeeperEffect, Link, LoadedLog, Place, Refusal,
    RequestId, Stored, WriteId, limits,
    wire::{Head, Heads, Kept, Page, Pushed, Request, Response, UploadState},
};

use super::{dice::Dice, world::Fault};

/// What is on the server's disk.
#[derive(Default, Clone)]
pub(super) struct ServerDisk {
    pub(super) logs: BTreeMap<JobId, Vec<Link>>,
    uploads: BTreeMap<BlobHash, Vec<u8>>,
    pub(super) blobs: BTreeMap<BlobHash, Vec<u8>>,
}

#[derive(Default)]
pub(super) struct Server {
    pub(super) disk: ServerDisk,
    /// An old copy of it.
    pub(super) backup: Option<ServerDisk>,
    keeper: Keeper,
    /// Appends on their way to the disk, in order.
    pub(super) appends: VecDeque<(WriteId, JobId, Place, Vec<Link>)>,
    last_request: u64,
    waiting: BTreeMap<RequestId, Caller>,
    pushes_seen: BTreeSet<Hash>,
    /// A photo that was called stored and is not flushed (a planted fault).
    unflushed: Vec<BlobHash>,
    fault: Fault,
}

/// Who asked.
#[derive(Clone)]
pub(super) struct Caller {
    pub(super) phone: usize,
    pub(super) life: u64,
    pub(super) request: RequestId,
    pub(super) asked: Request,
}

/// What the server did.
pub(super) enum Did {
    Answered(Caller, Result<Response, Refusal>),
    /// A commit was begun.
    Began,
    Poked(JobId, u64),
}

impl Server {
    pub(super) fn new(fault: Fault) -> Self {
        Self { fault, ..Self::default() }
    }

    pub(super) fn handle(&mut self, caller: Caller) -> Vec<Did> {
        match caller.asked.clone() {
            Request::Push { job, push } => {
                let links = match push.read() {
                    Ok(links) => links,
                    Err(refusal) => return vec![Did::Answered(caller, Err(refusal))],
                };
                let first = links[0].hash;
                if self.fault == Fault::RepeatTakenOnTrust && !self.pushes_seen.insert(first) {
                    let head = self.head(&job);
                    let kept =
                        links.iter().map(|link| Kept { hash: link.hash, seq: head }).collect();
                    let answer = Ok(Response::Pushed(Pushed { head, before: Hash([0; 32]), kept }));
                    return vec![Did::Answered(caller, answer)];
                }
                self.last_request += 1;
                let request = RequestId(self.last_request);
                self.waiting.insert(request, caller);
                let effects = self.keeper.push(request, &job, links);
                self.carry_out(effects)
            }
            Request::Pull { job, after } => {
                let answer = self.page(&job, after);
                vec![Did::Answered(caller, answer.map(Response::Page))]
            }
            Request::Heads => {
                let jobs = self.disk.logs.keys().map(|job| Head {
                    job: job.clone(),
                    head: self.head(job),
                    summary: String::new(),
                });
                let answer = Ok(Response::Heads(Heads { jobs: jobs.collect() }));
                vec![Did::Answered(caller, answer)]
            }
            Request::OpenUpload { blob, size, .. } => {
                let answer = self.upload(blob, size);
                vec![Did::Answered(caller, answer.map(Response::Upload))]
            }
            Request::MissingBlobs { list, .. } => {
                let mut missing = list;
                missing.blobs.retain(|blob| !self.disk.blobs.contains_key(blob));
                vec![Did::Answered(caller, Ok(Response::MissingBlobs(missing)))]
            }
            Request::Piece { blob, size, offset, bytes, .. } => {
                let answer = self.piece(blob, size, offset, &bytes);
                vec![Did::Answered(caller, answer.map(Response::Upload))]
            }
        }
    }

    pub(super) fn head(&self, job: &JobId) -> u64 {
        self.disk.logs.get(job).map_or(0, |log| u64::try_from(log.len()).unwrap())
    }

    fn page(&self, job: &JobId, after: Cursor) -> Result<Page, Refusal> {
        let log = self.disk.logs.get(job).ok_or(Refusal::NoSuchJob)?;
        let head = self.head(job);
        let from = usize::try_from(after.seq).unwrap();
        if log.len() < from || cursor_at(log, from) != after {
            return Err(Refusal::OtherLog { head });
        }
        let mut changes: Vec<Vec<u8>> =
            log[from..].iter().take(7).map(|link| link.bytes.clone()).collect();
        if self.fault == Fault::NumbersOvertake && changes.len() > 1 && head.is_multiple_of(3) {
            let last_of_another = log[from + changes.len() - 1].device != log[from].device;
            if last_of_another {
                changes.remove(0);
            }
        }
        Ok(Page { after: after.seq, head, changes })
    }

    fn upload(&mut self, blob: BlobHash, size: u64) -> Result<UploadState, Refusal> {
        if self.disk.blobs.contains_key(&blob) {
            return Ok(UploadState { offset: size, stored: true });
        }
        let there = self.disk.uploads.entry(blob).or_default();
        let offset = u64::try_from(there.len()).unwrap();
        if offset < size {
            return Ok(UploadState { offset, stored: false });
        }
        let bytes = self.disk.uploads.remove(&blob).unwrap();
        let right = BlobHash(Sha256::digest(&bytes).into()) == blob;
        if !right && self.fault != Fault::PhotoUnchecked {
            return Err(Refusal::BlobDamaged);
        }
        self.disk.blobs.insert(blob, bytes);
        if self.fault == Fault::PhotoStoredBeforeFlush {
            self.unflushed.push(blob);
        }
        Ok(UploadState { offset: size, stored: true })
    }

    fn piece(
        &mut self,
        blob: BlobHash,
        size: u64,
        offset: u64,
        bytes: &[u8],
    ) -> Result<UploadState, Refusal> {
        if !self.disk.blobs.contains_key(&blob) {
            let there = self.disk.uploads.entry(blob).or_default();
            let stands_at = u64::try_from(there.len()).unwrap();
            if stands_at != offset && self.fault != Fault::PhotoUnchecked {
                return Err(Refusal::WrongOffset { offset: stands_at });
            }
            there.extend_from_slice(bytes);
        }
        self.upload(blob, size)
    }

    /// The line was cut in the middle of a piece: what came is kept.
    pub(super) fn half_a_piece(&mut self, request: &Request, dice: &mut Dice) {
        if let Request::Piece { blob, size, offset, bytes, .. } = request {
            let length = dice.index(bytes.len() + 1);
            let _nobody_hears = self.piece(*blob, *size, *offset, &bytes[..length]);
        }
    }

    /// The next append on its way is carried out.
    pub(super) fn commit_one(&mut self) -> Vec<Did> {
        let Some((write, outcome)) = self.commit() else { return Vec::new() };
        if self.fault == Fault::AcknowledgedBeforeCommit {
            return Vec::new();
        }
        let effects = self.keeper.stored(write, &outcome);
        self.carry_out(effects)
    }

    fn commit(&mut self) -> Option<(WriteId, Stored)> {
        let (write, job, after, links) = self.appends.pop_front()?;
        let log = self.disk.logs.entry(job).or_default();
        let head = log.last().map_or(Place::START, |link| Place {
            seq: u64::try_from(log.len()).unwrap(),
            hash: link.hash,
        });
        if head != after {
            return Some((write, Stored::HeadMoved));
        }
        log.extend(links);
        Some((write, Stored::Durable))
    }

    fn carry_out(&mut self, effects: Vec<KeeperEffect>) -> Vec<Did> {
        let mut did = Vec::new();
        for effect in effects {
            match effect {
                KeeperEffect::Load { job } => {
                    let loaded = match self.disk.logs.get(&job) {
                        Some(log) => LoadedLog::Whole(log.clone()),
                        None => LoadedLog::Absent,
                    };
                    let effects = self.keeper.loaded(&job, loaded);
                    did.extend(self.carry_out(effects));
                }
                KeeperEffect::Append { write, job, after, changes } => {
                    assert!(changes.len() <= limits::PUSH_CHANGES);
                    self.appends.push_back((write, job, after, changes));
                    did.push(Did::Began);
                    if self.fault == Fault::AcknowledgedBeforeCommit {
                        let effects = self.keeper.stored(write, &Stored::Durable);
                        did.extend(self.carry_out(effects));
                    }
                }
                KeeperEffect::Answer { request, job, answer } => {
                    if let Ok(pushed) = &answer {
                        did.push(Did::Poked(job, pushed.head));
                    }
                    if let Some(caller) = self.waiting.remove(&request) {
                        did.push(Did::Answered(caller, answer.map(Response::Pushed)));
                    }
                }
            }
        }
        did
    }

    /// Dies and starts again. Of the appends on their way, the first `committed` reached the disk
    /// before; nobody was told.
    pub(super) fn crash(&mut self, committed: usize) {
        for _ in 0..committed {
            self.commit();
        }
        self.appends.clear();
        self.keeper = Keeper::new();
        self.waiting.clear();
        self.pushes_seen.clear();
        for blob in std::mem::take(&mut self.unflushed) {
            self.disk.blobs.remove(&blob);
        }
    }

    /// Its disk is replaced by the old copy.
    pub(super) fn put_back(&mut self) -> bool {
        let Some(backup) = self.backup.take() else { return false };
        self.crash(0);
        self.disk = backup;
        true
    }
}

/// The cursor of whoever has read this far.
pub(super) fn cursor_at(log: &[Link], length: usize) -> Cursor {
    log[..length].iter().fold(Cursor::START, |cursor, link| cursor.then(&link.hash))
}
