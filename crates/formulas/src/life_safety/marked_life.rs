//! The date or the life that a maker marked on a device.

use quantity::Kind;

use crate::{
    Accepts, CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source,
};

use super::due::Due;

/// What is said where neither a date nor a life is marked.
pub(super) const NOT_MARKED: &str = "not marked";

/// When a device is due by what is marked on it: a date to replace it by, else so many years from
/// manufacture; none where neither is marked.
///
/// # Errors
/// [`Problem::Input`] if it was made after the visit, or is marked to be replaced before it was made.
pub fn marked_life(
    replace_by: Option<CalendarDate>,
    made: Option<CalendarDate>,
    life_months: Option<i16>,
    on: CalendarDate,
) -> Result<Option<Due>, Problem> {
    if let (Some(made), Some(replace_by)) = (made, replace_by)
        && replace_by.last < made.first
    {
        return Err(Problem::input(
            "replace_by",
            format!("{replace_by} lies before the date of manufacture, {made}; re-read both"),
        ));
    }
    match (replace_by, made, life_months) {
        (Some(replace_by), _, _) => Ok(Some(Due::by(replace_by, on))),
        (None, Some(made), Some(months)) => Due::after("made", made, months, on).map(Some),
        (None, _, _) => Ok(None),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "life_safety.marked_life",
    summary: "Whether a device is within the date or the life that its maker marked on it.",
    inputs: &[
        Input::date("replace_by", "date to replace it by; goes before a life in years").optional(),
        Input::date("made", "date of manufacture, from which a life in years counts").optional(),
        Input::quantity("life_years", Kind::Number, "life in years as it is marked")
            .optional()
            .accepting(Accepts::AboveUpTo("0", "30")),
        Input::date("on", "day of the inspection"),
    ],
    result: Gives::words(
        "state",
        "within its life, last year of its life, due this month, past its life, or not marked",
    ),
    parts: &[Gives::words(
        "due",
        "the month in which it is replaced, through its last day; or not marked",
    )],
    valid: "",
    sources: &[Source {
        document: "makers of alarms",
        section: "the date or the life marked on the alarm goes before any general rule",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("made", "2019-12"), ("life_years", "7"), ("on", "2026-11-25")],
    compute: |inputs| {
        let life_months = inputs
            .optional_value("life_years")
            .map(|value| {
                // Bounded by what the input accepts: 30 years at most.
                let months = (value.base * 12.0).round();
                (1..=360_i16).find(|count| (f64::from(*count) - months).abs() < 0.5).ok_or_else(
                    || Problem::input("life_years", "is less than a month; accepted: years"),
                )
            })
            .transpose()?;
        let due = marked_life(
            inputs.optional_date("replace_by"),
            inputs.optional_date("made"),
            life_months,
            inputs.date("on")?,
        )?;
        Ok(match due {
            Some(due) => Outcome::new(Output::words(due.state.words()))
                .part("due", Output::words(due.month())),
            None => Outcome::new(Output::words(NOT_MARKED))
                .part("due", Output::words(NOT_MARKED))
                .note("neither a date to replace it by nor a life in years with a date of manufacture was read"),
        })
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, part_of, refuses},
    };

    const NAME: &str = "life_safety.marked_life";

    fn check(pairs: &[(&str, &str)], state: &str, due: &str) {
        let outcome = call(NAME, pairs).unwrap();
        assert_eq!(outcome.result, Output::words(state), "{pairs:?}");
        assert_eq!(part_of(&outcome, "due"), &Output::words(due), "{pairs:?}");
    }

    /// An alarm marked seven years, made in December 2019: a month is left in November 2026.
    #[test]
    fn a_life_in_years_counts_from_manufacture() {
        let on = ("on", "2026-11-25");
        check(&[("made", "2019-12"), ("life_years", "7"), on], "last year of its life", "2026-12");
        check(&[("made", "2019-10"), ("life_years", "7"), on], "past its life", "2026-10");
    }

    #[test]
    fn a_printed_date_goes_before_a_life_in_years() {
        check(
            &[
                ("replace_by", "2029-03"),
                ("made", "2019-03"),
                ("life_years", "5"),
                ("on", "2026-06-12"),
            ],
            "within its life",
            "2029-03",
        );
        check(&[("replace_by", "2024-03"), ("on", "2026-06-12")], "past its life", "2024-03");
    }

    #[test]
    fn a_date_of_manufacture_alone_is_no_mark() {
        check(&[("made", "2019-03"), ("on", "2026-06-12")], "not marked", "not marked");
        check(&[("life_years", "7"), ("on", "2026-06-12")], "not marked", "not marked");
    }

    #[test]
    fn contradictions_are_read_again() {
        for (pairs, said) in [
            (
                vec![("replace_by", "2018-03"), ("made", "2019-03"), ("on", "2026-06-12")],
                "before the date of manufacture",
            ),
            (
                vec![("made", "2027-01"), ("life_years", "7"), ("on", "2026-06-12")],
                "after the day of the inspection",
            ),
            (vec![("life_years", "0"), ("on", "2026-06-12")], "not possible"),
            (vec![("life_years", "0.01"), ("on", "2026-06-12")], "less than a month"),
        ] {
            let problem = refuses(NAME, &pairs, said);
            assert!(matches!(problem, Problem::Input { .. }));
        }
    }
}
