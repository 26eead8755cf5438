//! What the server's answers mean.

use std::collections::BTreeSet;

use record::Hash;

use super::{
    Effect, Replica, Standing, Write,
    blobs::Step,
    send::{Asked, InFlight},
};
use crate::{
    BlobHash, Cursor, JobId, Refusal, RequestId, limits,
    wire::{self, Heads, Page, Pushed, Response, UploadState},
};

/// What a page answers.
#[derive(Debug, Clone, Copy)]
struct Question {
    after: Cursor,
    head_before: u64,
    /// When.
    asked: u64,
}

impl Replica {
    pub(super) fn answered(
        &mut self,
        request: RequestId,
        answer: Result<Response, Refusal>,
        effects: &mut Vec<Effect>,
    ) {
        // Not waited for: it came too late, or twice.
        let Some(InFlight { what, sent, .. }) = self.requests.remove(&request) else { return };
        self.answer_ms = Some(self.now.saturating_sub(sent));
        if let Err(refusal @ (Refusal::NotPaired | Refusal::DeviceRemoved)) = answer {
            self.let_go(&what);
            if self.shut_out.is_none() {
                effects.push(Effect::ShutOut { refusal: refusal.clone() });
            }
            self.shut_out = Some(refusal);
            return;
        }
        self.let_go(&what);
        match (what, answer) {
            (Asked::Push { job, hashes }, Ok(Response::Pushed(pushed))) => {
                self.pushed(&job, &hashes, &pushed, effects);
            }
            (Asked::Push { job, hashes }, Err(refusal)) => {
                self.push_refused(&job, &hashes, refusal, effects);
            }
            (Asked::Pull { job, after, head_before }, Ok(Response::Page(page))) => {
                self.page(&job, Question { after, head_before, asked: sent }, &page, effects);
            }
            (Asked::Pull { job, .. }, Err(refusal)) => self.pull_refused(&job, refusal, effects),
            (Asked::Heads, Ok(Response::Heads(heads))) => self.heads(heads, effects),
            (Asked::Open { job, blob }, Ok(Response::Upload(state))) => {
                self.upload(&job, blob, None, state, effects);
            }
            (Asked::Piece { job, blob, offset }, Ok(Response::Upload(state))) => {
                self.upload(&job, blob, Some(offset), state, effects);
            }
            (Asked::Open { job, blob } | Asked::Piece { job, blob, .. }, Err(refusal)) => {
                self.upload_refused(&job, blob, refusal, effects);
            }
            (Asked::Missing { job }, Ok(Response::MissingBlobs(list))) => {
                for blob in list.blobs {
                    if let Some(state) = self.blobs.get(&job, blob)
                        && state.standing == Standing::Copied
                    {
                        (state.standing, state.offset) = (Standing::Kept, None);
                        self.disk.add(Write::BlobNotCopied { job: job.clone(), blob });
                    }
                }
                effects.push(Effect::Changed { job });
            }
            (Asked::Heads | Asked::Missing { .. }, Err(refusal)) => self.lane_failed(&refusal),
            // An answer to something else than was asked.
            (Asked::Open { .. } | Asked::Piece { .. } | Asked::Read { .. }, _) => {
                self.blob_backoff.failed(self.now, 0, &mut self.dice);
            }
            (
                Asked::Push { .. } | Asked::Pull { .. } | Asked::Heads | Asked::Missing { .. },
                Ok(_),
            ) => {
                self.lane_failed(&Refusal::Other);
            }
        }
    }

    pub(super) fn unanswered(&mut self, request: RequestId, effects: &mut Vec<Effect>) {
        let Some(InFlight { what, .. }) = self.requests.remove(&request) else { return };
        self.let_go(&what);
        match what {
            Asked::Push { job, .. } | Asked::Pull { job, .. } => {
                self.backoff.failed(self.now, 0, &mut self.dice);
                effects.push(Effect::Changed { job });
            }
            Asked::Heads => self.backoff.failed(self.now, 0, &mut self.dice),
            Asked::Missing { job } => {
                if let Some(job) = self.jobs.get_mut(&job) {
                    job.compare_at = self.now;
                }
                self.backoff.failed(self.now, 0, &mut self.dice);
            }
            Asked::Open { .. } | Asked::Read { .. } => {
                self.blob_backoff.failed(self.now, 0, &mut self.dice);
            }
            Asked::Piece { .. } => {
                self.blobs.piece.failed();
                self.blob_backoff.failed(self.now, 0, &mut self.dice);
            }
        }
    }

