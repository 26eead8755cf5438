//! The time of day, for codes that expire and for what is shown to people; nothing else rests on it.

use std::time::{SystemTime, UNIX_EPOCH};

/// Milliseconds since the start of 1970, universal time.
pub(crate) fn unix_ms() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    i64::try_from(since.as_millis()).unwrap_or(i64::MAX)
}
