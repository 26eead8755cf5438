//! Bytes by id, kept so that nothing acknowledged is lost: the change log of each job and the
//! files (photos, renditions, reports) named by what is in them.
//!
//! The store knows nothing of inspections. One data folder holds
//!
//! ```text
//! store.sqlite    jobs, their changes in order, which blobs are kept, invoices, a few settings
//! store.lock      held (shared) by every open handle, alone by whoever sets up or sweeps
//! blobs/ab/abcd…  one file a blob, named by the SHA-256 of its bytes
//! uploads/        blobs that arrive in pieces; what is there is gone on with
//! incoming/       blobs being written; what a crash leaves here is swept at the next lone open
//! arriving/       a copy on its way into this folder, as when a backup is made; arrived/ once it is whole
//! archive/        what was worked out from the jobs to find it quickly; may be deleted ([`index`])
//! ```
//!
//! What a method has answered is on disk: the database writes ahead with full synchronization,
//! and a blob's file and folder are flushed before its row is written. Everything read back is
//! checked against a SHA-256 first; what does not match is reported, never returned.
//!
//! A [`Store`] is one handle for one thread at a time. Any number of handles, in any number of
//! processes on one machine, may have the same folder open. The folder must not be on a network
//! file system: write-ahead logging shares memory between the processes (SQLite documentation,
//! "Write-Ahead Logging", §1).
//!
//! One kind of damage looks like an earlier state instead of an error: a bit that rots in the
//! write-ahead file itself ends that file for SQLite, with all that follows. The file is short,
//! young and gone after a clean close; backups and the copies on other devices answer for it.

#![allow(
    clippy::disallowed_methods,
    reason = "this crate is the edge: it reads and writes files and stamps rows with the time"
)]

mod backup;
mod blob;
mod change;
mod client_link;
mod clock;
mod companions;
mod device;
mod error;
mod folder;
mod handle;
mod id;
pub mod index;
mod invoice;
mod job;
mod log;
mod mend;
mod row_seal;
mod schema;
mod sealed_file;
mod setting;
#[cfg(test)]
mod tests;
mod upload;
mod verify;
mod writer;

pub use backup::{BackedUp, BackupOrder, EarlierBlobs};
pub use blob::StoredBlob;
pub use change::{Appended, Chunk, StoredChange};
pub use client_link::{ClientFile, LeadsTo, NewClientLink, StoredClientLink};
pub use companions::Companion;
pub use device::{NewDevice, Pairing, StoredDevice};
pub use error::StoreError;
pub use handle::Store;
pub use id::{JobId, Sha256Hex};
pub use invoice::{InvoiceId, NewInvoice, Payment, StoredInvoice};
pub use job::{LogHead, StoredJob};
pub use log::{AppendedAfter, LogPage, Place};
pub use sealed_file::SealedFile;
pub use upload::Upload;
pub use verify::{Fault, Progress};
pub use writer::{Told, Writer};