    /// Gives up what was not answered in time.
    pub(super) fn give_up_late(&mut self, effects: &mut Vec<Effect>) {
        let late: Vec<RequestId> = self
            .requests
            .iter()
            .filter(|(_, request)| request.deadline <= self.now)
            .map(|(request, _)| *request)
            .collect();
        for request in late {
            self.unanswered(request, effects);
        }
    }

    /// Nothing waits for this any more.
    fn let_go(&mut self, what: &Asked) {
        match what {
            Asked::Push { job, .. } => {
                if let Some(job) = self.jobs.get_mut(job) {
                    job.push = None;
                }
            }
            Asked::Pull { job, .. } => {
                if let Some(job) = self.jobs.get_mut(job) {
                    job.pull = None;
                }
            }
            Asked::Missing { job } => {
                if let Some(job) = self.jobs.get_mut(job) {
                    job.checking = None;
                }
            }
            Asked::Heads => {
                self.polling = None;
                self.poll_at = if std::mem::take(&mut self.poll_again) {
                    self.now
                } else {
                    let spread = self.dice.up_to(limits::POLL_MS / 2);
                    self.now.saturating_add(limits::POLL_MS).saturating_add(spread)
                };
            }
            Asked::Open { job, blob }
            | Asked::Piece { job, blob, .. }
            | Asked::Read { job, blob, .. } => {
                self.rest_blob(job, *blob);
            }
        }
    }

    /// A photo is not under way; how far the server is with it must be asked again.
    pub(super) fn rest_blob(&mut self, job: &JobId, blob: BlobHash) {
        if let Some(state) = self.blobs.get(job, blob) {
            state.step = Step::Nothing;
            state.offset = None;
        }
    }

    /// The server could not do anything for a while.
    fn lane_failed(&mut self, refusal: &Refusal) {
        let at_least = match refusal {
            Refusal::Busy { retry_after_ms } => *retry_after_ms,
            Refusal::ServerFull => limits::POLL_MS,
            _ => 0,
        };
        self.backoff.failed(self.now, at_least, &mut self.dice);
    }

    fn pushed(&mut self, id: &JobId, hashes: &[Hash], pushed: &Pushed, effects: &mut Vec<Effect>) {
        let sent: BTreeSet<&Hash> = hashes.iter().collect();
        let mut kept: Vec<_> =
            pushed.kept.iter().filter(|kept| sent.contains(&kept.hash)).copied().collect();
        if kept.is_empty() {
            self.lane_failed(&Refusal::Other);
            return;
        }
        self.backoff.reset();
        let Some(job) = self.jobs.get_mut(id) else { return };
        for kept in &kept {
            job.copied(&kept.hash, false, self.now);
        }
        (job.trouble, job.misses) = (None, 0);
        job.server_head = job.server_head.max(pushed.head);
        // What follows the cursor at once is already here: it need not be read back. All before it must
        // be what was read: in a log that was put back, the numbers alone may fit.
        kept.sort_by_key(|kept| kept.seq);
        if job.pull.is_none() && !job.cursor_in_writing && job.cursor.chain == pushed.before {
            let mut cursor = job.cursor;
            for kept in kept {
                if kept.seq == cursor.seq + 1 {
                    cursor = cursor.then(&kept.hash);
                    job.copied(&kept.hash, true, self.now);
                    self.disk.add(Write::Copied { job: id.clone(), hash: kept.hash });
                }
            }
            if cursor != job.cursor {
                job.cursor_in_writing = true;
                self.disk.add(Write::Cursor { job: id.clone(), cursor });
            }
        }
        effects.push(Effect::Changed { job: id.clone() });
    }

