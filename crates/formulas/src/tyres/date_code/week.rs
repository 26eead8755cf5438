//! The calendar that tyre date codes count in.

use std::fmt;

use jiff::{Span, civil::Date};

/// One week, Sunday to Saturday.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TyreWeek {
    /// Its Sunday.
    pub first_day: Date,
    /// Its Saturday.
    pub last_day: Date,
}

impl TyreWeek {
    /// A week of a year, where 1 is the first that lies in the year from Sunday to Saturday; none if
    /// its Sunday lies outside the year.
    #[must_use]
    pub fn of(year: i16, week: u8) -> Option<Self> {
        let new_year = Date::new(year, 1, 1).ok()?;
        let to_sunday = (7 - i64::from(new_year.weekday().to_sunday_zero_offset())) % 7;
        let days = to_sunday + 7 * (i64::from(week) - 1);
        let first_day = new_year.checked_add(Span::new().days(days)).ok()?;
        let last_day = first_day.checked_add(Span::new().days(6)).ok()?;
        (first_day.year() == year).then_some(Self { first_day, last_day })
    }
}

impl fmt::Display for TyreWeek {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} to {}", self.first_day, self.last_day)
    }
}
