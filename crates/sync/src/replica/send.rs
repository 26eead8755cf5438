//! What is due: changes first, then questions, then photos.

use record::Hash;

use super::{Effect, Replica, Standing, blobs::Step, job::Next};
use crate::{
    BlobHash, Cursor, JobId, RequestId, limits,
    wire::{BlobList, Push, Request},
};

/// A request under way.
#[derive(Debug, Clone)]
pub(super) struct InFlight {
    pub(super) what: Asked,
    pub(super) sent: u64,
    /// When it is given up.
    pub(super) deadline: u64,
}

/// What was asked.
#[derive(Debug, Clone)]
pub(super) enum Asked {
    Push {
        job: JobId,
        hashes: Vec<Hash>,
    },
    Pull {
        job: JobId,
        after: Cursor,
        head_before: u64,
    },
    Heads,
    Missing {
        job: JobId,
    },
    Open {
        job: JobId,
        blob: BlobHash,
    },
    /// The disk is asked, not the server.
    Read {
        job: JobId,
        blob: BlobHash,
        offset: u64,
        length: u64,
    },
    Piece {
        job: JobId,
        blob: BlobHash,
        offset: u64,
    },
}

impl Replica {
    pub(super) fn send_what_is_due(&mut self, effects: &mut Vec<Effect>) {
        if self.shut_out.is_some() || self.now < self.backoff.until() {
            return;
        }
        let mut changes_wait = false;
        let ids: Vec<JobId> = self.jobs.keys().cloned().collect();
        for id in ids {
            changes_wait |= self.send_changes(&id, effects);
            self.compare(&id, effects);
            self.ask_for_changes(&id, effects);
        }
        if self.polling.is_none() && self.now >= self.poll_at {
            self.polling = Some(self.send(Asked::Heads, Request::Heads, effects));
        }
        if !changes_wait {
            self.send_blobs(effects);
        }
    }

    /// Whether changes of this job are on their way or wait for it.
    fn send_changes(&mut self, id: &JobId, effects: &mut Vec<Effect>) -> bool {
        let Some(job) = self.jobs.get_mut(id) else { return false };
        if job.push.is_some() {
            return true;
        }
        if job.resetting || self.now < job.rest_until {
            return false;
        }
        match job.next() {
            Next::Nothing => false,
            Next::Read(hashes) => {
                if job.reading.is_empty() {
                    job.reading.clone_from(&hashes);
                    effects.push(Effect::ReadChanges { job: id.clone(), hashes });
                }
                true
            }
            Next::Push { hashes, changes } => {
                let asked = Asked::Push { job: id.clone(), hashes };
                let message = Request::Push { job: id.clone(), push: Push { changes } };
                let request = self.send(asked, message, effects);
                if let Some(job) = self.jobs.get_mut(id) {
                    job.push = Some(request);
                }
                true
            }
        }
    }

    fn ask_for_changes(&mut self, id: &JobId, effects: &mut Vec<Effect>) {
        let Some(job) = self.jobs.get(id) else { return };
        let busy = job.pull.is_some() || job.cursor_in_writing || job.resetting;
        if busy || self.now < job.rest_until || !job.is_behind() {
            return;
        }
        let (after, head_before) = (job.cursor, job.server_head);
        let asked = Asked::Pull { job: id.clone(), after, head_before };
        let message = Request::Pull { job: id.clone(), after };
        let request = self.send(asked, message, effects);
        if let Some(job) = self.jobs.get_mut(id) {
            job.pull = Some(request);
        }
    }

    /// A server that was put back may have another log of the same length, or have lost photos though
    /// its log is the same.
    fn compare(&mut self, id: &JobId, effects: &mut Vec<Effect>) {
        let now = self.now;
        let Some(job) = self.jobs.get_mut(id) else { return };
        if job.checking.is_some() || job.resetting || now < job.rest_until || now < job.compare_at {
            return;
        }
        job.compare_at = now.saturating_add(limits::COMPARE_MS);
        job.ask = true;
        job.look_again();
        self.blobs.look_again(id);
        let blobs = self.blobs.copied(id);
        if blobs.is_empty() {
            return;
        }
        let message = Request::MissingBlobs { job: id.clone(), list: BlobList { blobs } };
        let request = self.send(Asked::Missing { job: id.clone() }, message, effects);
        if let Some(job) = self.jobs.get_mut(id) {
            job.checking = Some(request);
        }
    }

    /// Compares with the server soon, even if nothing new is known of.
    pub(super) fn compare_all(&mut self) {
        for job in self.jobs.values_mut() {
            job.compare_at = self.now;
        }
    }

