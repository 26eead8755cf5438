//! What a phone sends, what it keeps, and what it may call copied: the same rules on the phone, on
//! the server and in the simulator that tries to break them.
//!
//! Each job is an append-only log of changes, numbered without a gap. A device posts the changes it
//! has; a change's own hash is its identity, so a repeat is harmless. It reads what it lacks after
//! its [`Cursor`] and keeps cursor and changes in one local transaction. Photos are named by the
//! SHA-256 of their bytes and travel in pieces that resume where they stopped.
//!
//! - [`Replica`] is the device's side: [`Event`]s in, [`Effect`]s out.
//! - [`Keeper`] is the server's side of the change log: it decides what fits, numbers it, and answers
//!   only when the storage has said that it is on disk.
//! - [`wire`] is what goes over HTTP.
//!
//! Nothing here waits, writes, asks for the time or draws a random number: the caller passes the
//! time, as milliseconds that only ever go forward, and carries out the effects. No decision rests
//! on what a clock of another device says.

pub mod wire;

mod backoff;
mod base64;
mod dice;
mod hexadecimal;
mod id;
mod keeper;
pub mod limits;
mod refusal;
mod replica;

pub use id::{BlobHash, Cursor, IdError, JobId, Place, RequestId, WriteId};
pub use keeper::{Keeper, KeeperEffect, LoadedLog, Stored};
pub use record::{Hash, Link};
pub use refusal::Refusal;
pub use replica::{
    Batch, BlobStanding, Connection, Effect, Event, JobSummary, LocalBlob, LocalChange, LocalJob,
    LocalState, NewBlob, Rank, Replica, Standing, Write,
};
