//! The names of things: jobs, photos, places in a log, requests and writes.

use record::Hash;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::hexadecimal;

/// A job's id: 1 to 64 letters, digits, `-` or `_`, so that it may stand in an address as it is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct JobId(String);

/// Why a text is no id.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{text:?} is no {what}; it takes {accepted}")]
pub struct IdError {
    text: String,
    what: &'static str,
    accepted: &'static str,
}

impl JobId {
    /// Takes `text` as an id if it is one.
    pub fn new(text: &str) -> Result<Self, IdError> {
        let fits = (1..=64).contains(&text.len())
            && text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"-_".contains(&byte));
        if fits {
            Ok(Self(text.to_owned()))
        } else {
            Err(IdError {
                text: text.chars().take(80).collect(),
                what: "job id",
                accepted: "1 to 64 letters a to z, digits, \"-\" or \"_\"",
            })
        }
    }

    /// The id as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for JobId {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl TryFrom<String> for JobId {
    type Error = IdError;

    fn try_from(text: String) -> Result<Self, IdError> {
        Self::new(&text)
    }
}

impl From<JobId> for String {
    fn from(job: JobId) -> Self {
        job.0
    }
}

/// The SHA-256 (FIPS 180-4) of a photo's or another file's bytes: its name.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct BlobHash(pub [u8; 32]);

impl BlobHash {
    /// Takes `text` as a hash if it is one.
    pub fn new(text: &str) -> Result<Self, IdError> {
        hexadecimal::read(text).map(Self).ok_or_else(|| IdError {
            text: text.chars().take(80).collect(),
            what: "SHA-256",
            accepted: "64 hexadecimal digits 0 to 9, a to f",
        })
    }
}

impl std::fmt::Display for BlobHash {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        Hash(self.0).fmt(formatter)
    }
}

impl std::fmt::Debug for BlobHash {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "BlobHash({self})")
    }
}

impl TryFrom<String> for BlobHash {
    type Error = IdError;

    fn try_from(text: String) -> Result<Self, IdError> {
        Self::new(&text)
    }
}

impl From<BlobHash> for String {
    fn from(hash: BlobHash) -> Self {
        hash.to_string()
    }
}

/// How far a job's log was read: the number of the last change, and a digest of all up to it.
///
/// The digest makes a log that was put back from an old copy, and then grew another way, show at once.
/// The last change's own hash would not do: the same change may stand at the same number after
/// others than before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cursor {
    /// The number of the last change read; 0 before the first.
    pub seq: u64,
    /// SHA-256 over the digest before and the change's hash; all zeros before the first.
    pub chain: Hash,
}

impl Cursor {
    /// Before the first change.
    pub const START: Self = Self { seq: 0, chain: Hash([0; 32]) };

    /// One change further.
    #[must_use]
    pub fn then(self, change: &Hash) -> Self {
        let digest = Sha256::new().chain_update(self.chain.0).chain_update(change.0).finalize();
        Self { seq: self.seq + 1, chain: Hash(digest.into()) }
    }
}

impl Default for Cursor {
    fn default() -> Self {
        Self::START
    }
}

/// Where a log ends: the number of its last change and its hash; number 0 and zeros if it is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// The number.
    pub seq: u64,
    /// The change's hash.
    pub hash: Hash,
}

impl Place {
    /// An empty log's end.
    pub const START: Self = Self { seq: 0, hash: Hash([0; 32]) };
}

/// Tells one request from another; never used twice by one [`crate::Replica`] or one server.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RequestId(pub u64);

/// Tells one write to storage from another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WriteId(pub u64);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_ids_that_may_stand_in_an_address_are_jobs() {
        assert_eq!(JobId::new("2026-041_b").unwrap().as_str(), "2026-041_b");
        for wrong in ["", "a b", "a/b", "ä", "..", &"x".repeat(65)] {
            assert!(JobId::new(wrong).is_err(), "{wrong}");
        }
        assert_eq!(
            JobId::new("a/b").unwrap_err().to_string(),
            "\"a/b\" is no job id; it takes 1 to 64 letters a to z, digits, \"-\" or \"_\""
        );
    }

    #[test]
    fn a_blobs_name_is_written_and_read_back() {
        let hash = BlobHash([0xa5; 32]);
        assert_eq!(BlobHash::new(&hash.to_string()).unwrap(), hash);
        assert!(BlobHash::new("a5").is_err());
    }
}