    fn push_refused(
        &mut self,
        id: &JobId,
        hashes: &[Hash],
        refusal: Refusal,
        effects: &mut Vec<Effect>,
    ) {
        let now = self.now;
        let Some(job) = self.jobs.get_mut(id) else { return };
        job.trouble = Some(refusal.clone());
        effects.push(Effect::Changed { job: id.clone() });
        match refusal {
            Refusal::MissingChanges { missing } => {
                job.misses += 1;
                let mut found = false;
                for hash in missing {
                    if job.not_copied(&hash) {
                        found = true;
                        self.disk.add(Write::NotCopied { job: id.clone(), hash });
                    }
                }
                if !found || job.misses > limits::ATTEMPTS {
                    job.rest_until = now.saturating_add(limits::POLL_MS);
                    job.ask = true;
                }
            }
            Refusal::ChangeRefused { change, why } if hashes.contains(&change) => {
                job.refused(&change, &why);
                self.disk.add(Write::Refused { job: id.clone(), hash: change, why });
            }
            Refusal::NoSuchJob
            | Refusal::TooLarge { why: _ }
            | Refusal::ChangeRefused { change: _, why: _ } => {
                job.rest_until = now.saturating_add(limits::POLL_MS);
            }
            other => self.lane_failed(&other),
        }
    }

    fn page(&mut self, id: &JobId, question: Question, page: &Page, effects: &mut Vec<Effect>) {
        let Question { after, head_before, asked } = question;
        let now = self.now;
        let Some(job) = self.jobs.get_mut(id) else { return };
        if job.cursor != after {
            return;
        }
        let links = match wire::read_changes(&page.changes) {
            Ok(links) if page.after == after.seq => links,
            Ok(_) | Err(_) => {
                self.lane_failed(&Refusal::Other);
                return;
            }
        };
        // A log holds each change after those it names. One that does not is not taken in: it would
        // leave this device with half a document and a cursor that says it has all.
        let mut here: BTreeSet<Hash> = BTreeSet::new();
        for link in &links {
            if !link.deps.iter().all(|dep| here.contains(dep) || job.changes.contains_key(dep)) {
                let why = format!("change {} is there before those it names", link.hash);
                job.trouble = Some(Refusal::Unreadable { why });
                job.rest_until = self.now.saturating_add(limits::POLL_MS);
                effects.push(Effect::Changed { job: id.clone() });
                return;
            }
            here.insert(link.hash);
        }
        self.backoff.reset();
        (job.ask, job.trouble) = (false, None);
        // A poke may have come after the page was made.
        let poked = job.server_head > head_before;
        job.server_head = if poked { job.server_head.max(page.head) } else { page.head };
        let mut cursor = after;
        for link in links {
            cursor = cursor.then(&link.hash);
            let held = job.changes.get(&link.hash);
            let gone = held.is_some_and(|held| held.standing == Standing::Gone);
            match held.map(|held| held.seen) {
                Some(true) => {}
                Some(false) if gone => {
                    job.copied(&link.hash, true, now);
                    let (job, hash, bytes) = (id.clone(), link.hash, link.bytes);
                    self.disk.add(Write::Change { job, hash, bytes, copied: true });
                }
                Some(false) => {
                    job.copied(&link.hash, true, now);
                    self.disk.add(Write::Copied { job: id.clone(), hash: link.hash });
                }
                None => {
                    job.add(link.hash, Standing::Copied, link.deps, None);
                    let (job, hash, bytes) = (id.clone(), link.hash, link.bytes);
                    self.disk.add(Write::Change { job, hash, bytes, copied: true });
                }
            }
        }
        if cursor.seq == page.head {
            job.read_to_the_end(asked);
        }
        if cursor != after {
            job.cursor_in_writing = true;
            self.disk.add(Write::Cursor { job: id.clone(), cursor });
            effects.push(Effect::Changed { job: id.clone() });
        } else if job.server_head > cursor.seq {
            // Nothing, though more is said to be there.
            self.lane_failed(&Refusal::Other);
        }
    }

    fn pull_refused(&mut self, id: &JobId, refusal: Refusal, effects: &mut Vec<Effect>) {
        let Some(job) = self.jobs.get_mut(id) else { return };
        match refusal {
            Refusal::OtherLog { head: _ } => self.begin_anew(id),
            Refusal::NoSuchJob if job.has_copies() => self.begin_anew(id),
            // Made here and not sent yet.
            Refusal::NoSuchJob => (job.ask, job.server_head) = (false, 0),
            other => {
                job.trouble = Some(other.clone());
                self.lane_failed(&other);
            }
        }
        effects.push(Effect::Changed { job: id.clone() });
    }

