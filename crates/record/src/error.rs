//! Why a record, a change or an edit was refused; one variant for each thing that a caller can do about it.

use crate::{Hash, Refusal, hash::listed};

/// Why a record, a change or an edit was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RecordError {
    /// No bytes at all: fetch the file again.
    #[error("the record is empty: no bytes were given")]
    Empty,
    /// Sound bytes, but no job's record: choose another file.
    #[error("this is no job's record: {found}\nhint: choose a file that Nearside saved")]
    NotARecord {
        /// What was found instead.
        found: String,
    },
    /// Bytes were altered, cut off or never sound: take another copy.
    #[error(
        "{place} is damaged: {trouble}\nhint: take another copy, from another device or a backup"
    )]
    Damaged {
        /// Which part.
        place: String,
        /// What is wrong with it.
        trouble: String,
    },
    /// Written by a newer version: update the program.
    #[error(
        "the record has schema {found}, written by a newer version; this version knows schemas up to {known}\nhint: update Nearside on this device"
    )]
    NewerSchema {
        /// The record's schema.
        found: u64,
        /// The newest schema known here.
        known: u64,
    },
    /// The change belongs to another job: give it to that job's record.
    #[error(
        "change {change} begins another job's record; this job's record begins with {beginning}"
    )]
    OtherJob {
        /// The change that was refused.
        change: Hash,
        /// This record's first change.
        beginning: Hash,
    },
    /// The job's first change is not there: load the creator's document first.
    #[error(
        "the job's first change is missing, so nothing can be read; {} other change(s) wait for {}\nhint: load the document of the device that made the job", .waiting, listed(.missing)
    )]
    NoBeginning {
        /// How many changes are there.
        waiting: usize,
        /// The changes they wait for.
        missing: Vec<Hash>,
    },
    /// Two different changes carry the same device and sequence number: one device must get a new id.
    #[error(
        "change {change} is number {sequence} of device {device}, but another change already is; two devices use one id, or a device was set back to an old copy\nhint: give the device a new id; its unsent work must be entered again"
    )]
    DeviceTwice {
        /// The device's id in hexadecimal.
        device: String,
        /// The sequence number used twice.
        sequence: u64,
        /// The change that was refused.
        change: Hash,
    },
    /// The edit cannot be made: say so to the person.
    #[error("{0}")]
    Refused(Refusal),
}

impl RecordError {
    pub(crate) fn damaged(place: impl Into<String>, trouble: impl std::fmt::Display) -> Self {
        Self::Damaged { place: place.into(), trouble: trouble.to_string() }
    }
}
