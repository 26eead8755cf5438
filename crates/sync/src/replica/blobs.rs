//! The photos on a device: which is sent next, and how far each one is.

use std::collections::BTreeMap;

use super::{BlobStanding, JobSummary, LocalBlob, NewBlob, Rank, Standing};
use crate::{BlobHash, JobId, RequestId, limits};

/// One photo of one job.
#[derive(Debug, Clone)]
pub(super) struct Blob {
    pub(super) size: u64,
    rank: Rank,
    order: u64,
    pub(super) standing: Standing,
    pub(super) step: Step,
    /// How many bytes the server has said it has; none before it was asked.
    pub(super) offset: Option<u64>,
    pub(super) damaged: u32,
    /// How often this device's disk failed when it was read.
    pub(super) not_read: u32,
}

/// What is under way for a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Nothing,
    Opening(RequestId),
    Reading(RequestId),
    Sending(RequestId),
}

#[derive(Debug, Default)]
pub(super) struct Blobs {
    pub(super) all: BTreeMap<(JobId, BlobHash), Blob>,
    last_order: u64,
    pub(super) piece: Piece,
}

/// The length of pieces: doubled when one arrives, halved when one does not.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece(u64);

impl Default for Piece {
    fn default() -> Self {
        Self(limits::PIECE_BYTES_FIRST)
    }
}

impl Piece {
    pub(super) fn arrived(&mut self) {
        self.0 = (self.0 * 2).min(limits::PIECE_BYTES_MOST);
    }

    pub(super) fn failed(&mut self) {
        self.0 = (self.0 / 2).max(limits::PIECE_BYTES_LEAST);
    }

    pub(super) fn length(self, offset: u64, size: u64) -> u64 {
        self.0.min(size.saturating_sub(offset))
    }
}

impl Blobs {
    pub(super) fn restore(&mut self, job: &JobId, local: LocalBlob) {
        let standing = match (local.copied, local.refused) {
            (true, _) => Standing::Copied,
            (false, Some(why)) => Standing::Refused { why },
            (false, None) => Standing::Kept,
        };
        let new = NewBlob { blob: local.blob, size: local.size, rank: local.rank };
        self.add(job, new, standing);
    }

    /// Adds a photo; false if it is there.
    pub(super) fn add(&mut self, job: &JobId, new: NewBlob, standing: Standing) -> bool {
        let key = (job.clone(), new.blob);
        if self.all.contains_key(&key) {
            return false;
        }
        self.last_order += 1;
        let blob = Blob {
            size: new.size,
            rank: new.rank,
            order: self.last_order,
            standing,
            step: Step::Nothing,
            offset: None,
            damaged: 0,
            not_read: 0,
        };
        self.all.insert(key, blob);
        true
    }

    pub(super) fn get(&mut self, job: &JobId, blob: BlobHash) -> Option<&mut Blob> {
        self.all.get_mut(&(job.clone(), blob))
    }

    pub(super) fn of_job(&self, job: &JobId) -> impl Iterator<Item = (BlobHash, &Blob)> {
        self.all
            .range((job.clone(), BlobHash([0; 32]))..=(job.clone(), BlobHash([255; 32])))
            .map(|((_, blob), state)| (*blob, state))
    }

    /// The server's store is another one: nothing counts as copied.
    pub(super) fn reset(&mut self, job: &JobId) {
        let of_job: Vec<BlobHash> = self.of_job(job).map(|(blob, _)| blob).collect();
        for blob in of_job {
            let Some(state) = self.get(job, blob) else { continue };
            (state.step, state.offset) = (Step::Nothing, None);
            if state.standing == Standing::Copied {
                state.standing = Standing::Kept;
            }
        }
    }

    /// Photos that the disk did not give are looked for once more.
    pub(super) fn look_again(&mut self, job: &JobId) {
        let of_job: Vec<BlobHash> = self.of_job(job).map(|(blob, _)| blob).collect();
        for blob in of_job {
            if let Some(state) = self.get(job, blob)
                && state.standing == Standing::Gone
            {
                state.standing = Standing::Kept;
            }
        }
    }

    /// Those of a job that count as copied.
    pub(super) fn copied(&self, job: &JobId) -> Vec<BlobHash> {
        self.of_job(job)
            .filter(|(_, blob)| blob.standing == Standing::Copied)
            .map(|(hash, _)| hash)
            .take(limits::MISSING_BLOBS)
            .collect()
    }

    /// How many are under way.
    pub(super) fn busy(&self) -> usize {
        self.all.values().filter(|blob| blob.step != Step::Nothing).count()
    }

    /// The photo whose turn it is: by rank, and among equals the oldest first. One at which the disk failed lets all
    /// others go first.
    pub(super) fn next(&self, may: impl Fn(&JobId) -> bool) -> Option<(JobId, BlobHash)> {
        self.all
            .iter()
            .filter(|((job, _), blob)| {
                blob.standing == Standing::Kept && blob.step == Step::Nothing && may(job)
            })
            .min_by_key(|(_, blob)| (blob.not_read, blob.rank, blob.order))
            .map(|(key, _)| key.clone())
    }

    pub(super) fn standing(&self, job: &JobId, blob: BlobHash) -> Option<BlobStanding> {
        let state = self.all.get(&(job.clone(), blob))?;
        let sent = match state.standing {
            Standing::Copied => state.size,
            _ => state.offset.unwrap_or_default(),
        };
        Some(BlobStanding { standing: state.standing.clone(), size: state.size, sent })
    }

    pub(super) fn add_to(&self, summary: &mut JobSummary, job: &JobId) {
        for (_, blob) in self.of_job(job) {
            match blob.standing {
                Standing::Copied => {
                    summary.blobs_copied += 1;
                    continue;
                }
                Standing::Gone => {
                    summary.gone += 1;
                    continue;
                }
                _ => {}
            }
            summary.blobs_only_here += 1;
            summary.bytes_only_here += blob.size.saturating_sub(blob.offset.unwrap_or_default());
            summary.blobs_refused +=
                usize::from(matches!(blob.standing, Standing::Refused { why: _ }));
        }
    }
}
