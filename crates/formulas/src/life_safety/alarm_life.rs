//! The usual life of an alarm, from its date of manufacture.

use crate::{
    CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source, age,
};

use super::due::{Due, State};
use super::lives;
use super::marked_life::NOT_MARKED;

/// What an alarm warns of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alarm {
    /// Smoke.
    Smoke,
    /// Carbon monoxide.
    CarbonMonoxide,
    /// Propane.
    Gas,
}

impl Alarm {
    pub(super) const WORDS: &'static [&'static str] =
        &["smoke_alarm", "carbon_monoxide_alarm", "gas_alarm"];

    fn from_word(word: &str) -> Self {
        match word {
            "carbon_monoxide_alarm" => Self::CarbonMonoxide,
            "gas_alarm" => Self::Gas,
            _ => Self::Smoke,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Smoke => "smoke_alarm",
            Self::CarbonMonoxide => "carbon_monoxide_alarm",
            Self::Gas => "gas_alarm",
        }
    }
}

impl State {
    /// In words, of something that is replaced when it is due.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Within => "within its life",
            Self::LastYear => "last year of its life",
            Self::ThisMonth => "due this month",
            Self::Past => "past its life",
        }
    }
}

/// When an alarm that has no date of its own to be replaced by reaches its usual life.
///
/// # Errors
/// [`Problem::Input`] if it was made after the visit.
pub fn alarm_life(alarm: Alarm, made: CalendarDate, on: CalendarDate) -> Result<Due, Problem> {
    Due::after("made", made, lives::months(alarm.word()), on)
}

/// What may be said of a life that is marked.
const MARKED: &[&str] =
    &["within its life", "last year of its life", "due this month", "past its life", NOT_MARKED];

