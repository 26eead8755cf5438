//! When a propane cylinder is due for requalification.

use jiff::civil::Date;

use crate::table::Table;
use crate::{CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

static PERIODS: Table =
    Table::of(include_str!("../../../../data/tables/requalification_periods.csv"));

/// How a cylinder was last requalified, by the letter behind the date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RequalificationMark {
    /// Never: the cylinder bears its first test date only.
    None,
    /// A date without letter: by volumetric expansion.
    Volumetric,
    /// S: by proof pressure.
    Proof,
    /// E: by external visual inspection.
    Visual,
}

impl RequalificationMark {
    /// The mark of a word or of the letter itself.
    fn of(word: &str) -> Self {
        match word {
            "volumetric" | "plain" => Self::Volumetric,
            "proof" | "S" | "s" => Self::Proof,
            "visual" | "E" | "e" => Self::Visual,
            _ => Self::None,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Volumetric => "volumetric",
            Self::Proof => "proof",
            Self::Visual => "visual",
        }
    }
}

/// A month, counted from the year 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Month(i32);

impl Month {
    fn of(date: CalendarDate) -> Self {
        Self(i32::from(date.first.year()) * 12 + i32::from(date.first.month()) - 1)
    }

    /// Its last day, if the calendar goes so far.
    fn last_day(self) -> Option<Date> {
        let year = i16::try_from(self.0.div_euclid(12)).ok()?;
        let month = i8::try_from(self.0.rem_euclid(12) + 1).ok()?;
        Some(Date::new(year, month, 1).ok()?.last_of_month())
    }

    fn written(self) -> String {
        format!("{:04}-{:02}", self.0.div_euclid(12), self.0.rem_euclid(12) + 1)
    }
}

/// What the dates on a cylinder come to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Requalification {
    /// Last day of the month in which it is due.
    pub due: Date,
    /// Months from the asked day's month to the due month; negative where overdue.
    pub months_left: i32,
    /// Years from the last date to the due month.
    pub years: i32,
    /// Last day of the month in which it were due if the conditions of the long periods are not met.
    pub due_without_conditions: Date,
    /// The paragraph that the period stands in.
    pub paragraph: &'static str,
}

/// Due month of a DOT 4-series propane cylinder.
///
/// 12 years from manufacture or from a requalification by volumetric expansion, 10 from one by proof
/// pressure (S), 5 from an external visual inspection (E); 49 CFR 180.209(e) and (g), 180.213(f). Without
/// the conditions of 180.209(e) – specification 4B, 4BA, 4BW or 4E, coated outside, non-corrosive gas
/// only – 5 years (180.209, Table 1). "12 and then 7" is for fire-extinguisher cylinders, 180.209(j).
///
/// # Errors
/// [`Problem::Input`] where dates lie in the future, are swapped, or the mark and the date of the last
/// requalification do not go together.
pub fn requalification(
    manufactured: CalendarDate,
    last: Option<CalendarDate>,
    mark: RequalificationMark,
    on: CalendarDate,
) -> Result<Requalification, Problem> {
    let (made, today) = (Month::of(manufactured), Month::of(on));
    if made > today {
        return Err(Problem::input(
            "manufactured",
            format!("{manufactured} lies after {on}; accepted: a date that has been"),
        ));
    }
    let from = match last.map(|last| (last, Month::of(last))) {
        Some((last, month)) if month > today => {
            return Err(Problem::input(
                "last",
                format!("{last} lies after {on}; accepted: a date that has been"),
            ));
        }
        Some((last, month)) if month < made => {
            return Err(Problem::input(
                "last",
                format!(
                    "{last} lies before the manufacture in {manufactured}: the dates are swapped or \
                     misread; accepted: the manufacture or later"
                ),
            ));
        }
        Some((_, month)) => month,
        None if mark == RequalificationMark::None => made,
        None => {
            return Err(Problem::input(
                "last",
                format!(
                    "is missing: the mark {} needs the month of that requalification",
                    mark.word()
                ),
            ));
        }
    };
    // A requalification date without a letter was made by volumetric expansion.
    let row = match (last, mark) {
        (Some(_), RequalificationMark::None) => RequalificationMark::Volumetric.word(),
        (_, mark) => mark.word(),
    };
    let (years, paragraph) = period(row);
    let due = Month(from.0 + 12 * years);
    let day = |month: Month| {
        month.last_day().ok_or_else(|| {
            Problem::input("manufactured", "is out of the calendar; accepted: years up to 9900")
        })
    };
    Ok(Requalification {
        due: day(due)?,
        months_left: due.0 - today.0,
        years,
        due_without_conditions: day(Month(from.0 + 12 * period("base").0))?,
        paragraph,
    })
}

