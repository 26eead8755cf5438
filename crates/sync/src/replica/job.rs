//! One job on a device: which changes are where, and which go next.

use std::collections::{BTreeMap, BTreeSet};

use record::Hash;

use super::{JobSummary, LocalJob, Standing};
use crate::{Cursor, Refusal, RequestId, limits};

/// One change on a device.
#[derive(Debug, Clone)]
pub(super) struct Held {
    pub(super) standing: Standing,
    /// Its place among the job's changes on this device.
    order: u64,
    /// The changes before it; known whenever the bytes were seen.
    deps: Vec<Hash>,
    /// Dropped once it is copied; read from the disk if it must be sent after all.
    bytes: Option<Vec<u8>>,
    /// Copied, and read in the log up to the cursor; a mere acknowledgement may be from a log that
    /// was put back since.
    pub(super) seen: bool,
    /// When it was acknowledged.
    pub(super) acknowledged: u64,
}

#[derive(Debug, Clone, Default)]
pub(super) struct Job {
    pub(super) cursor: Cursor,
    /// How far the server's log goes, as far as it has said.
    pub(super) server_head: u64,
    /// Ask for news even if none is known of.
    pub(super) ask: bool,
    pub(super) changes: BTreeMap<Hash, Held>,
    /// Those that are neither copied nor refused, in order.
    pub(super) unsent: BTreeMap<u64, Hash>,
    pub(super) last_order: u64,
    pub(super) push: Option<RequestId>,
    pub(super) pull: Option<RequestId>,
    /// A cursor is on its way to the disk.
    pub(super) cursor_in_writing: bool,
    /// The server's log is another one, and the disk is being told; nothing is sent meanwhile.
    pub(super) resetting: bool,
    /// How often in a row the server lacked changes before those that were sent.
    pub(super) misses: u32,
    /// Changes that are being read from the disk.
    pub(super) reading: Vec<Hash>,
    /// Nothing is sent for this job before.
    pub(super) rest_until: u64,
    /// From then on, ask whether log and photos are still those that were copied.
    pub(super) compare_at: u64,
    pub(super) checking: Option<RequestId>,
    pub(super) trouble: Option<Refusal>,
}

/// What can be pushed now.
pub(super) enum Next {
    Push { hashes: Vec<Hash>, changes: Vec<Vec<u8>> },
    Read(Vec<Hash>),
    Nothing,
}

impl Job {
    /// The job as it is on the disk.
    pub(super) fn restore(local: LocalJob) -> Self {
        let mut job = Self { cursor: local.cursor, ask: true, ..Self::default() };
        for change in local.changes {
            let standing = match (change.copied, change.refused) {
                (true, _) => Standing::Copied,
                (false, Some(why)) => Standing::Refused { why },
                (false, None) => Standing::Kept,
            };
            let keep_bytes = standing == Standing::Kept;
            let deps = change.bytes.as_deref().map(deps_of).unwrap_or_default();
            let bytes = change.bytes.filter(|_| keep_bytes);
            job.add(change.hash, standing, deps, bytes);
        }
        job
    }

    /// Adds a change after all others; one that is there stays as it is.
    pub(super) fn add(
        &mut self,
        hash: Hash,
        standing: Standing,
        deps: Vec<Hash>,
        bytes: Option<Vec<u8>>,
    ) {
        if self.changes.contains_key(&hash) {
            return;
        }
        self.last_order += 1;
        let order = self.last_order;
        if !matches!(standing, Standing::Copied | Standing::Refused { why: _ }) {
            self.unsent.insert(order, hash);
        }
        let seen = standing == Standing::Copied;
        let held = Held { standing, order, deps, bytes, seen, acknowledged: 0 };
        self.changes.insert(hash, held);
    }

    /// The server has it.
    pub(super) fn copied(&mut self, hash: &Hash, seen: bool, now: u64) {
        if let Some(held) = self.changes.get_mut(hash) {
            held.seen |= seen;
            held.acknowledged = now;
            held.standing = Standing::Copied;
            held.bytes = None;
            self.unsent.remove(&held.order);
        }
    }

    /// The server has not got it after all; false if it is not known here as copied.
    pub(super) fn not_copied(&mut self, hash: &Hash) -> bool {
        match self.changes.get_mut(hash) {
            Some(held) if held.standing == Standing::Copied => {
                held.standing = Standing::Kept;
                held.seen = false;
                self.unsent.insert(held.order, *hash);
                true
            }
            Some(_) | None => false,
        }
    }

    /// The log was read to its end by a question sent at `asked`: what was acknowledged before that
    /// and was not in it, is not there any more.
    pub(super) fn read_to_the_end(&mut self, asked: u64) {
        let gone: Vec<Hash> = self
            .changes
            .iter()
            .filter(|(_, held)| {
                held.standing == Standing::Copied && !held.seen && held.acknowledged < asked
            })
            .map(|(hash, _)| *hash)
            .collect();
        for hash in gone {
            self.not_copied(&hash);
        }
        self.ask |=
            self.changes.values().any(|held| held.standing == Standing::Copied && !held.seen);
    }

