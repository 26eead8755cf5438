//! How one change hangs on others, read from its bytes alone: enough to keep a job's log in order
//! without opening the job's document.

use crate::{
    Hash, Record, RecordError, RefusalKind,
    chunk::{self, Kind},
};

/// A change and what it hangs on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The change's name.
    pub hash: Hash,
    /// The changes before it; none for a job's beginning.
    pub deps: Vec<Hash>,
    /// The id of the device that made it.
    pub device: Vec<u8>,
    /// Which of that device's changes it is, from 1.
    pub device_seq: u64,
    /// The number of its first operation.
    pub first_operation: u64,
    /// The number of its last operation.
    pub last_operation: u64,
    /// The change itself.
    pub bytes: Vec<u8>,
}

impl Link {
    /// Reads changes that stand one after the other. Frame, checksum and content of each are checked;
    /// whether it fits the changes before it is not.
    ///
    /// # Errors
    /// A sentence that says which piece is wrong, and how.
    pub fn read(bytes: &[u8]) -> Result<Vec<Self>, RecordError> {
        chunk::chunks(bytes, 1)?
            .into_iter()
            .map(|chunk| match chunk.kind {
                Kind::Change => Record::read_change(chunk).map(|change| Self::of(&change)),
                Kind::Document => Err(RecordError::Refused(
                    RefusalKind::Unfit
                        .refusal("this is a whole saved record, where single changes are accepted"),
                )),
            })
            .collect()
    }

    fn of(change: &automerge::Change) -> Self {
        Self {
            hash: change.hash().into(),
            deps: change.deps().iter().map(|dep| Hash::from(*dep)).collect(),
            device: change.actor_id().to_bytes().to_vec(),
            device_seq: change.seq(),
            first_operation: change.start_op().get(),
            last_operation: change.max_op(),
            bytes: change.raw_bytes().to_vec(),
        }
    }
}
