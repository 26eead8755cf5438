//! The time stamped on rows, for people to read; nothing is ordered or decided by it.

use std::time::{SystemTime, UNIX_EPOCH};

/// Milliseconds since the start of 1970 in universal time, negative before.
pub(crate) fn unix_milliseconds() -> i64 {
    let signed = |milliseconds: u128| i64::try_from(milliseconds).unwrap_or(i64::MAX);
    match SystemTime::now().duration_since(UNIX_EPOCH) {
        Ok(since) => signed(since.as_millis()),
        Err(before) => -signed(before.duration().as_millis()),
    }
}