    pub(super) fn refused(&mut self, hash: &Hash, why: &str) {
        if let Some(held) = self.changes.get_mut(hash) {
            held.standing = Standing::Refused { why: why.to_owned() };
            self.unsent.remove(&held.order);
        }
    }

    /// On this device's disk.
    pub(super) fn written(&mut self, hash: &Hash) {
        if let Some(held) = self.changes.get_mut(hash)
            && matches!(held.standing, Standing::Writing | Standing::NotKept { why: _ })
        {
            held.standing = Standing::Kept;
        }
    }

    /// Not on this device's disk.
    pub(super) fn not_written(&mut self, hash: &Hash, why: &str) {
        if let Some(held) = self.changes.get_mut(hash)
            && held.standing == Standing::Writing
        {
            held.standing = Standing::NotKept { why: why.to_owned() };
        }
    }

    /// The server's log is another one.
    pub(super) fn reset(&mut self) {
        let all: Vec<Hash> = self.changes.keys().copied().collect();
        for hash in all {
            self.not_copied(&hash);
        }
        self.cursor = Cursor::START;
        self.server_head = 0;
        self.ask = true;
        self.resetting = true;
        self.push = None;
        self.pull = None;
        self.checking = None;
    }

    /// Changes read from the disk, to be sent; whether the disk lacks any of those it was asked for.
    pub(super) fn bytes_read(&mut self, changes: &[Vec<u8>]) -> bool {
        let asked = std::mem::take(&mut self.reading);
        for link in changes.iter().filter_map(|bytes| record::Link::read(bytes).ok()).flatten() {
            if let Some(held) = self.changes.get_mut(&link.hash)
                && held.standing == Standing::Kept
            {
                held.deps = link.deps;
                held.bytes = Some(link.bytes);
            }
        }
        let mut lacks = false;
        for hash in asked {
            if let Some(held) = self.changes.get_mut(&hash)
                && held.standing == Standing::Kept
                && held.bytes.is_none()
            {
                held.standing = Standing::Gone;
                lacks = true;
            }
        }
        lacks
    }

    /// What the disk did not give is looked for once more.
    pub(super) fn look_again(&mut self) {
        for held in self.changes.values_mut() {
            if held.standing == Standing::Gone {
                held.standing = Standing::Kept;
            }
        }
    }

    /// The changes to push next: on this device's disk, not on the server, and building on no change
    /// that the server refuses.
    pub(super) fn next(&self) -> Next {
        let mut left_out = BTreeSet::new();
        let mut unread = Vec::new();
        let mut hashes = Vec::new();
        let mut changes: Vec<Vec<u8>> = Vec::new();
        let mut bytes = 0;
        for hash in self.unsent.values() {
            let Some(held) = self.changes.get(hash) else { continue };
            let refused = |dep: &Hash| {
                left_out.contains(dep)
                    || matches!(
                        self.changes.get(dep).map(|held| &held.standing),
                        Some(Standing::Refused { why: _ })
                    )
            };
            if held.standing != Standing::Kept || held.deps.iter().any(refused) {
                left_out.insert(*hash);
                continue;
            }
            let full = changes.len() + unread.len() >= limits::PUSH_CHANGES;
            match &held.bytes {
                _ if full => break,
                None => unread.push(*hash),
                Some(_) if !unread.is_empty() => {}
                Some(change)
                    if changes.is_empty() || bytes + change.len() <= limits::PUSH_BYTES =>
                {
                    bytes += change.len();
                    changes.push(change.clone());
                    hashes.push(*hash);
                }
                Some(_) => break,
            }
        }
        match (changes.is_empty(), unread.is_empty()) {
            (false, _) => Next::Push { hashes, changes },
            (true, false) => Next::Read(unread),
            (true, true) => Next::Nothing,
        }
    }

    /// Whether anything of this job was ever on the server, as far as is known.
    pub(super) fn has_copies(&self) -> bool {
        self.cursor != Cursor::START
            || self.changes.values().any(|held| held.standing == Standing::Copied)
    }

    /// Whether there may be something to read from the server.
    pub(super) fn is_behind(&self) -> bool {
        self.ask || self.server_head > self.cursor.seq
    }

    pub(super) fn summary(&self) -> JobSummary {
        let mut summary = JobSummary {
            behind: self.server_head.saturating_sub(self.cursor.seq),
            trouble: self.trouble.clone(),
            ..JobSummary::default()
        };
        for held in self.changes.values() {
            match held.standing {
                Standing::Writing | Standing::NotKept { why: _ } => summary.writing += 1,
                Standing::Kept => summary.only_here += 1,
                Standing::Gone => summary.gone += 1,
                Standing::Refused { why: _ } => {
                    summary.only_here += 1;
                    summary.refused += 1;
                }
                Standing::Copied => summary.copied += 1,
            }
        }
        summary
    }
}

fn deps_of(bytes: &[u8]) -> Vec<Hash> {
    record::Link::read(bytes)
        .ok()
        .and_then(|links| links.into_iter().next())
        .map(|link| link.deps)
        .unwrap_or_default()
}
