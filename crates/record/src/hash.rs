//! The SHA-256 that names a change.

use automerge::ChangeHash;

/// The SHA-256 that names a change, over its content and the changes before it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash(pub [u8; 32]);

impl std::fmt::Display for Hash {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.iter().try_for_each(|byte| write!(formatter, "{byte:02x}"))
    }
}

impl std::fmt::Debug for Hash {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "Hash({self})")
    }
}

impl From<ChangeHash> for Hash {
    fn from(hash: ChangeHash) -> Self {
        Self(hash.0)
    }
}

impl From<Hash> for ChangeHash {
    fn from(hash: Hash) -> Self {
        Self(hash.0)
    }
}

impl From<Hash> for inspection::ChangeHash {
    fn from(hash: Hash) -> Self {
        Self(hash.to_string())
    }
}

/// Several hashes as a list in words.
pub(crate) fn listed(hashes: &[Hash]) -> String {
    hashes.iter().map(Hash::to_string).collect::<Vec<_>>().join(", ")
}
