//! The time of an act, as the app's clock says it: nothing here asks a clock.

use inspection::Moment;
use jiff::SignedDuration;

/// The present moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Now {
    /// Seconds since 1970-01-01 00:00 UTC.
    pub unix_seconds: i64,
    /// The same as local time with its offset.
    pub moment: Moment,
}

impl Now {
    /// Seconds since 1970-01-01 00:00 UTC of a moment. One without offset is taken as local time here and now.
    #[must_use]
    pub fn unix_seconds_of(self, moment: Moment) -> i64 {
        let local = self.moment.local.duration_until(moment.local).as_secs();
        let here = i64::from(self.moment.offset_minutes.unwrap_or(0));
        let there = moment.offset_minutes.map_or(here, i64::from);
        self.unix_seconds.saturating_add(local).saturating_sub((there - here) * 60)
    }
}

/// The moment some minutes later; the same one where the calendar ends.
pub(crate) fn minutes_after(moment: Moment, minutes: u32) -> Moment {
    let later = SignedDuration::from_mins(i64::from(minutes));
    Moment { local: moment.local.checked_add(later).unwrap_or(moment.local), ..moment }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    #[test]
    fn moments_of_two_offsets_lie_on_one_line_of_time() {
        let now = Now { unix_seconds: 1_781_190_000, moment: at("2026-06-11T11:00:00-04:00") };
        assert_eq!(now.unix_seconds_of(now.moment), now.unix_seconds);
        assert_eq!(now.unix_seconds_of(at("2026-06-11T15:10:00Z")), now.unix_seconds + 600);
        assert_eq!(now.unix_seconds_of(at("2026-06-11T11:10:00")), now.unix_seconds + 600);
        assert_eq!(minutes_after(now.moment, 90), at("2026-06-11T12:30:00-04:00"));
    }
}
