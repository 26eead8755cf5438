//! A date that may be known to the month only.

use std::fmt;

use jiff::civil::Date;

/// A day, or a whole month where the day is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CalendarDate {
    /// First day it can mean.
    pub first: Date,
    /// Last day it can mean.
    pub last: Date,
}

impl CalendarDate {
    /// Reads `2026-11-25` or `2026-11`.
    ///
    /// # Errors
    /// A sentence that says what is accepted.
    pub fn parse(text: &str) -> Result<Self, String> {
        let refuse = || {
            format!(
                "`{text}` is no date; write it like 2026-11-25, or 2026-11 where the day is not known"
            )
        };
        let text = text.trim();
        let digits = |part: &str, count: usize| {
            part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit())
        };
        let parts: Vec<&str> = text.split('-').collect();
        match parts.as_slice() {
            [year, month, day] if digits(year, 4) && digits(month, 2) && digits(day, 2) => {
                text.parse().map(Self::day).map_err(|_| refuse())
            }
            [year, month] if digits(year, 4) && digits(month, 2) => {
                let first: Date = format!("{text}-01").parse().map_err(|_| refuse())?;
                Ok(Self { first, last: first.last_of_month() })
            }
            _ => Err(refuse()),
        }
    }

    /// A known day.
    #[must_use]
    pub fn day(day: Date) -> Self {
        Self { first: day, last: day }
    }
}

impl fmt::Display for CalendarDate {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.first == self.last {
            write!(formatter, "{}", self.first)
        } else {
            write!(formatter, "{:04}-{:02}", self.first.year(), self.first.month())
        }
    }
}
