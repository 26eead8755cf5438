//! Why a server does not start or does not go on.

use std::{io, net::SocketAddr, path::PathBuf};

/// Why a server does not start or does not go on.
#[derive(Debug, thiserror::Error)]
pub enum ServerError {
    /// The data folder cannot be used.
    #[error(transparent)]
    Store(#[from] store::StoreError),
    /// The address cannot be listened at.
    #[error("{at} cannot be listened at: {source}")]
    Address {
        /// The address.
        at: SocketAddr,
        /// What the system said.
        source: io::Error,
    },
    /// A certificate or key cannot be read or made.
    #[error("{}: {why}", file.display())]
    Certificate {
        /// The file.
        file: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// No random numbers, no threads: the system does not give what a server needs.
    #[error("{doing} did not work: {why}")]
    System {
        /// What was being done.
        doing: &'static str,
        /// What the system said.
        why: String,
    },
}
