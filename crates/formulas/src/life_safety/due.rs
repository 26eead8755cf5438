//! Due dates by the month.

use jiff::{Span, civil::Date};

use crate::{CalendarDate, Problem};

/// Where a day stands before a due date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// More than a year is left.
    Within,
    /// Due within twelve months, not this month.
    LastYear,
    /// Due in this month.
    ThisMonth,
    /// The month is over.
    Past,
}

/// The last day of a life, or of the time until a service.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Due {
    /// Its last day: that of the month, where only a month is printed.
    pub last_day: Date,
    /// Calendar months from that of the visit to that of the last day; negative once it is past.
    pub months_left: i32,
    /// Where the visit stands before it.
    pub state: State,
}

impl Due {
    /// What is due on a printed date, seen on a day; a month that is printed means its last day.
    #[must_use]
    pub fn by(printed: CalendarDate, on: CalendarDate) -> Self {
        let last_day = printed.last;
        let months_left = months(on.last, last_day);
        let state = if last_day < on.first {
            State::Past
        } else if months_left <= 0 {
            State::ThisMonth
        } else if months_left <= 12 {
            State::LastYear
        } else {
            State::Within
        };
        Self { last_day, months_left, state }
    }

    /// What is due so many months after a date, through the end of that month; a date known to the month
    /// or year counts from its first day.
    ///
    /// # Errors
    /// [`Problem::Input`] if the date lies after the visit, or the due date outside the calendar.
    pub fn after(
        name: &str,
        from: CalendarDate,
        months: i16,
        on: CalendarDate,
    ) -> Result<Self, Problem> {
        if from.first > on.last {
            return Err(Problem::input(
                name,
                format!("{from} lies after the day of the inspection; re-read it"),
            ));
        }
        let month = from
            .first
            .checked_add(Span::new().months(months))
            .map_err(|_| Problem::input(name, "is too far from any calendar"))?;
        let printed = CalendarDate { first: month.first_of_month(), last: month.last_of_month() };
        Ok(Self::by(printed, on))
    }

    /// The month, as it is printed: `2026-10`.
    pub(super) fn month(&self) -> String {
        format!("{:04}-{:02}", self.last_day.year(), self.last_day.month())
    }
}

/// Calendar months from one day's to another's.
fn months(from: Date, to: Date) -> i32 {
    let count = |day: Date| i32::from(day.year()) * 12 + i32::from(day.month());
    count(to) - count(from)
}

#[cfg(test)]
mod tests {
    use super::{Due, State};
    use crate::CalendarDate;

    fn date(text: &str) -> CalendarDate {
        CalendarDate::parse(text).unwrap()
    }

    #[test]
    fn a_printed_day_counts_through_that_day_and_a_month_through_its_last() {
        for (printed, on, state, months) in [
            ("2026-05", "2024-05-31", State::Within, 24),
            ("2026-05", "2025-04-30", State::Within, 13),
            ("2026-05", "2025-05-01", State::LastYear, 12),
            ("2026-05", "2026-04-30", State::LastYear, 1),
            ("2026-05", "2026-05-01", State::ThisMonth, 0),
            ("2026-05", "2026-05-31", State::ThisMonth, 0),
            ("2026-05", "2026-06-01", State::Past, -1),
            ("2026-05-20", "2026-05-20", State::ThisMonth, 0),
            ("2026-05-20", "2026-05-21", State::Past, 0),
            ("2026-05-20", "2026-05", State::ThisMonth, 0),
        ] {
            let due = Due::by(date(printed), date(on));
            assert_eq!((due.state, due.months_left), (state, months), "{printed} on {on}");
        }
    }

    #[test]
    fn a_life_counts_from_the_first_day_the_date_can_mean() {
        let due = Due::after("made", date("2013-01"), 144, date("2025-01-31")).unwrap();
        assert_eq!((due.month().as_str(), due.state), ("2025-01", State::ThisMonth));
        // 29 February has no twelfth anniversary in a common year: its month counts.
        let due = Due::after("made", date("2016-02-29"), 60, date("2021-02-28")).unwrap();
        assert_eq!(due.month(), "2021-02");
        let problem = Due::after("made", date("2026-07"), 120, date("2026-06-30")).unwrap_err();
        assert!(problem.to_string().contains("after the day of the inspection"));
        assert!(Due::after("made", date("9999-01"), 120, date("9999-01-02")).is_err());
    }
}
