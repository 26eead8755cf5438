//! Why a server did not do what a device asked: one case for each thing that the device does about it.

use record::Hash;
use serde::{Deserialize, Serialize};

/// Why a server did not do what a device asked. Whatever the case, what the device has stays there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(tag = "reason", rename_all = "snake_case")]
pub enum Refusal {
    /// Pair the device first.
    #[error("this device is not paired with the server; pair it, nothing on it is lost")]
    NotPaired,
    /// The device's key was removed: it sends nothing more until it is paired again.
    #[error("this device was removed from the server; what is not copied yet stays on it")]
    DeviceRemoved,
    /// There is no such job, or not for this device.
    #[error("the server has no such job for this device")]
    NoSuchJob,
    /// Changes before those that were sent are not in the server's log: send them first.
    #[error("{} change(s) before those sent are not on the server yet", .missing.len())]
    MissingChanges {
        /// Which ones.
        #[serde(with = "crate::wire::hashes")]
        missing: Vec<Hash>,
    },
    /// At the device's cursor stands another change, or none: the log was put back from an older
    /// copy. Read from the start and offer everything again.
    #[error("the server's log is not the one this device has read; everything is compared again")]
    OtherLog {
        /// The number of the log's last change.
        head: u64,
    },
    /// This change will never fit: it stays on the device, and so does what builds on it.
    #[error("change {change} does not fit: {why}")]
    ChangeRefused {
        /// Which change.
        #[serde(with = "crate::wire::hash")]
        change: Hash,
        /// What is wrong with it.
        why: String,
    },
    /// What arrived is not what was sent, or is no such message: send it again.
    #[error("what arrived could not be read: {why}")]
    Unreadable {
        /// What is wrong with it.
        why: String,
    },
    /// Too large: a limit of [`crate::limits`] is passed.
    #[error("too large: {why}")]
    TooLarge {
        /// What is too large, and what is accepted.
        why: String,
    },
    /// The upload stands elsewhere: go on from there.
    #[error("the upload stands at byte {offset}")]
    WrongOffset {
        /// How many bytes the server has.
        offset: u64,
    },
    /// All pieces are there, but the whole has another SHA-256: begin again.
    #[error("what arrived of the photo has another SHA-256 than its name")]
    BlobDamaged,
    /// Come back later.
    #[error("the server is busy; this is tried again by itself")]
    Busy {
        /// In how many milliseconds, at the earliest.
        retry_after_ms: u64,
    },
    /// The server has no room: a person must make some.
    #[error("the server's disk is full; what is on this device stays there")]
    ServerFull,
    /// The server could not do it, or is newer and says something this version does not know.
    #[error("the server could not do it; this is tried again by itself")]
    #[serde(other)]
    Other,
}

impl Refusal {
    /// The HTTP status (RFC 9110, section 15) that goes with it.
    #[must_use]
    pub fn status(&self) -> u16 {
        match self {
            Self::NotPaired => 401,
            Self::DeviceRemoved => 403,
            Self::NoSuchJob => 404,
            Self::MissingChanges { missing: _ }
            | Self::OtherLog { head: _ }
            | Self::WrongOffset { offset: _ } => 409,
            Self::ChangeRefused { change: _, why: _ } | Self::BlobDamaged => 422,
            Self::Unreadable { why: _ } => 400,
            Self::TooLarge { why: _ } => 413,
            Self::Busy { retry_after_ms: _ } => 503,
            Self::ServerFull => 507,
            Self::Other => 500,
        }
    }
}
