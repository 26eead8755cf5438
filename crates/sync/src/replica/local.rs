//! What a device keeps on its own disk, and the writes that change it.
//!
//! The device's storage holds, for each job: its changes in the order in which they came, each with
//! its bytes and whether the server has it; the cursor; and for each photo its size, its rank and
//! whether the server has it. The photos' bytes the app keeps itself.

use record::Hash;

use crate::{BlobHash, Cursor, JobId};

/// In which order photos travel; changes always go first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// A small picture that stands for a large one.
    Thumbnail,
    /// A photo that an unfavourable verdict or a finding points to.
    Evidence,
    /// Any other photo.
    Photo,
    /// A film, a voice memo, anything long.
    Film,
}

impl Rank {
    /// A number for storage; the order of numbers is the order of ranks.
    #[must_use]
    pub fn number(self) -> u8 {
        match self {
            Self::Thumbnail => 0,
            Self::Evidence => 1,
            Self::Photo => 2,
            Self::Film => 3,
        }
    }

    /// The rank with this number.
    #[must_use]
    pub fn from_number(number: u8) -> Option<Self> {
        [Self::Thumbnail, Self::Evidence, Self::Photo, Self::Film]
            .into_iter()
            .find(|rank| rank.number() == number)
    }
}

/// One transaction on the device's storage: all of it or nothing, in this order, and durable before
/// [`crate::Event::Written`] is told.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Batch {
    /// The writes.
    pub writes: Vec<Write>,
}

/// One write. Each may be carried out again without harm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Write {
    /// Keep this job from now on.
    Job {
        /// The job.
        job: JobId,
    },
    /// Keep this change after all others of its job; if it is there, only raise `copied`.
    Change {
        /// The job.
        job: JobId,
        /// The change's name.
        hash: Hash,
        /// The raw change.
        bytes: Vec<u8>,
        /// Whether the server has it.
        copied: bool,
    },
    /// The server has this change.
    Copied {
        /// The job.
        job: JobId,
        /// Which one.
        hash: Hash,
    },
    /// The server has not got this change after all.
    NotCopied {
        /// The job.
        job: JobId,
        /// Which one.
        hash: Hash,
    },
    /// The server will never take this change.
    Refused {
        /// The job.
        job: JobId,
        /// Which one.
        hash: Hash,
        /// The sentence for people.
        why: String,
    },
    /// The log was read up to here.
    Cursor {
        /// The job.
        job: JobId,
        /// How far.
        cursor: Cursor,
    },
    /// The server's log is another one: the cursor goes to the start, and no change and no photo of
    /// the job counts as copied.
    Reset {
        /// The job.
        job: JobId,
    },
    /// Keep this photo's entry.
    Blob {
        /// The job.
        job: JobId,
        /// Its SHA-256.
        blob: BlobHash,
        /// How many bytes it has.
        size: u64,
        /// When its turn is.
        rank: Rank,
    },
    /// The server has this photo.
    BlobCopied {
        /// The job.
        job: JobId,
        /// Which one.
        blob: BlobHash,
    },
    /// The server has not got this photo after all.
    BlobNotCopied {
        /// The job.
        job: JobId,
        /// Which one.
        blob: BlobHash,
    },
    /// The server will not take this photo.
    BlobRefused {
        /// The job.
        job: JobId,
        /// Which one.
        blob: BlobHash,
        /// The sentence for people.
        why: String,
    },
}

/// Everything that is on the device's disk, when the app starts.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LocalState {
    /// The jobs.
    pub jobs: Vec<LocalJob>,
}

/// One job on the device's disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LocalJob {
    /// Its id.
    pub job: JobId,
    /// How far the server's log was read.
    pub cursor: Cursor,
    /// Its changes in the order in which they were written.
    pub changes: Vec<LocalChange>,
    /// Its photos in the order in which they were written.
    pub blobs: Vec<LocalBlob>,
}

/// One change on the device's disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LocalChange {
    /// Its name.
    pub hash: Hash,
    /// Whether the server has it.
    pub copied: bool,
    /// Why the server will never take it, if so.
    pub refused: Option<String>,
    /// The raw change; may be left out where `copied`.
    pub bytes: Option<Vec<u8>>,
}

/// One photo's entry on the device's disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LocalBlob {
    /// Its SHA-256.
    pub blob: BlobHash,
    /// How many bytes it has.
    pub size: u64,
    /// When its turn is.
    pub rank: Rank,
    /// Whether the server has it.
    pub copied: bool,
    /// Why the server will not take it, if so.
    pub refused: Option<String>,
}