/// Years and paragraph of a row of the table.
fn period(mark: &str) -> (i32, &'static str) {
    let table = &PERIODS;
    table
        .rows()
        .find(|row| row.text("mark") == mark)
        .and_then(|row| Some((row.text("years").parse().ok()?, row.text("paragraph"))))
        .expect("a test looks every mark up in the table")
}

fn month_of(day: Date) -> String {
    Month(i32::from(day.year()) * 12 + i32::from(day.month()) - 1).written()
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.requalification",
    summary: "Month in which a DOT 4-series propane cylinder is due for requalification.",
    inputs: &[
        Input::date("manufactured", "month of manufacture: the first test date stamped"),
        Input::date("last", "month of the latest readable requalification; leave out if none")
            .optional(),
        Input::word(
            "mark",
            &["none", "volumetric", "proof", "visual", "plain", "S", "E", "s", "e"],
            "how it was last requalified: none (never), volumetric or plain (date without a letter), proof \
             or S, visual or E; without it none, or plain where `last` is given",
        )
        .optional(),
        Input::date("on", "day of the inspection"),
    ],
    result: Gives::words("due", "month in which it is due, like 2027-06"),
    parts: &[
        Gives::quantity("months_left", "", "months to the due month; negative where overdue"),
        Gives::words("state", "in_date, due_this_month or overdue"),
        Gives::words("due_through", "last day of the due month"),
        Gives::quantity("years", "", "period that was used"),
        Gives::words(
            "if_conditions_not_met",
            "month in which it were due if the coating is gone or it held another gas",
        ),
    ],
    valid: "specifications 4B, 4BA, 4BW and 4E in propane service; not ASME tanks (no such date), not \
            DOT-39 (never refilled), not Canadian TC marks",
    sources: &[
        Source {
            document: "49 CFR part 180, periods as amended by 85 FR 68790 (2020)",
            section: "180.209(e), (g) Table 2 and Table 1; 180.213(f)(1), (4) and (5)",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "49 CFR part 180",
            section: "180.205(c): good through the end of the due month; a cylinder filled before may be \
                      emptied",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("manufactured", "2015-06"), ("on", "2026-11-25")],
    compute: |inputs| {
        let last = inputs.optional_date("last");
        let mark = RequalificationMark::of(inputs.optional_words("mark").unwrap_or("none"));
        let found = requalification(inputs.date("manufactured")?, last, mark, inputs.date("on")?)?;
        let state = match found.months_left {
            ..0 => "overdue",
            0 => "due_this_month",
            1.. => "in_date",
        };
        let mut outcome = Outcome::new(Output::words(month_of(found.due)))
            .part("months_left", f64::from(found.months_left))
            .part("state", Output::words(state))
            .part("due_through", Output::Day(found.due))
            .part("years", f64::from(found.years))
            .part(
                "if_conditions_not_met",
                Output::words(month_of(found.due_without_conditions)),
            )
            .note(format!(
                "{} years by 49 CFR {}, as amended from 30 November 2020 (85 FR 68790); only for 4B, 4BA, 4BW and 4E cylinders with their coating whole \
                 and in non-corrosive gas",
                found.years, found.paragraph
            ))
            .note(
                "a date that cannot be read is not determined, never a pass; an overdue cylinder is not \
                 refilled until a licensed requalifier has passed it",
            );
        if last.is_some() && mark == RequalificationMark::None {
            outcome = outcome.note(
                "a requalification date without a letter counts as volumetric, the longest period: make \
                 sure that no S or E stands behind it",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use super::{RequalificationMark, period};
    use crate::tests::{call, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "gas.requalification";

    fn dated<'a>(
        manufactured: &'a str,
        last: Option<(&'a str, &'a str)>,
        on: &'a str,
    ) -> Vec<(&'a str, &'a str)> {
        let mut given = vec![("manufactured", manufactured), ("on", on)];
        if let Some((month, mark)) = last {
            given.extend([("last", month), ("mark", mark)]);
        }
        given
    }

    fn words(given: &[(&str, &str)], part: Option<&str>) -> String {
        let outcome = call(NAME, given).unwrap();
        match part.map_or(&outcome.result, |part| part_of(&outcome, part)) {
            Output::Words(words) => words.clone(),
            Output::Day(day) => day.to_string(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn every_mark_has_its_period() {
        for (mark, years) in [
            (RequalificationMark::None, 12),
            (RequalificationMark::Volumetric, 12),
            (RequalificationMark::Proof, 10),
            (RequalificationMark::Visual, 5),
        ] {
            assert_eq!(period(mark.word()).0, years, "{mark:?}");
            assert_eq!(RequalificationMark::of(mark.word()), mark);
        }
        assert_eq!(period("base").0, 5);
    }

    /// 49 CFR 180.209(e), (g) and 180.213(f), worked by the month.
    #[test]
    fn the_due_month_follows_the_mark() {
        for (manufactured, last, due) in [
            ("2015-06", None, "2027-06"),
            ("2004-03", Some(("2016-03", "plain")), "2028-03"),
            ("2004-03", Some(("2016-03", "volumetric")), "2028-03"),
            ("2004-03", Some(("2020-09", "S")), "2030-09"),
            ("2004-03", Some(("2020-09", "proof")), "2030-09"),
            ("2004-03", Some(("2019-04", "E")), "2024-04"),
            ("2008-01", None, "2020-01"),
        ] {
            assert_eq!(words(&dated(manufactured, last, "2026-11"), None), due);
        }
        let new = dated("2015-06", None, "2026-11-25");
        assert_eq!(words(&new, Some("if_conditions_not_met")), "2020-06");
        assert_eq!(words(&new, Some("due_through")), "2027-06-30");
    }

    #[test]
    fn overdue_counts_in_months_and_the_due_month_itself_is_not_overdue() {
        for (manufactured, last, left, state) in [
            ("2004-03", Some(("2019-04", "E")), -31.0, "overdue"),
            ("2008-01", None, -82.0, "overdue"),
            ("2014-11", None, 0.0, "due_this_month"),
            ("2014-12", None, 1.0, "in_date"),
        ] {
            let given = dated(manufactured, last, "2026-11-30");
            check_part(NAME, &given, "months_left", left, "", 0.0);
            assert_eq!(words(&given, Some("state")), state);
        }
    }

    /// "12 and then 7" is 49 CFR 180.209(j), for cylinders of fire extinguishers.
    #[test]
    fn twelve_years_then_seven_is_not_for_propane() {
        let given = dated("2004-03", Some(("2016-03", "plain")), "2026-11");
        assert_ne!(words(&given, None), "2023-03");
    }

    #[test]
    fn dates_that_cannot_be_are_refused() {
        let on = "2026-11";
        for (given, input, why) in [
            (dated("2015-06", Some(("2014-06", "E")), on), "last", "swapped"),
            (dated("2027-01", None, on), "manufactured", "lies after"),
            (dated("2015-06", Some(("2027-06", "E")), on), "last", "lies after"),
            (dated("2015-13", None, on), "manufactured", "is no date"),
            (vec![("manufactured", "2015-06"), ("mark", "S"), ("on", on)], "last", "is missing"),
            (dated("9995-01", None, "9996-01"), "manufactured", "calendar"),
        ] {
            let problem = refuses(NAME, &given, why);
            assert!(
                matches!(problem, Problem::Input { ref name, .. } if name == input),
                "{problem}"
            );
        }
    }

    #[test]
    fn a_date_without_a_letter_is_taken_as_volumetric_and_said() {
        let given = [("manufactured", "2004-03"), ("last", "2016-03"), ("on", "2026-11")];
        assert_eq!(words(&given, None), "2028-03");
        assert!(call(NAME, &given).unwrap().notes.iter().any(|note| note.contains("no S or E")));
    }
}