pub(crate) static FORMULA: Formula = Formula {
    name: "life_safety.alarm_life",
    summary: "Whether an alarm is within its usual life, from its date of manufacture.",
    inputs: &[
        Input::word("device", Alarm::WORDS, "what it warns of"),
        Input::date(
            "made",
            "date of manufacture on the back; where only a year stands there, its January",
        ),
        Input::date("on", "day of the inspection"),
        Input::word(
            "marked",
            MARKED,
            "what life_safety.marked_life says: a life that is marked goes before the usual one; without it, not marked",
        )
        .optional(),
    ],
    result: Gives::words(
        "state",
        "within its life, last year of its life, due this month, past its life, or another life is marked",
    ),
    parts: &[
        Gives::words("due", "the month in which it is replaced, through its last day"),
        Gives::quantity("months_left", "", "calendar months until then; negative once it is past"),
        Gives::words("age", "the oldest it can be, in whole years and months"),
        Gives::quantity("age_years", "", "the same in years, rounded up to a tenth"),
        Gives::quantity("life_years", "", "the usual life"),
    ],
    valid: "alarms that are not marked with a date or a life of their own",
    sources: &[
        Source {
            document: "NFPA 72, from its 2007 edition",
            section: "smoke alarms: replaced ten years from manufacture, unless the maker says otherwise",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "makers of carbon-monoxide alarms",
            section: "five years from the date code where no life is marked; those marked last five to ten",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "makers of gas alarms",
            section: "five years for older ones; newer ones are marked seven or ten",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[("device", "smoke_alarm"), ("made", "2016-10"), ("on", "2026-11-25")],
    compute: |inputs| {
        let alarm = Alarm::from_word(inputs.words("device")?);
        let (made, on) = (inputs.date("made")?, inputs.date("on")?);
        let due = alarm_life(alarm, made, on)?;
        let is_marked = inputs.optional_words("marked").is_some_and(|words| words != NOT_MARKED);
        let state = if is_marked { "another life is marked" } else { due.state.words() };
        Ok(Outcome::new(Output::words(state))
            .part("due", Output::words(due.month()))
            .part("months_left", f64::from(due.months_left))
            .part("age", Output::words(age::words(made.first, on.last)))
            .part("age_years", age::years_at_most(made.first, on.last))
            .part("life_years", f64::from(lives::months(alarm.word())) / 12.0)
            .note(
                "counted from manufacture, not from the day it was put up; a date or a life marked on \
                 the alarm goes before this one",
            )
            .note("the test button proves the sounder, not the sensor"))
    },
};

#[cfg(test)]
mod tests {
    use super::Alarm;
    use crate::{
        Output, Problem,
        tests::{call, check_part, part_of, refuses},
    };

    const NAME: &str = "life_safety.alarm_life";

    fn pairs<'a>(device: &'a str, made: &'a str, on: &'a str) -> [(&'a str, &'a str); 3] {
        [("device", device), ("made", made), ("on", on)]
    }

    fn check(device: &str, made: &str, on: &str, state: &str, due: &str) {
        let outcome = call(NAME, &pairs(device, made, on)).unwrap();
        assert_eq!(outcome.result, Output::words(state), "{device} of {made} on {on}");
        assert_eq!(part_of(&outcome, "due"), &Output::words(due), "{device} of {made} on {on}");
    }

    /// NFPA 72 from 2007, worked by the month: ten years from manufacture, due through the month's end.
    #[test]
    fn a_smoke_alarm_is_due_through_the_month_ten_years_from_manufacture() {
        check("smoke_alarm", "2015-05", "2025-04-30", "last year of its life", "2025-05");
        check("smoke_alarm", "2015-05", "2025-05-15", "due this month", "2025-05");
        check("smoke_alarm", "2015-05", "2025-06-01", "past its life", "2025-05");
        check("smoke_alarm", "2016-10", "2026-11-25", "past its life", "2026-10");
        check("smoke_alarm", "2022-03", "2026-06-12", "within its life", "2032-03");
        check_part(
            NAME,
            &pairs("smoke_alarm", "2016-10", "2026-11-25"),
            "months_left",
            -1.0,
            "",
            0.0,
        );
    }

    #[test]
    fn the_life_goes_by_what_it_warns_of() {
        check("carbon_monoxide_alarm", "2020-03", "2026-06-12", "past its life", "2025-03");
        check("gas_alarm", "2022-03", "2026-06-12", "last year of its life", "2027-03");
        for word in Alarm::WORDS {
            assert_eq!(Alarm::from_word(word).word(), *word);
        }
    }

    /// Six years old where seven are marked: the usual five do not count.
    #[test]
    fn a_marked_life_goes_before_the_usual_one() {
        let made = pairs("carbon_monoxide_alarm", "2020-03", "2026-06-12");
        for (marked, state) in [
            ("last year of its life", "another life is marked"),
            ("past its life", "another life is marked"),
            ("not marked", "past its life"),
        ] {
            let outcome = call(NAME, &[&made[..], &[("marked", marked)]].concat()).unwrap();
            assert_eq!(outcome.result, Output::words(state), "{marked}");
        }
    }

    #[test]
    fn the_age_is_the_oldest_it_can_be_and_printed_as_people_say_it() {
        let pairs = pairs("smoke_alarm", "2016-11", "2026-06-12");
        let outcome = call(NAME, &pairs).unwrap();
        assert_eq!(part_of(&outcome, "age"), &Output::words("9 years 7 months"));
        check_part(NAME, &pairs, "age_years", 9.7, "", 1e-9);
        check_part(NAME, &pairs, "life_years", 10.0, "", 0.0);
    }

    #[test]
    fn an_alarm_from_the_future_is_read_again() {
        let problem = refuses(
            NAME,
            &pairs("smoke_alarm", "2026-07", "2026-06-12"),
            "made: 2026-07 lies after",
        );
        assert!(matches!(problem, Problem::Input { .. }));
        refuses(NAME, &pairs("heat_alarm", "2020-07", "2026-06-12"), "accepted: smoke_alarm");
        refuses(NAME, &pairs("smoke_alarm", "2020", "2026-06-12"), "is no date");
    }
}
