//! Why the archive did not answer.

use store::StoreError;

/// Why the archive did not answer. The jobs are not touched by any of it.
#[derive(Debug, thiserror::Error)]
pub enum ArchiveError {
    /// Nothing to search for.
    #[error("there is no word to search for; type one of at least one letter or digit")]
    NoWords,
    /// More to search for than is sensible.
    #[error("{found} words to search for; at most {most} are accepted")]
    TooManyWords {
        /// How many there were.
        found: usize,
        /// How many may be.
        most: usize,
    },
    /// What was worked out before cannot be read any more: work it out anew.
    #[error(
        "what was worked out from the jobs cannot be read: {what}; the jobs themselves are safe, and `nearside archive rebuild` works it out anew"
    )]
    Damaged {
        /// What is damaged, and how that shows.
        what: String,
    },
    /// A file could not be read or written.
    #[error("a file of the archive could not be read or written: {0}")]
    Disk(std::io::Error),
    /// The store did not do what it was asked.
    #[error(transparent)]
    Store(StoreError),
}

impl From<StoreError> for ArchiveError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Damaged { what } => Self::Damaged { what },
            other => Self::Store(other),
        }
    }
}
