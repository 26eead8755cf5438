//! What may be said of each item: kept here, copied there, and why not.

use crate::Refusal;

/// What is true of one change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// On its way to this device's disk: not kept yet.
    Writing,
    /// This device's disk did not take it; it is tried again, and is lost if the app ends before.
    NotKept {
        /// What storage said.
        why: String,
    },
    /// On this device's disk.
    Kept,
    /// It was on this device's disk, which does not give it any more; it is looked for again from time to time.
    Gone,
    /// On the server's disk.
    Copied,
    /// On this device's disk, and the server will not take it.
    Refused {
        /// The sentence for people.
        why: String,
    },
}

/// What is true of one photo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlobStanding {
    /// As for a change.
    pub standing: Standing,
    /// How many bytes it has.
    pub size: u64,
    /// How many of them the server has said it has.
    pub sent: u64,
}

/// How the device stands to the server.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Connection {
    /// The last exchange worked, or none was tried yet.
    Working,
    /// The last exchange failed.
    Waiting {
        /// When it is tried again, in the caller's milliseconds.
        until: u64,
    },
    /// The server shut this device out; nothing is sent until [`crate::Event::Paired`].
    ShutOut {
        /// Why.
        refusal: Refusal,
    },
}

/// One job at a glance.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct JobSummary {
    /// Changes that are not on this device's disk yet.
    pub writing: usize,
    /// Changes on this device's disk alone, refused ones included.
    pub only_here: usize,
    /// Those of them that the server will not take.
    pub refused: usize,
    /// Changes and photos that were on this device's disk, which does not give them any more.
    pub gone: usize,
    /// Changes on the server's disk.
    pub copied: usize,
    /// Photos on this device's disk alone.
    pub blobs_only_here: usize,
    /// Their bytes that the server has not got.
    pub bytes_only_here: u64,
    /// Photos that the server will not take.
    pub blobs_refused: usize,
    /// Photos on the server's disk.
    pub blobs_copied: usize,
    /// Changes on the server that are not on this device yet, as far as is known.
    pub behind: u64,
    /// Why the server did not take or give anything of this job, last time.
    pub trouble: Option<Refusal>,
}

impl JobSummary {
    /// Whether everything of the job that is on this device is on the server too.
    #[must_use]
    pub fn all_copied(&self) -> bool {
        self.writing == 0 && self.only_here == 0 && self.gone == 0 && self.blobs_only_here == 0
    }
}
