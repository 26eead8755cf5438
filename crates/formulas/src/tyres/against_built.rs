//! A tyre's date code against the day its trailer was built.

use jiff::{Span, civil::Date};

use crate::{
    CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source, age,
};

use super::date_code::{TyreWeek, date_code};

/// A tyre that is older than its trailer by more than this was not new when the trailer was built. months
const NEW_ENOUGH: i16 = 12;

/// How a tyre's date stands against its trailer's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AgainstBuilt {
    /// It can have been new when the trailer was built.
    AboutTheSame,
    /// It was made after the trailer's month: another stood there before.
    Newer,
    /// It was made more than a year before.
    Older,
}

impl AgainstBuilt {
    fn words(self) -> &'static str {
        match self {
            Self::AboutTheSame => "about the same",
            Self::Newer => "newer",
            Self::Older => "over a year older",
        }
    }
}

/// One week against the month in which a trailer was built. A day within that month counts as the month:
/// labels print no day.
///
/// # Errors
/// [`Problem::Input`] if the calendar does not reach that far.
pub fn against_built(week: TyreWeek, built: CalendarDate) -> Result<AgainstBuilt, Problem> {
    let (first, last) = (built.first.first_of_month(), built.last.last_of_month());
    let new_enough = first
        .checked_sub(Span::new().months(NEW_ENOUGH))
        .map_err(|_| Problem::input("built", "is too far from any calendar"))?;
    Ok(if week.first_day > last {
        AgainstBuilt::Newer
    } else if week.last_day < new_enough {
        AgainstBuilt::Older
    } else {
        AgainstBuilt::AboutTheSame
    })
}

/// `14 months before the unit`, from the middle of the week to the month's nearer end.
fn difference(week: TyreWeek, built: CalendarDate) -> String {
    let (first, last): (Date, Date) = (built.first.first_of_month(), built.last.last_of_month());
    if week.last_day < first {
        format!("made {} before the unit's month", age::words(week.last_day, first))
    } else if week.first_day > last {
        format!("made {} after the unit's month", age::words(last, week.first_day))
    } else {
        "made in the unit's month".to_owned()
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "tyres.against_built",
    summary: "Whether a tyre can have been new when its trailer was built, from both dates.",
    inputs: &[
        Input::text("code", "date code, as for tyres.date_code"),
        Input::date("on", "day of the inspection"),
        Input::date("built", "date of manufacture on the unit's label; its month counts"),
    ],
    result: Gives::words(
        "against_label",
        "about the same, newer, over a year older, or not told where three digits leave it open",
    ),
    parts: &[Gives::words("difference", "how long before or after the unit it was made")],
    valid: "codes of three digits (until 1999) and four digits (since 2000)",
    sources: &[
        Source {
            document: "49 CFR 574.5",
            section: "(b): week 01 is the first full week, Sunday to Saturday",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "a tyre up to twelve months older than its trailer can have been new when fitted",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("code", "4716"), ("on", "2026-06-12"), ("built", "2017-03")],
    compute: |inputs| {
        let (on, built) = (inputs.date("on")?, inputs.date("built")?);
        if built.first > on.last {
            return Err(Problem::input(
                "built",
                format!("{built} lies after the day of the inspection; re-read the label"),
            ));
        }
        let weeks = date_code(inputs.words("code")?, on)?;
        let verdicts =
            weeks.iter().map(|week| against_built(*week, built)).collect::<Result<Vec<_>, _>>()?;
        let words = match verdicts.as_slice() {
            [first, rest @ ..] if rest.iter().all(|other| other == first) => first.words(),
            _ => "not told",
        };
        let differences: Vec<String> = weeks.iter().map(|week| difference(*week, built)).collect();
        let mut outcome = Outcome::new(Output::words(words))
            .part("difference", Output::words(differences.join("; or ")));
        if words == "newer" {
            outcome = outcome.note("the tyre was replaced: ask when, and why");
        }
        if words == "not told" {
            outcome = outcome.note("three digits leave the decade open");
        }
        Ok(outcome.note("it informs only: an older tyre can be sound, and a new one damaged"))
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output, Problem,
        tests::{call, part_of, refuses},
    };

    const NAME: &str = "tyres.against_built";

    fn pairs<'a>(code: &'a str, built: &'a str) -> [(&'a str, &'a str); 3] {
        [("code", code), ("on", "2026-06-12"), ("built", built)]
    }

    /// Week 47 of 2016 is 20 to 26 November, week 23 of 2019 9 to 15 June: counted on the calendar by
    /// 49 CFR 574.5(b).
    #[test]
    fn a_tyre_of_the_year_before_the_label_can_have_been_new() {
        for (code, built, words, difference) in [
            ("4716", "2017-03", "about the same", "made 3 months before the unit's month"),
            ("4716", "2016-11-02", "about the same", "made in the unit's month"),
            ("4716", "2017-11", "about the same", "made 11 months before the unit's month"),
            ("4716", "2017-12", "over a year older", "made 1 year before the unit's month"),
            (
                "1015",
                "2017-03",
                "over a year older",
                "made 1 year 11 months before the unit's month",
            ),
            ("2319", "2019-05", "newer", "made less than a month after the unit's month"),
            ("1423", "2017-03", "newer", "made 6 years after the unit's month"),
        ] {
            let outcome = call(NAME, &pairs(code, built)).unwrap();
            assert_eq!(outcome.result, Output::words(words), "{code} {built}");
            assert_eq!(
                part_of(&outcome, "difference"),
                &Output::words(difference),
                "{code} {built}"
            );
        }
    }

    /// A label prints a month: the day on which a record says it was built decides nothing within it.
    #[test]
    fn the_label_counts_by_its_month() {
        for built in ["2019-06", "2019-06-01", "2019-06-30"] {
            let outcome = call(NAME, &pairs("2319", built)).unwrap();
            assert_eq!(outcome.result, Output::words("about the same"), "{built}");
        }
    }

    #[test]
    fn three_digits_tell_it_only_where_every_decade_says_the_same() {
        let outcome = call(NAME, &pairs("079", "2017-03")).unwrap();
        assert_eq!(outcome.result, Output::words("over a year older"));
        let outcome = call(NAME, &pairs("079", "1999-03")).unwrap();
        assert_eq!(outcome.result, Output::words("not told"));
    }

    #[test]
    fn dates_from_the_future_and_weeks_that_do_not_exist_are_refused() {
        for (code, built, said) in [
            ("2319", "2027-01", "built: 2027-01 lies after"),
            ("5419", "2019-06", "week that does not exist"),
            ("5226", "2019-06", "after the day of the inspection"),
        ] {
            assert!(matches!(refuses(NAME, &pairs(code, built), said), Problem::Input { .. }));
        }
    }
}
