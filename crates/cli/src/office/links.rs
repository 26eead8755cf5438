//! Addresses that nobody can guess: a new secret, and what the client is told.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use store::{ClientFile, JobId, LeadsTo, NewClientLink, Store};

use crate::failure::Failure;

const DAY_MS: i64 = 86_400_000;

/// A new address.
pub(crate) struct Address {
    pub(crate) address: String,
    pub(crate) expires_ms: i64,
}

/// The address of the server that was started on this folder.
pub(crate) fn server_address(store: &Store) -> Result<String, Failure> {
    server::remembered_address(store)?.ok_or_else(|| {
        Failure::input("no server was started on this folder yet, so there is no address to give")
            .hint("start one where the client can reach it: nearside serve --at HOST:PORT")
    })
}

/// Keeps a link and gives its address, which is known nowhere else.
pub(crate) fn new(
    store: &Store,
    job: &JobId,
    leads_to: LeadsTo,
    days: u16,
    files: &[ClientFile],
) -> Result<Address, Failure> {
    let server = server_address(store)?;
    let mut secret = [0; 24];
    getrandom::fill(&mut secret)
        .map_err(|error| Failure::failed(format!("no random numbers on this machine: {error}")))?;
    let now_ms = Timestamp::now().as_millisecond();
    let expires_ms = now_ms + i64::from(days) * DAY_MS;
    store.add_client_link(NewClientLink {
        secret_sha256: server::client_secret_sha256(secret),
        job,
        leads_to,
        now_ms,
        expires_ms,
        files,
    })?;
    let address = match leads_to {
        LeadsTo::Page { .. } => server::client_address(&server, secret),
        LeadsTo::Agreement => server::agreement_address(&server, secret),
    };
    Ok(Address { address, expires_ms })
}

/// A time as people here write it.
pub(crate) fn time(unix_ms: i64) -> String {
    let at = Timestamp::from_millisecond(unix_ms).unwrap_or(Timestamp::UNIX_EPOCH);
    at.to_zoned_datetime(TimeZone::system()).strftime("%Y-%m-%d %H:%M").to_string()
}