    /// The server's log is not the one that was read: everything is compared again.
    fn begin_anew(&mut self, id: &JobId) {
        if let Some(job) = self.jobs.get_mut(id) {
            job.reset();
        }
        self.blobs.reset(id);
        self.requests.retain(|_, request| match &request.what {
            Asked::Heads => true,
            Asked::Push { job, .. }
            | Asked::Pull { job, .. }
            | Asked::Missing { job }
            | Asked::Open { job, .. }
            | Asked::Read { job, .. }
            | Asked::Piece { job, .. } => job != id,
        });
        self.disk.add(Write::Reset { job: id.clone() });
    }

    fn heads(&mut self, heads: Heads, effects: &mut Vec<Effect>) {
        self.backoff.reset();
        let named: BTreeSet<JobId> = heads.jobs.iter().map(|head| head.job.clone()).collect();
        for head in heads.jobs {
            let behind_us = self.jobs.get(&head.job).is_some_and(|job| head.head < job.cursor.seq);
            if !self.head_is(&head.job, head.head)
                && self.discovered.insert(head.job.clone(), head.head) != Some(head.head)
            {
                let (job, summary) = (head.job, head.summary);
                effects.push(Effect::Discovered { job, summary });
            } else if behind_us && let Some(job) = self.jobs.get_mut(&head.job) {
                job.ask = true;
            }
        }
        for (id, job) in &mut self.jobs {
            if !named.contains(id) && job.has_copies() {
                job.ask = true;
            }
        }
    }

    /// The server's log goes at least this far; false if the job is not on this device.
    pub(super) fn head_is(&mut self, id: &JobId, head: u64) -> bool {
        let Some(job) = self.jobs.get_mut(id) else { return false };
        job.server_head = job.server_head.max(head);
        true
    }

    fn upload(
        &mut self,
        id: &JobId,
        blob: BlobHash,
        sent_at: Option<u64>,
        upload: UploadState,
        effects: &mut Vec<Effect>,
    ) {
        let Some(state) = self.blobs.get(id, blob) else { return };
        let progress = match sent_at {
            None => upload.offset < state.size,
            Some(before) => upload.offset > before && upload.offset < state.size,
        };
        if upload.stored {
            state.standing = Standing::Copied;
            self.disk.add(Write::BlobCopied { job: id.clone(), blob });
        } else if progress {
            state.offset = Some(upload.offset);
        } else {
            self.blobs.piece.failed();
            self.blob_backoff.failed(self.now, 0, &mut self.dice);
            return;
        }
        if sent_at.is_some() {
            self.blobs.piece.arrived();
        }
        self.blob_backoff.reset();
        effects.push(Effect::Changed { job: id.clone() });
    }

    fn upload_refused(
        &mut self,
        id: &JobId,
        blob: BlobHash,
        refusal: Refusal,
        effects: &mut Vec<Effect>,
    ) {
        let mut at_least = 0;
        match refusal {
            Refusal::WrongOffset { offset: _ } => {}
            Refusal::BlobDamaged => {
                if let Some(state) = self.blobs.get(id, blob) {
                    state.damaged += 1;
                    if state.damaged >= limits::DAMAGED_UPLOADS {
                        let why = "it arrived damaged several times; its bytes on this device may \
                                   not be those of its name";
                        self.refuse_blob(id, blob, why, effects);
                        return;
                    }
                }
            }
            Refusal::TooLarge { why } => {
                self.refuse_blob(id, blob, &why, effects);
                return;
            }
            Refusal::Busy { retry_after_ms } => at_least = retry_after_ms,
            Refusal::ServerFull => at_least = limits::POLL_MS,
            _ => {}
        }
        self.blobs.piece.failed();
        self.blob_backoff.failed(self.now, at_least, &mut self.dice);
    }

    pub(super) fn refuse_blob(
        &mut self,
        id: &JobId,
        blob: BlobHash,
        why: &str,
        effects: &mut Vec<Effect>,
    ) {
        self.rest_blob(id, blob);
        if let Some(state) = self.blobs.get(id, blob) {
            state.standing = Standing::Refused { why: why.to_owned() };
            self.disk.add(Write::BlobRefused { job: id.clone(), blob, why: why.to_owned() });
            effects.push(Effect::Changed { job: id.clone() });
        }
    }
}
