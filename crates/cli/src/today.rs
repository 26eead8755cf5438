//! The day and the hour where this computer stands.

use inspection::Moment;
use jiff::civil::{Date, DateTime};
use jiff::{Timestamp, ZonedDateTime};

/// Today.
pub(crate) fn today() -> Date {
    ZonedDateTime::now().date()
}

/// Now, to the second, with the offset from universal time.
pub(crate) fn now() -> Moment {
    let now = ZonedDateTime::now();
    let local = now.datetime();
    let whole = DateTime::constant(
        local.year(),
        local.month(),
        local.day(),
        local.hour(),
        local.minute(),
        local.second(),
        0,
    );
    let offset_minutes = i16::try_from(now.offset().seconds() / 60).ok();
    Moment { local: whole, offset_minutes }
}

/// Now, in seconds since the start of 1970, universal time.
pub(crate) fn unix_seconds() -> i64 {
    Timestamp::now().as_second()
}

/// A moment in universal time as RFC 3339 writes it: `2026-06-12T18:00:00Z`.
pub(crate) fn in_universal_time(unix_seconds: i64) -> String {
    Timestamp::from_second(unix_seconds).unwrap_or_default().to_string()
}

/// A time as people write it: `09:40` on the given day, or with its date.
pub(crate) fn moment_on(day: Option<Date>, text: &str) -> Result<Moment, String> {
    let text = text.trim();
    let clock = text.len() <= 8 && text.contains(':');
    match (clock, day) {
        (false, None) => Moment::parse(text),
        (false, Some(_)) => Moment::parse(text).map_err(|_| {
            format!(
                "`{text}` is no time; write it like 09:40, or with its day like 2026-06-12T09:40"
            )
        }),
        (true, Some(day)) => {
            let padded =
                if text.find(':') == Some(1) { format!("0{text}") } else { text.to_owned() };
            Moment::parse(&format!("{day}T{padded}"))
                .map_err(|_| format!("`{text}` is no time of the day; write it like 09:40"))
        }
        (true, None) => Err(format!(
            "`{text}` has no date, and the job no day of a visit; write it like 2026-06-12T{text}"
        )),
    }
}
