//! What happens to a device, and what it is to do.

use record::Hash;

use super::{Batch, Rank};
use crate::{
    BlobHash, JobId, Refusal, RequestId, WriteId,
    wire::{Poke, Request, Response},
};

/// Something that happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Event {
    /// A person did something: these changes, from [`record::Change::bytes`], belong to a job, with
    /// photos whose bytes the app has just made durable. All are kept together.
    Edited {
        /// The job.
        job: JobId,
        /// The raw changes, each after those it names.
        changes: Vec<Vec<u8>>,
        /// The photos.
        blobs: Vec<NewBlob>,
    },
    /// The person opened a job that is on the server: keep it here from now on.
    Followed {
        /// The job.
        job: JobId,
    },
    /// A batch is durable on this device.
    Written {
        /// Which one.
        write: WriteId,
    },
    /// A batch is not; storage is as before.
    NotWritten {
        /// Which one.
        write: WriteId,
        /// What storage said.
        why: String,
    },
    /// The server answered.
    Answered {
        /// What was asked.
        request: RequestId,
        /// What it said.
        answer: Result<Response, Refusal>,
    },
    /// No answer came: the line is down.
    Unanswered {
        /// What was asked.
        request: RequestId,
    },
    /// A piece of a photo was read from this device's disk; none if it is not there.
    BlobRead {
        /// The request that it is for.
        request: RequestId,
        /// The piece, in full length.
        bytes: Option<Vec<u8>>,
    },
    /// This device's disk failed while a photo was read, so that nobody knows whether it is there; it is read again
    /// later, and other photos go first.
    BlobNotRead {
        /// The request that it was for.
        request: RequestId,
    },
    /// Changes were read from this device's disk.
    ChangesRead {
        /// The job.
        job: JobId,
        /// Those that are there.
        changes: Vec<Vec<u8>>,
    },
    /// This device's disk failed while changes were read; they are read again later.
    ChangesNotRead {
        /// The job.
        job: JobId,
    },
    /// The server said that there is something new.
    Poked {
        /// What it said.
        poke: Poke,
    },
    /// From now on pokes are heard; what was said before was missed.
    Listening,
    /// The line is back, or the person asks to try now.
    Online,
    /// The device was paired, again or at first.
    Paired,
    /// Time has passed.
    Tick,
}

/// A photo whose bytes are on this device's disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NewBlob {
    /// Its SHA-256.
    pub blob: BlobHash,
    /// How many bytes it has.
    pub size: u64,
    /// When its turn is.
    pub rank: Rank,
}

/// Something to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Effect {
    /// Carry out the batch in one durable transaction (in a browser: `durability: "strict"`), then
    /// tell [`Event::Written`] or [`Event::NotWritten`]. There is never more than one at a time.
    Write {
        /// Which one.
        write: WriteId,
        /// The writes.
        batch: Batch,
    },
    /// Send this, then tell [`Event::Answered`] or [`Event::Unanswered`].
    Send {
        /// Which one.
        request: RequestId,
        /// What to send.
        message: Request,
    },
    /// Read a piece of a photo from this device's disk, then tell [`Event::BlobRead`] or [`Event::BlobNotRead`].
    ReadBlob {
        /// Which one.
        request: RequestId,
        /// The photo.
        blob: BlobHash,
        /// Where the piece starts.
        offset: u64,
        /// How many bytes it has.
        length: u64,
    },
    /// Read these changes from this device's disk, then tell [`Event::ChangesRead`] or [`Event::ChangesNotRead`].
    ReadChanges {
        /// The job.
        job: JobId,
        /// Which ones.
        hashes: Vec<Hash>,
    },
    /// These changes of other devices are on this device's disk: give them to the job's
    /// [`record::Record`], in this order.
    Arrived {
        /// The job.
        job: JobId,
        /// The raw changes.
        changes: Vec<Vec<u8>>,
    },
    /// The server has a job that is not on this device.
    Discovered {
        /// The job.
        job: JobId,
        /// One line for lists.
        summary: String,
    },
    /// What [`super::Replica`] says of this job's items may have changed.
    Changed {
        /// The job.
        job: JobId,
    },
    /// The server shut this device out: say so, and offer to pair it again.
    ShutOut {
        /// Why.
        refusal: Refusal,
    },
}
