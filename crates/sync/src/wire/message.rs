//! The messages themselves.

use record::{Hash, Link};
use serde::{Deserialize, Serialize, de::DeserializeOwned};

use crate::{BlobHash, Cursor, JobId, Refusal, limits};

/// Why bytes are no such message.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct JsonError(String);

impl From<JsonError> for Refusal {
    fn from(error: JsonError) -> Self {
        Self::Unreadable { why: error.0 }
    }
}

fn to_json(message: &impl Serialize) -> Vec<u8> {
    serde_json::to_vec(message).expect("messages are strings, numbers and lists")
}

fn from_json<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, JsonError> {
    if bytes.len() > limits::BODY_BYTES {
        return Err(JsonError(format!(
            "the body has {} bytes; at most {} are accepted",
            bytes.len(),
            limits::BODY_BYTES
        )));
    }
    serde_json::from_slice(bytes).map_err(|error| JsonError(error.to_string()))
}

macro_rules! json {
    ($($message:ty),*) => { $(
        impl $message {
            /// As a JSON body.
            #[must_use]
            pub fn to_json(&self) -> Vec<u8> {
                to_json(self)
            }

            /// From a JSON body.
            pub fn from_json(bytes: &[u8]) -> Result<Self, JsonError> {
                from_json(bytes)
            }
        }
    )* };
}

json!(Push, Pushed, Page, Heads, Poke, UploadState, BlobList, Refusal);

/// Changes of one job, each after those it names that are not on the server yet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Push {
    /// The raw changes.
    #[serde(with = "super::changes")]
    pub changes: Vec<Vec<u8>>,
}

impl Push {
    /// Checks every limit and every change's checksum, and reads what each hangs on.
    pub fn read(&self) -> Result<Vec<Link>, Refusal> {
        if self.changes.is_empty() {
            return Err(Refusal::Unreadable { why: "no changes were sent".into() });
        }
        if self.changes.len() > limits::PUSH_CHANGES {
            return Err(Refusal::TooLarge {
                why: format!(
                    "{} changes at once; at most {} are accepted",
                    self.changes.len(),
                    limits::PUSH_CHANGES
                ),
            });
        }
        read_changes(&self.changes)
    }
}

/// Reads raw changes; each must be one whole change.
pub(crate) fn read_changes(changes: &[Vec<u8>]) -> Result<Vec<Link>, Refusal> {
    changes
        .iter()
        .map(|bytes| {
            if bytes.len() > limits::CHANGE_BYTES {
                return Err(Refusal::TooLarge {
                    why: format!(
                        "a change of {} bytes; at most {} are accepted",
                        bytes.len(),
                        limits::CHANGE_BYTES
                    ),
                });
            }
            let mut links = Link::read(bytes)
                .map_err(|error| Refusal::Unreadable { why: error.to_string() })?;
            match (links.pop(), links.is_empty()) {
                (Some(link), true) if link.deps.len() <= limits::CHANGE_DEPS => Ok(link),
                (Some(link), true) => Err(Refusal::TooLarge {
                    why: format!(
                        "a change that names {} before it; at most {} are accepted",
                        link.deps.len(),
                        limits::CHANGE_DEPS
                    ),
                }),
                _ => Err(Refusal::Unreadable { why: "each entry takes exactly one change".into() }),
            }
        })
        .collect()
}

/// Where a change stands in the log, for good.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kept {
    /// Which change.
    #[serde(with = "super::hash")]
    pub hash: Hash,
    /// Its number.
    pub seq: u64,
}

/// Everything that was sent is on the server's disk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pushed {
    /// The number of the log's last change that is on disk.
    pub head: u64,
    /// [`Cursor::chain`] just before the lowest of `kept`. Whoever has read up to there need not read
    /// these back.
    #[serde(with = "super::hash")]
    pub before: Hash,
    /// Each change that was sent, with its number.
    pub kept: Vec<Kept>,
}

/// A stretch of a job's log.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Page {
    /// The number after which it begins: the first change is number `after` + 1, and so on without
    /// a gap.
    pub after: u64,
    /// The number of the log's last change.
    pub head: u64,
    /// The raw changes.
    #[serde(with = "super::changes")]
    pub changes: Vec<Vec<u8>>,
}

/// How far one job's log goes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// The job.
    pub job: JobId,
    /// The number of its last change.
    pub head: u64,
    /// One line for lists.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub summary: String,
}

/// The jobs that a device may see.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Heads {
    /// By id.
    pub jobs: Vec<Head>,
}

/// "Job X is at number N": wakes a device and carries nothing else; its loss is harmless.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Poke {
    /// The job.
    pub job: JobId,
    /// The number of its last change.
    pub head: u64,
}

/// How far an upload is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct UploadState {
    /// So many bytes are there, from the beginning; the next piece starts here.
    pub offset: u64,
    /// Whether all of it is there, has the right SHA-256 and is on disk.
    pub stored: bool,
}

/// Photos by name: those asked after, and in answer those of them that the server lacks.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct BlobList {
    /// Their SHA-256.
    pub blobs: Vec<BlobHash>,
}

/// What a device asks of the server.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Request {
    /// Keep these changes.
    Push {
        /// The job.
        job: JobId,
        /// The changes.
        push: Push,
    },
    /// What comes after the cursor?
    Pull {
        /// The job.
        job: JobId,
        /// How far it was read.
        after: Cursor,
    },
    /// How far does each job go?
    Heads,
    /// How far is this upload? Begins it if it is new.
    OpenUpload {
        /// The job that it belongs to.
        job: JobId,
        /// Its SHA-256.
        blob: BlobHash,
        /// How many bytes it has.
        size: u64,
    },
    /// Which of these photos are not there?
    MissingBlobs {
        /// The job that they belong to.
        job: JobId,
        /// At most [`limits::MISSING_BLOBS`].
        list: BlobList,
    },
    /// Keep this piece.
    Piece {
        /// The job that it belongs to.
        job: JobId,
        /// The SHA-256 of the whole.
        blob: BlobHash,
        /// How many bytes the whole has.
        size: u64,
        /// Where the piece starts.
        offset: u64,
        /// The piece.
        bytes: Vec<u8>,
    },
}

/// What the server answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Response {
    /// To [`Request::Push`].
    Pushed(Pushed),
    /// To [`Request::Pull`].
    Page(Page),
    /// To [`Request::Heads`].
    Heads(Heads),
    /// To [`Request::MissingBlobs`].
    MissingBlobs(BlobList),
    /// To [`Request::OpenUpload`] and [`Request::Piece`].
    Upload(UploadState),
}
