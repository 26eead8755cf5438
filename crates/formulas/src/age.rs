//! How old something is: from the earliest day it can have been made to the day it was seen.

use jiff::{Unit, civil::Date};

/// Days in a year of the Gregorian calendar, on average.
const YEAR: f64 = 365.242_5;

/// Years from a day to a later one, negative the other way round.
pub(crate) fn years(from: Date, to: Date) -> f64 {
    // Both days lie within the calendar that can be written, so that the count of days always fits.
    f64::from(days(from, to)) / YEAR
}

/// The same rounded up to a tenth of a year: never less than the age, so that what is printed agrees
/// with what is judged.
pub(crate) fn years_at_most(from: Date, to: Date) -> f64 {
    (years(from, to) * 10.0).ceil() / 10.0
}

/// Whole years and months, as people say an age: `9 years 6 months`.
pub(crate) fn words(from: Date, to: Date) -> String {
    let months = months(from, to);
    let (years, months) = (months / 12, months % 12);
    match (years, months) {
        (0, 0) => "less than a month".to_owned(),
        (0, months) => counted(months, "month"),
        (years, 0) => counted(years, "year"),
        (years, months) => format!("{} {}", counted(years, "year"), counted(months, "month")),
    }
}

/// Whole months from a day to a later one; none are negative.
fn months(from: Date, to: Date) -> i32 {
    to.since((Unit::Month, from)).map_or(0, |span| span.get_months()).max(0)
}

fn days(from: Date, to: Date) -> i32 {
    to.since((Unit::Day, from)).map_or(0, |span| span.get_days())
}

fn counted(count: i32, unit: &str) -> String {
    if count == 1 { format!("1 {unit}") } else { format!("{count} {unit}s") }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::{words, years, years_at_most};

    #[test]
    fn an_age_is_said_in_whole_years_and_months() {
        let from = date(2019, 6, 9);
        for (to, said) in [
            (date(2019, 6, 9), "less than a month"),
            (date(2019, 7, 8), "less than a month"),
            (date(2019, 7, 9), "1 month"),
            (date(2020, 6, 8), "11 months"),
            (date(2020, 6, 9), "1 year"),
            (date(2020, 7, 31), "1 year 1 month"),
            (date(2025, 11, 25), "6 years 5 months"),
            (date(2019, 1, 1), "less than a month"),
        ] {
            assert_eq!(words(from, to), said, "{to}");
        }
    }

    /// 2361 days are 6.464 years; to the day, six years are 2192 days here.
    #[test]
    fn tenths_are_rounded_up_so_that_a_limit_is_never_met_by_rounding() {
        let from = date(2019, 6, 9);
        assert!((years(from, date(2025, 11, 25)) - 2_361.0 / 365.242_5).abs() < 1e-12);
        assert!((years_at_most(from, date(2025, 11, 25)) - 6.5).abs() < 1e-12);
        assert!((years_at_most(from, date(2025, 6, 9)) - 6.1).abs() < 1e-12);
        assert!((years_at_most(from, date(2025, 6, 8)) - 6.0).abs() < 1e-12);
        assert!(years_at_most(from, from).abs() < 1e-12);
    }
}
