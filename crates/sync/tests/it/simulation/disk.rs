//! A phone's disk: what batches leave on it.

use std::collections::BTreeMap;

use sync::{
    BlobHash, Cursor, Hash, JobId, LocalBlob, LocalChange, LocalJob, LocalState, Rank, Write,
};

#[derive(Default, Clone)]
pub(super) struct PhoneDisk {
    pub(super) jobs: BTreeMap<JobId, DiskJob>,
}

#[derive(Default, Clone)]
pub(super) struct DiskJob {
    pub(super) cursor: Cursor,
    pub(super) changes: BTreeMap<Hash, DiskChange>,
    pub(super) blobs: BTreeMap<BlobHash, DiskBlob>,
    order: u64,
}

#[derive(Clone)]
pub(super) struct DiskChange {
    order: u64,
    pub(super) bytes: Vec<u8>,
    copied: bool,
    refused: Option<String>,
}

#[derive(Clone)]
pub(super) struct DiskBlob {
    order: u64,
    size: u64,
    rank: Rank,
    copied: bool,
    refused: Option<String>,
}

impl PhoneDisk {
    pub(super) fn write(&mut self, write: &Write) {
        match write {
            Write::Job { job } => {
                self.jobs.entry(job.clone()).or_default();
            }
            Write::Change { job, hash, bytes, copied } => {
                let job = self.jobs.entry(job.clone()).or_default();
                job.order += 1;
                let (order, bytes) = (job.order, bytes.clone());
                let new = DiskChange { order, bytes, copied: false, refused: None };
                job.changes.entry(*hash).or_insert(new).copied |= copied;
            }
            Write::Copied { job, hash } => self.change(job, hash, |change| {
                change.copied = true;
                change.refused = None;
            }),
            Write::NotCopied { job, hash } => {
                self.change(job, hash, |change| change.copied = false);
            }
            Write::Refused { job, hash, why } => {
                self.change(job, hash, |change| change.refused = Some(why.clone()));
            }
            Write::Cursor { job, cursor } => {
                self.jobs.entry(job.clone()).or_default().cursor = *cursor;
            }
            Write::Reset { job } => {
                let job = self.jobs.entry(job.clone()).or_default();
                job.cursor = Cursor::START;
                job.changes.values_mut().for_each(|change| change.copied = false);
                job.blobs.values_mut().for_each(|blob| blob.copied = false);
            }
            Write::Blob { job, blob, size, rank } => {
                let job = self.jobs.entry(job.clone()).or_default();
                job.order += 1;
                let (order, size, rank) = (job.order, *size, *rank);
                let new = DiskBlob { order, size, rank, copied: false, refused: None };
                job.blobs.entry(*blob).or_insert(new);
            }
            Write::BlobCopied { job, blob } => {
                self.blob(job, blob, |blob| blob.copied = true);
            }
            Write::BlobNotCopied { job, blob } => {
                self.blob(job, blob, |blob| blob.copied = false);
            }
            Write::BlobRefused { job, blob, why } => {
                self.blob(job, blob, |blob| blob.refused = Some(why.clone()));
            }
        }
    }

    fn change(&mut self, job: &JobId, hash: &Hash, change: impl FnOnce(&mut DiskChange)) {
        if let Some(kept) = self.jobs.get_mut(job).and_then(|job| job.changes.get_mut(hash)) {
            change(kept);
        }
    }

    fn blob(&mut self, job: &JobId, blob: &BlobHash, change: impl FnOnce(&mut DiskBlob)) {
        if let Some(kept) = self.jobs.get_mut(job).and_then(|job| job.blobs.get_mut(blob)) {
            change(kept);
        }
    }

    /// As a phone reads it when it starts; the bytes of what is copied are left out.
    pub(super) fn state(&self) -> LocalState {
        let jobs = self.jobs.iter().map(|(id, job)| LocalJob {
            job: id.clone(),
            cursor: job.cursor,
            changes: job
                .in_order()
                .into_iter()
                .map(|(hash, change)| LocalChange {
                    hash: *hash,
                    copied: change.copied,
                    refused: change.refused.clone(),
                    bytes: (!change.copied).then(|| change.bytes.clone()),
                })
                .collect(),
            blobs: {
                let mut blobs: Vec<_> = job.blobs.iter().collect();
                blobs.sort_by_key(|(_, blob)| blob.order);
                let local = |(hash, blob): (&BlobHash, &DiskBlob)| LocalBlob {
                    blob: *hash,
                    size: blob.size,
                    rank: blob.rank,
                    copied: blob.copied,
                    refused: blob.refused.clone(),
                };
                blobs.into_iter().map(local).collect()
            },
        });
        LocalState { jobs: jobs.collect() }
    }
}

impl DiskJob {
    pub(super) fn in_order(&self) -> Vec<(&Hash, &DiskChange)> {
        let mut changes: Vec<_> = self.changes.iter().collect();
        changes.sort_by_key(|(_, change)| change.order);
        changes
    }
}
