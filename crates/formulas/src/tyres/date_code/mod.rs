//! The week in which a tyre was made, from the code on its sidewall.

mod code;
mod week;

pub use week::TyreWeek;

use crate::{
    CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source, age,
};

use code::{Code, read_code};

/// The weeks that a date code can mean, seen on a day: one for four digits, up to three decades for
/// three.
///
/// Four digits, since 2000, are week and year; three digits, until then, are week and last digit of
/// the year. Week 01 is the first full week from Sunday to Saturday, so that the last week of a year may end
/// in the next; it is not the ISO week (49 CFR 574.5(b)). A whole identification number is accepted too.
///
/// # Errors
/// [`Problem::Input`] if the code cannot be read, names a week that does not exist, or lies after the
/// day it was seen.
pub fn date_code(code: &str, on: CalendarDate) -> Result<Vec<TyreWeek>, Problem> {
    read_code(code).and_then(|(code, _)| weeks(code, on))
}

fn weeks(code: Code, on: CalendarDate) -> Result<Vec<TyreWeek>, Problem> {
    let existing: Vec<TyreWeek> =
        code.years().filter_map(|year| TyreWeek::of(year, code.week())).collect();
    if existing.is_empty() {
        return Err(Problem::input(
            "code",
            format!(
                "{code} names a week that does not exist; accepted: 01 to 52, and 53 in years that have it: re-read"
            ),
        ));
    }
    let past: Vec<TyreWeek> =
        existing.iter().filter(|week| week.first_day <= on.last).copied().collect();
    if past.is_empty() {
        return Err(Problem::input(
            "code",
            format!(
                "{code} is the week of {}, after the day of the inspection; re-read (four digits have been used since 2000, three before)",
                existing[0].first_day
            ),
        ));
    }
    Ok(past)
}

/// The age in words, from the first day of the week; from the youngest to the oldest of several decades.
fn age_in_words(weeks: &[TyreWeek], on: CalendarDate) -> String {
    let words = |week: &TyreWeek| age::words(week.first_day, on.last);
    match weeks {
        [oldest, .., youngest] => format!("{} to {}", words(youngest), words(oldest)),
        [week] => words(week),
        [] => String::new(),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.date_code",
    summary: "Week in which a tyre was made, and its age, from the date code on the sidewall.",
    inputs: &[
        Input::text(
            "code",
            "the last three or four digits, such as 2319, or the whole identification number",
        ),
        Input::date("on", "day of the inspection"),
    ],
    result: Gives::words("made", "the week, or the weeks of several decades for three digits"),
    parts: &[
        Gives::words("first_day", "Sunday of that week"),
        Gives::words("last_day", "Saturday of that week"),
        Gives::quantity("age_years", "", "age in years from the first day, the oldest it can be"),
        Gives::quantity(
            "age_at_most",
            "",
            "the same rounded up to a tenth; of several decades the oldest",
        ),
        Gives::words("age", "the same in whole years and months"),
    ],
    valid: "codes of three digits (until 1999) and four digits (since 2000)",
    sources: &[
        Source {
            document: "49 CFR 574.5 with 80 FR 19553 (2015)",
            section: "(a): symbols of the number",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "64 FR 36807 (1999)",
            section: "four digits in place of three",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "49 CFR 574.5",
            section: "(b): week 01 is the first full week, Sunday to Saturday",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("code", "2319"), ("on", "2025-11-25")],
    compute: |inputs| {
        let (code, notes) = read_code(inputs.words("code")?)?;
        let on = inputs.date("on")?;
        let weeks = weeks(code, on)?;
        let ages: Vec<f64> = weeks.iter().map(|week| age::years(week.first_day, on.last)).collect();
        let oldest = weeks.first().map_or(0.0, |week| age::years_at_most(week.first_day, on.last));
        let outcome = match (weeks.as_slice(), ages.as_slice()) {
            ([week], [age]) => Outcome::new(Output::words(week.to_string()))
                .part("first_day", Output::Day(week.first_day))
                .part("last_day", Output::Day(week.last_day))
                .part("age_years", *age),
            _ => Outcome::new(texts(&weeks, TyreWeek::to_string))
                .part("first_day", texts(&weeks, |week| week.first_day.to_string()))
                .part("last_day", texts(&weeks, |week| week.last_day.to_string()))
                .part("age_years", Output::list(ages))
                .note(
                    "three digits do not tell the decade: a triangle beside them stands for the \
                     1990s (from memory), and the tyre is older than 2000 in any case",
                ),
        };
        let outcome = outcome
            .part("age_at_most", oldest)
            .part("age", Output::words(age_in_words(&weeks, on)));
        let outcome = outcome.note(
            "no federal limit on age; some vehicle and tyre makers recommend replacement at 6 to 10 \
             years whatever the tread, and the trailer trade at 5 to 7 (common practice); the spare \
             counts too",
        );
        Ok(notes.into_iter().fold(outcome, Outcome::note))
    },
};

fn texts(weeks: &[TyreWeek], text: impl Fn(&TyreWeek) -> String) -> Output {
    Output::Texts(weeks.iter().map(text).collect())
}

#[cfg(test)]
mod tests;
