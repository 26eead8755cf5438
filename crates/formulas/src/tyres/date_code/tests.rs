//! Date codes against the calendar, and what is refused.

#![allow(clippy::panic, reason = "a wrong kind of output ends the test")]

use jiff::civil::{Date, Weekday};
use proptest::prelude::*;

use super::TyreWeek;
use crate::{
    Output, Problem,
    tests::{call, check_part, part_of, refuses},
};

const NAME: &str = "tyres.date_code";
const ON: &str = "2025-11-25";

fn day(text: &str) -> Output {
    Output::Day(text.parse::<Date>().unwrap())
}

fn check(code: &str, first: &str, last: &str) {
    let outcome = call(NAME, &[("code", code), ("on", ON)]).unwrap();
    assert_eq!(part_of(&outcome, "first_day"), &day(first), "{code}");
    assert_eq!(part_of(&outcome, "last_day"), &day(last), "{code}");
    assert_eq!(outcome.result, Output::words(format!("{first} to {last}")), "{code}");
}

/// Counted on the calendar by 49 CFR 574.5(b). Trade pages call 3403 the last week of August 2003 and
/// 5012 the fiftieth week of 2012.
#[test]
fn week_one_is_the_first_full_week_from_sunday_to_saturday() {
    check("2319", "2019-06-09", "2019-06-15");
    check("3403", "2003-08-24", "2003-08-30");
    check("5012", "2012-12-09", "2012-12-15");
    check("0100", "2000-01-02", "2000-01-08");
}

/// ISO week 23 of 2019 began on 3 June.
#[test]
fn the_week_is_not_the_iso_week() {
    let outcome = call(NAME, &[("code", "2319"), ("on", ON)]).unwrap();
    assert_ne!(part_of(&outcome, "first_day"), &day("2019-06-03"));
}

#[test]
fn week_fifty_three_exists_only_where_a_year_has_it() {
    check("5317", "2017-12-31", "2018-01-06");
    let years: Vec<i16> = (2000..=2034).filter(|year| TyreWeek::of(*year, 53).is_some()).collect();
    assert_eq!(years, [2000, 2006, 2012, 2017, 2023, 2028, 2034]);
    refuses(NAME, &[("code", "5324"), ("on", ON)], "names a week that does not exist");
}

/// 2361 days from 2019-06-09 to 2025-11-25.
#[test]
fn age_counts_from_the_earliest_day() {
    let pairs = [("code", "2319"), ("on", ON)];
    check_part(NAME, &pairs, "age_years", 2_361.0 / 365.242_5, "", 1e-9);
    check_part(NAME, &pairs, "age_years", 6.46, "", 0.005);
}

/// An age of 6.464 years is printed as 6.5 and said as six years and five months.
#[test]
fn an_age_is_printed_as_people_say_it() {
    let pairs = [("code", "2319"), ("on", ON)];
    check_part(NAME, &pairs, "age_at_most", 6.5, "", 1e-12);
    assert_eq!(part_of(&call(NAME, &pairs).unwrap(), "age"), &Output::words("6 years 5 months"));
}

/// Six years are over on the day after the sixth anniversary of the week's Sunday, and not before.
#[test]
fn rounding_never_takes_an_age_across_a_limit() {
    for (on, age) in [("2025-06-08", 6.0), ("2025-06-10", 6.1)] {
        check_part(NAME, &[("code", "2319"), ("on", on)], "age_at_most", age, "", 1e-12);
    }
}

/// From three digits the tyre is at least of the 1990s: both ages are far past any advice.
#[test]
fn three_digits_give_the_youngest_and_the_oldest_age() {
    let pairs = [("code", "079"), ("on", ON)];
    check_part(NAME, &pairs, "age_at_most", 46.8, "", 1e-12);
    assert_eq!(
        part_of(&call(NAME, &pairs).unwrap(), "age"),
        &Output::words("26 years 9 months to 46 years 9 months")
    );
}

#[test]
fn a_month_counts_as_its_last_day() {
    check_part(
        NAME,
        &[("code", "2319"), ("on", "2025-11")],
        "age_years",
        2_366.0 / 365.242_5,
        "",
        1e-9,
    );
}

/// A trade page calls 079 the third week of February 1999.
#[test]
fn three_digits_leave_the_decade_open() {
    let outcome = call(NAME, &[("code", "079"), ("on", ON)]).unwrap();
    let Output::Texts(first) = part_of(&outcome, "first_day") else { panic!("no texts") };
    assert_eq!(first, &["1979-02-18", "1989-02-12", "1999-02-14"]);
    let Output::Texts(last) = part_of(&outcome, "last_day") else { panic!("no texts") };
    assert_eq!(last[2], "1999-02-20");
    let Output::Quantities(ages) = part_of(&outcome, "age_years") else { panic!("no list") };
    assert!(ages.iter().all(|age| age.base > 25.0), "{ages:?}");
}

#[test]
fn decades_after_the_day_are_ruled_out() {
    let outcome = call(NAME, &[("code", "079"), ("on", "1985-01-01")]).unwrap();
    assert_eq!(part_of(&outcome, "first_day"), &day("1979-02-18"));
}

#[test]
fn a_whole_number_ends_in_its_date_code() {
    for code in
        ["DOT 4B08 4DHR 2319", "4b084dhr2319", "1AB 23CDEF 2319", "1ABCDEF-GH2319", "AB12319"]
    {
        check(code, "2019-06-09", "2019-06-15");
    }
    let outcome = call(NAME, &[("code", "DOT WKU1 BBB 079"), ("on", ON)]).unwrap();
    assert!(matches!(outcome.result, Output::Texts(_)));
}

#[test]
fn what_is_no_week_of_the_past_is_refused() {
    for (code, said) in [
        ("5421", "names a week that does not exist"),
        ("0021", "names a week that does not exist"),
        ("0000", "names a week that does not exist"),
        ("009", "names a week that does not exist"),
        ("4825", "after the day of the inspection; re-read"),
        ("0199", "four digits have been used since 2000"),
        ("23A9", "digits only"),
        ("12", "2 symbols"),
        ("23190", "5 symbols"),
        ("", "0 symbols"),
        ("DOT 4B08 4DHR", "look there too"),
        ("2319.", "`.` never stands"),
        ("２３１９", "never stands"),
    ] {
        let problem = refuses(NAME, &[("code", code), ("on", ON)], said);
        assert!(matches!(problem, Problem::Input { .. }), "{code}");
    }
}

#[test]
fn a_tyre_of_the_running_week_is_accepted() {
    check("4725", "2025-11-23", "2025-11-29");
}

proptest! {
    #[test]
    fn every_week_has_seven_days_from_a_sunday(year in 1970i16..2100, week in 1u8..=53) {
        if let Some(found) = TyreWeek::of(year, week) {
            prop_assert_eq!(found.first_day.weekday(), Weekday::Sunday);
            prop_assert_eq!(found.last_day.weekday(), Weekday::Saturday);
            prop_assert_eq!(found.first_day.day_of_year(), i16::from(week - 1) * 7 + TyreWeek::of(year, 1).unwrap().first_day.day_of_year());
        } else {
            prop_assert_eq!(week, 53);
        }
    }

    #[test]
    fn no_text_is_too_strange_to_be_answered(text in ".{0,16}") {
        let answer = call(NAME, &[("code", &text), ("on", ON)]);
        let answered = matches!(answer, Ok(_) | Err(Problem::Input { .. }));
        prop_assert!(answered, "{:?}", answer);
    }
}
