//! When a fire extinguisher is due: to leave service, or for its service.

use crate::{
    CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source, age,
};

use super::due::{Due, State};
use super::lives;

/// Whether an extinguisher can be refilled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExtinguisherKind {
    /// It leaves service at the end of its life.
    NotRefilled,
    /// It is serviced: stored-pressure dry chemical.
    Refilled,
    /// Nobody could tell.
    NotKnown,
}

impl ExtinguisherKind {
    const WORDS: &'static [&'static str] = &["not refilled", "refilled", "not known"];

    fn from_word(word: &str) -> Self {
        match word {
            "not refilled" => Self::NotRefilled,
            "refilled" => Self::Refilled,
            _ => Self::NotKnown,
        }
    }
}

/// Dates of the last services on an extinguisher's tag, as far as they are there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ExtinguisherService {
    /// The last yearly service.
    pub yearly: Option<CalendarDate>,
    /// The last time it was emptied and examined, every six years.
    pub examination: Option<CalendarDate>,
    /// The last pressure test, every twelve years.
    pub test: Option<CalendarDate>,
}

/// What an extinguisher is due for and when, in the order of the dates.
///
/// The kind that is not refilled leaves service twelve years after manufacture. The other is examined
/// inside every six years and tested every twelve, from manufacture or from the last time; its yearly
/// service is counted only where a last one is known. A pressure test includes the examination.
///
/// # Errors
/// [`Problem::Input`] if one of the dates lies after the visit, or a service before manufacture.
pub fn extinguisher_due(
    kind: ExtinguisherKind,
    made: CalendarDate,
    service: ExtinguisherService,
    on: CalendarDate,
) -> Result<Vec<(&'static str, Due)>, Problem> {
    for (name, date) in [
        ("last_yearly_service", service.yearly),
        ("last_examination", service.examination),
        ("last_test", service.test),
    ] {
        if let Some(date) = date.filter(|date| date.last < made.first) {
            return Err(Problem::input(
                name,
                format!("{date} lies before the date of manufacture, {made}; re-read both"),
            ));
        }
    }
    let life = (
        "out of service",
        Due::after("made", made, lives::months("extinguisher_not_refilled"), on)?,
    );
    if kind != ExtinguisherKind::Refilled {
        return Ok(vec![life]);
    }
    let later = |one: Option<(&'static str, CalendarDate)>,
                 other: Option<(&'static str, CalendarDate)>| {
        match (one, other) {
            (Some(one), Some(other)) if other.1.first > one.1.first => Some(other),
            (None, other) => other,
            (one, _) => one,
        }
    };
    let made = ("made", made);
    let test = service.test.map(|date| ("last_test", date));
    let examined =
        later(service.examination.map(|date| ("last_examination", date)), test).unwrap_or(made);
    let tested = test.unwrap_or(made);
    let mut dues = vec![
        (
            "six-year examination",
            Due::after(examined.0, examined.1, lives::months("extinguisher_examination"), on)?,
        ),
        (
            "pressure test",
            Due::after(tested.0, tested.1, lives::months("extinguisher_pressure_test"), on)?,
        ),
    ];
    if let Some(yearly) = service.yearly {
        let months = lives::months("extinguisher_yearly_service");
        dues.push(("yearly service", Due::after("last_yearly_service", yearly, months, on)?));
    }
    dues.sort_by_key(|(_, due)| due.last_day);
    Ok(dues)
}

/// The state in words; what is due first decides.
fn words(kind: ExtinguisherKind, first: State) -> &'static str {
    match (kind, first) {
        (ExtinguisherKind::NotRefilled, state) => state.words(),
        (ExtinguisherKind::NotKnown, State::Past) => "past twelve years",
        (ExtinguisherKind::NotKnown, _) => "kind not known",
        (ExtinguisherKind::Refilled, State::Past) => "service overdue",
        (ExtinguisherKind::Refilled, State::ThisMonth) => "service due this month",
        (ExtinguisherKind::Refilled, State::LastYear | State::Within) => "service in date",
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "life_safety.extinguisher_due",
    summary: "When a fire extinguisher leaves service, or is due for service.",
    inputs: &[
        Input::word(
            "kind",
            ExtinguisherKind::WORDS,
            "whether it can be refilled: its label says so",
        ),
        Input::date("made", "date of manufacture; where only a year stands on it, its January"),
        Input::date("last_yearly_service", "on the tag; without it, not judged").optional(),
        Input::date(
            "last_examination",
            "the last six-year examination; without it, from manufacture",
        )
        .optional(),
        Input::date("last_test", "the last pressure test; without it, from manufacture").optional(),
        Input::date("on", "day of the inspection"),
    ],
    result: Gives::words(
        "state",
        "not refilled: within its life, last year of its life, due this month, past its life; refilled: \
         service in date, service due this month, service overdue; else kind not known, or past twelve years",
    ),
    parts: &[
        Gives::words("due_for", "what is due first"),
        Gives::words("due", "the month of it, through its last day"),
        Gives::quantity("months_left", "", "calendar months until then; negative once it is past"),
        Gives::words("dues", "all that is due, with its month"),
        Gives::words("age", "the oldest it can be, in whole years and months"),
    ],
    valid: "extinguishers of the kind that is not refilled, and stored-pressure dry chemical",
    sources: &[
        Source {
            document: "19 CCR 575.1",
            section: "(b): the kind that is not refilled leaves service twelve years after manufacture",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "29 CFR 1910.157",
            section: "(e)(3) and (4): yearly maintenance, every six years emptied, every twelve tested",
            confirmed: Confirmed::Quoted,
        },
        Source { document: "NFPA 10 (1998)", section: "4-4.3", confirmed: Confirmed::Quoted },
    ],
    example: &[("kind", "refilled"), ("made", "2021-03"), ("on", "2026-11-25")],
    compute: |inputs| {
        let kind = ExtinguisherKind::from_word(inputs.words("kind")?);
        let (made, on) = (inputs.date("made")?, inputs.date("on")?);
        let service = ExtinguisherService {
            yearly: inputs.optional_date("last_yearly_service"),
            examination: inputs.optional_date("last_examination"),
            test: inputs.optional_date("last_test"),
        };
        let dues = extinguisher_due(kind, made, service, on)?;
        let (due_for, due) = dues
            .first()
            .copied()
            .ok_or_else(|| Problem::input("kind", "leaves nothing that is due"))?;
        let all = dues.iter().map(|(what, due)| format!("{what}: {}", due.month())).collect();
        let mut outcome = Outcome::new(Output::words(words(kind, due.state)))
            .part("due_for", Output::words(due_for))
            .part("due", Output::words(due.month()))
            .part("months_left", f64::from(due.months_left))
            .part("dues", Output::Texts(all))
            .part("age", Output::words(age::words(made.first, on.last)))
            .note(
                "look at it every month: in its place, reachable, seal whole, gauge in the green, shell \
                 sound; a needle in the green is no proof that it works",
            );
        if kind == ExtinguisherKind::Refilled && service.yearly.is_none() {
            outcome = outcome
                .note("no yearly service is known: that one is due unless a tag says otherwise");
        }
        if kind == ExtinguisherKind::NotKnown {
            outcome = outcome.note(
                "after twelve years either kind is due: the one to leave service, the other for its \
                 pressure test; before, the label must say which it is",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Evaluation, Output, Problem,
        tests::{call, check_part, part_of, refuses},
    };

    const NAME: &str = "life_safety.extinguisher_due";

    fn said(kind: &str, made: &str, on: &str, more: &[(&str, &str)]) -> Evaluation {
        call(NAME, &[&[("kind", kind), ("made", made), ("on", on)], more].concat()).unwrap()
    }

    fn check(outcome: &Evaluation, state: &str, due_for: &str, due: &str) {
        assert_eq!(outcome.result, Output::words(state));
        assert_eq!(part_of(outcome, "due_for"), &Output::words(due_for));
        assert_eq!(part_of(outcome, "due"), &Output::words(due));
    }

    /// 19 CCR 575.1(b): twelve years from manufacture, worked by the month.
    #[test]
    fn the_kind_that_is_not_refilled_leaves_service_at_twelve_years() {
        let made = |made, on| said("not refilled", made, on, &[]);
        check(&made("2014-05", "2026-11-25"), "past its life", "out of service", "2026-05");
        let old = made("2013-06", "2025-11-25");
        check(&old, "past its life", "out of service", "2025-06");
        assert_eq!(part_of(&old, "age"), &Output::words("12 years 5 months"));
        check(&made("2016-11", "2026-06-12"), "within its life", "out of service", "2028-11");
        check(&made("2013-06", "2025-06-30"), "due this month", "out of service", "2025-06");
    }

    /// 29 CFR 1910.157(e)(4): six and twelve years.
    #[test]
    fn the_refilled_kind_is_examined_at_six_years_and_tested_at_twelve() {
        let outcome = said("refilled", "2021-03", "2026-11-25", &[]);
        check(&outcome, "service in date", "six-year examination", "2027-03");
        let Output::Texts(dues) = part_of(&outcome, "dues") else { panic!("no texts") };
        assert_eq!(dues, &["six-year examination: 2027-03", "pressure test: 2033-03"]);
        assert!(outcome.notes.iter().any(|note| note.contains("no yearly service is known")));
    }

    #[test]
    fn each_service_counts_from_the_last_one() {
        let outcome = said("refilled", "2012-03", "2026-11-25", &[("last_examination", "2018-04")]);
        check(&outcome, "service overdue", "pressure test", "2024-03");
        // A pressure test includes the examination.
        let outcome = said(
            "refilled",
            "2012-03",
            "2026-11-25",
            &[("last_examination", "2018-04"), ("last_test", "2024-03")],
        );
        check(&outcome, "service in date", "six-year examination", "2030-03");
        let outcome =
            said("refilled", "2021-03", "2026-11-25", &[("last_yearly_service", "2025-06")]);
        check(&outcome, "service overdue", "yearly service", "2026-06");
        let outcome =
            said("refilled", "2021-03", "2026-11-25", &[("last_yearly_service", "2025-11")]);
        check(&outcome, "service due this month", "yearly service", "2026-11");
    }

    /// Twelve years and then seven is the rule for gas cylinders, not for extinguishers.
    #[test]
    fn no_seven_years_follow_the_twelve() {
        let pairs = [("kind", "not refilled"), ("made", "2013-06"), ("on", "2026-06-12")];
        check_part(NAME, &pairs, "months_left", -12.0, "", 0.0);
        let outcome = said(
            "refilled",
            "2002-06",
            "2026-06-12",
            &[("last_test", "2014-06"), ("last_examination", "2020-06")],
        );
        check(&outcome, "service due this month", "six-year examination", "2026-06");
        let Output::Texts(dues) = part_of(&outcome, "dues") else { panic!("no texts") };
        assert_eq!(dues[1], "pressure test: 2026-06");
    }

    #[test]
    fn an_unknown_kind_is_judged_only_when_both_kinds_are_due() {
        check(
            &said("not known", "2016-11", "2026-06-12", &[]),
            "kind not known",
            "out of service",
            "2028-11",
        );
        check(
            &said("not known", "2013-06", "2026-06-12", &[]),
            "past twelve years",
            "out of service",
            "2025-06",
        );
    }

    #[test]
    fn dates_that_do_not_fit_are_read_again() {
        for (made, more, said) in [
            ("2027-01", None, "made: 2027-01 lies after"),
            ("2020-01", Some(("last_test", "2019-12")), "last_test: 2019-12 lies before"),
            (
                "2020-01",
                Some(("last_examination", "2026-12")),
                "last_examination: 2026-12 lies after",
            ),
        ] {
            let mut pairs = vec![("kind", "refilled"), ("made", made), ("on", "2026-11-25")];
            pairs.extend(more);
            assert!(matches!(refuses(NAME, &pairs, said), Problem::Input { .. }));
        }
    }
}
