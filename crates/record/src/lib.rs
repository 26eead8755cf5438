//! The job's document: everything people did, saw and read in one job, with who entered it and when.
//!
//! A [`Record`] holds one job as a graph of changes. Each [`Edit`] is one act of a person and
//! becomes one change with its device, person, time and words; a change names the changes before it
//! by their SHA-256, so that nothing in the middle can be altered unseen. Devices exchange changes in
//! any order and any number of times and read the same [`inspection::Inspection`] from them.
//!
//! **All devices start from the creator's document.** [`Record::create`] writes the first change, the
//! job's beginning; every other device loads that change (or a whole saved record). Two records made
//! apart are two jobs and refuse each other's changes.
//!
//! What the graph does not prove by itself: device, person and time are claims of whoever wrote the
//! change, and a tail cut off at a change's end leaves a shorter but sound record. Sign the
//! [`Record::heads`] and keep them elsewhere.
//!
//! No clock, no files, and no randomness of consequence: the caller gives device, person and time,
//! and the same edits give the same bytes.

mod author;
mod chunk;
mod conflict;
mod edit;
mod error;
mod hash;
mod link;
mod make;
mod problem;
mod read;
mod receive;
mod record;
mod refusal;
mod schema;
mod trail;
mod words;
mod write;

pub use author::Author;
pub use conflict::{Conflict, ConflictingValue, Field};
pub use edit::Edit;
pub use error::RecordError;
pub use hash::Hash;
pub use link::Link;
pub use problem::Problem;
pub use receive::Received;
pub use record::Record;
pub use refusal::{Refusal, RefusalKind};
pub use trail::{Change, TrailEntry};