    fn send_blobs(&mut self, effects: &mut Vec<Effect>) {
        if self.now < self.blob_backoff.until() {
            return;
        }
        let quick = self.answer_ms.is_some_and(|took| took < limits::QUICK_ANSWER_MS);
        let lanes = if quick { 2 } else { 1 };
        while self.blobs.busy() < lanes {
            let may = |job: &JobId| {
                let job = self.jobs.get(job);
                job.is_some_and(|job| !job.resetting && self.now >= job.rest_until)
            };
            let Some((job, blob)) = self.blobs.next(may) else { return };
            let piece = self.blobs.piece;
            let Some(state) = self.blobs.get(&job, blob) else { return };
            let size = state.size;
            let step = match state.offset {
                None => {
                    let message = Request::OpenUpload { job: job.clone(), blob, size };
                    let asked = Asked::Open { job: job.clone(), blob };
                    Step::Opening(self.send(asked, message, effects))
                }
                Some(offset) => {
                    let length = piece.length(offset, size);
                    let asked = Asked::Read { job: job.clone(), blob, offset, length };
                    let request = self.expect(asked, 0);
                    effects.push(Effect::ReadBlob { request, blob, offset, length });
                    Step::Reading(request)
                }
            };
            if let Some(state) = self.blobs.get(&job, blob) {
                state.step = step;
            }
        }
    }

    /// A piece was read from the disk: sends it.
    pub(super) fn blob_read(
        &mut self,
        request: RequestId,
        bytes: Option<Vec<u8>>,
        effects: &mut Vec<Effect>,
    ) {
        let Some(InFlight { what: Asked::Read { job, blob, offset, length }, .. }) =
            self.requests.remove(&request)
        else {
            return;
        };
        let whole = |bytes: &Vec<u8>| u64::try_from(bytes.len()) == Ok(length);
        let Some(bytes) = bytes.filter(whole) else {
            self.rest_blob(&job, blob);
            if let Some(state) = self.blobs.get(&job, blob) {
                state.standing = Standing::Gone;
            }
            effects.push(Effect::Changed { job });
            return;
        };
        if self.shut_out.is_some() {
            self.rest_blob(&job, blob);
            return;
        }
        let Some(size) = self.blobs.get(&job, blob).map(|state| state.size) else { return };
        let asked = Asked::Piece { job: job.clone(), blob, offset };
        let message = Request::Piece { job: job.clone(), blob, size, offset, bytes };
        let request = self.send(asked, message, effects);
        if let Some(state) = self.blobs.get(&job, blob) {
            state.step = Step::Sending(request);
        }
    }

    /// The disk failed, which says nothing about the photo.
    pub(super) fn blob_not_read(&mut self, request: RequestId) {
        let Some(InFlight { what: Asked::Read { job, blob, .. }, .. }) =
            self.requests.remove(&request)
        else {
            return;
        };
        // How far the server is stays known: asked again and again, its answers would end the waiting each time.
        if let Some(state) = self.blobs.get(&job, blob) {
            state.step = Step::Nothing;
            state.not_read = state.not_read.saturating_add(1);
        }
        self.blob_backoff.failed(self.now, 0, &mut self.dice);
    }

    fn send(&mut self, what: Asked, message: Request, effects: &mut Vec<Effect>) -> RequestId {
        let request = self.expect(what, message.weight());
        effects.push(Effect::Send { request, message });
        request
    }

    fn expect(&mut self, what: Asked, bytes: u64) -> RequestId {
        self.last_request += 1;
        let request = RequestId(self.last_request);
        let slow = bytes.saturating_mul(1_000) / limits::SLOW_BYTES_A_SECOND;
        let deadline = self.now.saturating_add(limits::ANSWER_MS).saturating_add(slow);
        self.requests.insert(request, InFlight { what, sent: self.now, deadline });
        request
    }

    /// Times that bring something about by themselves.
    pub(super) fn waits_for_time(&self) -> Vec<u64> {
        if self.shut_out.is_some() {
            return Vec::new();
        }
        let fixed = [self.backoff.until(), self.blob_backoff.until()];
        let poll = self.polling.is_none().then_some(self.poll_at);
        let rests = self.jobs.values().flat_map(|job| [job.rest_until, job.compare_at]);
        fixed.into_iter().chain(poll).chain(rests).filter(|time| *time > self.now).collect()
    }

    /// There is reason to think that it works now.
    pub(super) fn try_now(&mut self) {
        self.backoff.reset();
        self.blob_backoff.reset();
        self.ask_for_heads();
        for job in self.jobs.values_mut() {
            job.rest_until = 0;
        }
    }

    /// The list of jobs is to be asked for now, whatever is on its way already.
    pub(super) fn ask_for_heads(&mut self) {
        self.poll_at = self.now;
        self.poll_again = self.polling.is_some();
    }
}
