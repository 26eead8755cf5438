//! What can go wrong, told apart by what the caller can do about it.

use std::{error::Error, fmt::Display, io, path::PathBuf};

use rusqlite::{ErrorCode, ffi};

use crate::JobId;

/// Why the store did not do what it was asked. Whatever it acknowledged before stays kept.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// No room: make some, then do it again.
    #[error(
        "the disk is full while {doing}; what was kept before is safe: make room and try again"
    )]
    Full {
        /// What was being done.
        doing: String,
    },
    /// Somebody else is writing: do it again later.
    #[error("another program keeps the store busy while {doing}; try again when it has finished")]
    Busy {
        /// What was being done.
        doing: String,
    },
    /// The disk gave back something other than what was written: restore it from a copy.
    #[error("damaged: {what}; restore it from a backup or from another device that has it")]
    Damaged {
        /// What is damaged, and how that shows.
        what: String,
    },
    /// The folder holds something else: choose another.
    #[error("{} is not a store of this program: {why}; name an empty or new folder", folder.display())]
    NotOurs {
        /// The folder asked for.
        folder: PathBuf,
        /// What was found there.
        why: String,
    },
    /// A later program wrote it: use that.
    #[error(
        "the store in {} has layout {found}, this program knows layouts up to {known}; use a newer version of the program",
        folder.display()
    )]
    Newer {
        /// The folder asked for.
        folder: PathBuf,
        /// The layout it has.
        found: u32,
        /// The newest layout this program knows.
        known: u32,
    },
    /// No such job is kept: create it first.
    #[error("no job \"{job}\" is kept here")]
    NoSuchJob {
        /// The job asked for.
        job: JobId,
    },
    /// The caller has read further than the store has kept, as after restoring an old backup:
    /// send everything again and read from the start.
    #[error(
        "job \"{job}\" ends at change {head_seq}, but change {after_seq} was said to be read already; \
         an older copy of the store may have been put back: read again from 0"
    )]
    CursorAhead {
        /// The job asked for.
        job: JobId,
        /// The cursor the caller gave.
        after_seq: u64,
        /// The last change kept.
        head_seq: u64,
    },
    /// The caller gave something that cannot be kept.
    #[error("{what}")]
    Refused {
        /// What is wrong with it and what is accepted.
        what: String,
    },
    /// Anything else the machine answered.
    #[error("{doing} did not work")]
    Io {
        /// What was being done.
        doing: String,
        /// What the machine answered.
        source: Box<dyn Error + Send + Sync>,
    },
}

/// The same failure, for one more of those who share a commit.
pub(crate) fn again(error: &StoreError) -> StoreError {
    match error {
        StoreError::Full { doing } => StoreError::Full { doing: doing.clone() },
        StoreError::Busy { doing } => StoreError::Busy { doing: doing.clone() },
        StoreError::Damaged { what } => StoreError::Damaged { what: what.clone() },
        StoreError::Refused { what } => StoreError::Refused { what: what.clone() },
        StoreError::Io { doing, source } => {
            StoreError::Io { doing: doing.clone(), source: source.to_string().into() }
        }
        other => StoreError::Io {
            doing: "appending for several devices".into(),
            source: other.to_string().into(),
        },
    }
}

/// Says what was being done when a call to the machine failed.
pub(crate) trait During<T> {
    /// Turns the failure into a [`StoreError`] that says what was being done.
    fn during(self, doing: impl Display) -> Result<T, StoreError>;
}

impl<T> During<T> for Result<T, io::Error> {
    fn during(self, doing: impl Display) -> Result<T, StoreError> {
        self.map_err(|source| {
            let doing = doing.to_string();
            match source.kind() {
                // A limit on the size of files or of a person's share is answered the same way.
                io::ErrorKind::StorageFull
                | io::ErrorKind::FileTooLarge
                | io::ErrorKind::QuotaExceeded => StoreError::Full { doing },
                _ => StoreError::Io { doing, source: source.into() },
            }
        })
    }
}

impl<T> During<T> for rusqlite::Result<T> {
    fn during(self, doing: impl Display) -> Result<T, StoreError> {
        self.map_err(|source| {
            let doing = doing.to_string();
            let damaged = |source: &rusqlite::Error| StoreError::Damaged {
                what: format!("{doing}: {source}"),
            };
            let Some(failure) = source.sqlite_error() else {
                return match source {
                    // The columns are typed by the schema: another type is damage.
                    rusqlite::Error::FromSqlConversionFailure(..)
                    | rusqlite::Error::IntegralValueOutOfRange(..)
                    | rusqlite::Error::InvalidColumnType(..)
                    | rusqlite::Error::Utf8Error(..) => damaged(&source),
                    _ => StoreError::Io { doing, source: source.into() },
                };
            };
            match (failure.code, failure.extended_code) {
                (ErrorCode::DiskFull, _) => StoreError::Full { doing },
                (ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked, _) => {
                    StoreError::Busy { doing }
                }
                // All that is inserted is made to fit the constraints; they only break over damage.
                (
                    ErrorCode::DatabaseCorrupt
                    | ErrorCode::NotADatabase
                    | ErrorCode::ConstraintViolation,
                    _,
                )
                | (_, ffi::SQLITE_IOERR_CORRUPTFS | ffi::SQLITE_IOERR_DATA) => damaged(&source),
                (ErrorCode::TooBig, _) => {
                    StoreError::Refused { what: format!("{doing}: too large to keep in one piece") }
                }
                _ => StoreError::Io { doing, source: source.into() },
            }
        })
    }
}
