//! The store as its callers meet it: what it keeps, what it notices, what it survives.

#![allow(
    clippy::disallowed_methods,
    reason = "these tests read files, stop processes and hand them settings"
)]
#![allow(clippy::unwrap_used, reason = "the tests' own helpers fail like the tests themselves")]

mod backup;
mod blobs;
mod changes;
mod child;
mod damage;
mod devices;
mod faults;
mod folder;
mod full_disk;
mod index;
mod invoices;
mod jobs;
mod killed;
mod log;
#[cfg(target_os = "linux")]
mod power_cut;
mod two_writers;
mod uploads;
#[cfg(target_os = "linux")]
mod write_ahead;
