//! One file of a bag: its path, its hash, and its bytes if they are at hand.

use crate::Sha256;

/// One file of a bag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Where it lies, from the bag's folder on, with `/` between folders.
    pub path: String,
    /// Its hash.
    pub sha256: Sha256,
    /// How many bytes it has.
    pub size: u64,
    /// Its bytes; none for a file that the caller fetches by its hash when it is wanted, as with photos.
    pub bytes: Option<Vec<u8>>,
}

impl File {
    /// A file whose bytes are at hand.
    #[must_use]
    pub fn new(path: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Self {
        let bytes = bytes.into();
        Self {
            path: path.into(),
            sha256: Sha256::of(&bytes),
            size: u64::try_from(bytes.len()).unwrap_or(u64::MAX),
            bytes: Some(bytes),
        }
    }

    /// A file whose bytes the caller keeps under their hash.
    #[must_use]
    pub fn kept(path: impl Into<String>, sha256: Sha256, size: u64) -> Self {
        Self { path: path.into(), sha256, size, bytes: None }
    }
}
