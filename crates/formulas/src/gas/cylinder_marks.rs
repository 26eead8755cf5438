//! The marks on a propane cylinder's collar, read letter by letter.

use quantity::{Kind, Mass, Pressure, Quantity, exact, parse_value};

use super::cylinder_capacity::{FILLING_TABLE, cylinder_capacity};
use crate::{CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

/// Specifications whose marks are read here, the longer before the shorter that they begin with.
const SPECIFICATIONS: [&str; 6] = ["4B240ET", "4BA", "4BW", "4B", "4E", "39"];

/// No cylinder of these specifications is older: a stamp that could only be is misread.
const EARLIEST: i16 = 1940;

/// A month in a year.
type Month = (i16, i8);

/// What a collar says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CylinderMarks {
    /// Specification, such as 4BA.
    pub specification: Option<&'static str>,
    /// Pressure that it was made for, above the atmosphere's.
    pub service_pressure: Option<Pressure>,
    /// Tare weight, with valve.
    pub tare: Option<Mass>,
    /// Water capacity at 60 °F.
    pub water_capacity: Option<Mass>,
    /// Month of manufacture.
    pub manufactured: Option<Month>,
    /// Month of the latest requalification, with the letter behind it: none, S or E.
    pub last: Option<(Month, Option<char>)>,
}

/// A date as it is stamped: month, year of two or four digits, whether a requalifier's number stands between them,
/// and the letter behind.
struct Stamp {
    month: i8,
    year: String,
    requalifier: bool,
    letter: Option<char>,
}

/// Reads the marks of a collar in the order in which they are stamped, such as
/// `DOT-4BA240 TW 17.0 WC 47.6 06 15 04 A123 25 E`.
///
/// A year of two digits is the latest that has been; a requalification also lies after the manufacture.
///
/// # Errors
/// [`Problem::Input`] for a mark that cannot be read, with the mark; [`Problem::OutOfRange`] for a Canadian mark.
pub fn read_marks(text: &str, on: CalendarDate) -> Result<CylinderMarks, Problem> {
    let upper =
        text.to_uppercase().replace("T.W.", "TW ").replace("W.C.", "WC ").replace("D.T.", "DT ");
    let mut marks = CylinderMarks::default();
    let mut rest = tokens(&upper);
    let mut stamps = Vec::new();
    while let Some(token) = rest.first().cloned() {
        rest.remove(0);
        if says_nothing(&token, rest.first()) {
            continue;
        }
        if let Some(after) = token.strip_prefix("DOT") {
            let after = after.trim_start_matches('-');
            let spec = if after.is_empty() && !rest.is_empty() {
                rest.remove(0)
            } else {
                after.to_owned()
            };
            let (specification, pressure) = specification(&spec)?;
            (marks.specification, marks.service_pressure) = (Some(specification), pressure);
        } else if token.starts_with("TC") || token.starts_with("CTC") {
            return Err(Problem::out_of_range(
                "Canadian marks (TC, CTC) follow other rules; valid for DOT marks",
            ));
        } else if let Some(after) = token.strip_prefix("TW").or_else(|| token.strip_prefix("WC")) {
            let weight = weight(&token[..2], after, &mut rest)?;
            if token.starts_with("TW") {
                marks.tare = Some(weight);
            } else {
                marks.water_capacity = Some(weight);
            }
        } else if let Some(after) = token.strip_prefix("DT") {
            // The dip tube's length in inches tells nothing that is used here.
            let number =
                if after.is_empty() && !rest.is_empty() { rest.remove(0) } else { after.into() };
            if number.parse::<f64>().is_err() {
                return Err(unreadable(&format!("DT {number}")));
            }
        } else if token.bytes().all(|byte| byte.is_ascii_digit()) {
            stamps.push(stamp(&token, &mut rest)?);
        } else {
            return Err(unreadable(&token));
        }
    }
    date_stamps(&stamps, on, &mut marks)?;
    if marks == CylinderMarks::default() {
        return Err(Problem::input("marks", format!("has nothing in it; {ACCEPTED}")));
    }
    Ok(marks)
}

/// Whether a mark tells nothing that is used here: the gas, a serial number and the maker's letters before it.
fn says_nothing(token: &str, next: Option<&String>) -> bool {
    // Too long for a month or a year.
    let serial = |token: &str| token.len() > 4 && token.bytes().all(|byte| byte.is_ascii_digit());
    let letters = token.bytes().all(|byte| byte.is_ascii_alphabetic());
    ["MFG", "LP", "LPG", "GAS", "PROPANE"].contains(&token)
        || serial(token)
        || (letters && next.is_some_and(|next| serial(next)))
}

const ACCEPTED: &str =
    "accepted: the marks as stamped, such as DOT-4BA240 TW 17.0 WC 47.6 06 15 04 A123 25 E";

fn unreadable(token: &str) -> Problem {
    Problem::input(
        "marks",
        format!(
            "`{token}` cannot be read, so it is not determined and nothing is guessed; {ACCEPTED}"
        ),
    )
}

/// The marks one by one: dates may be joined by a hyphen or a stroke, a requalifier's number stand in brackets.
fn tokens(upper: &str) -> Vec<String> {
    let spaced = upper.replace([',', ';', '[', ']', '(', ')'], " ");
    let mut tokens = Vec::new();
    for word in spaced.split_whitespace() {
        let of_a_date = word.starts_with(|first: char| first.is_ascii_digit());
        if of_a_date && word.contains(['-', '/']) {
            tokens.extend(word.split(['-', '/']).map(str::to_owned));
        } else if word != "LB" && word != "LBS" {
            tokens.push(word.to_owned());
        }
    }
    tokens
}

fn specification(text: &str) -> Result<(&'static str, Option<Pressure>), Problem> {
    let found = SPECIFICATIONS.into_iter().find(|known| text.starts_with(known));
    let Some(known) = found else { return Err(unreadable(&format!("DOT-{text}"))) };
    let after = text[known.len()..].trim_start_matches('-');
    // The pressure of 4B240ET stands inside its name.
    let after = if known == "4B240ET" { "240" } else { after };
    if after.is_empty() {
        return Ok((known, None));
    }
    let psi: f64 = after.parse().map_err(|_| unreadable(&format!("DOT-{text}")))?;
    Ok((known, Some(Pressure::new::<exact::pressure::pound_per_square_inch>(psi))))
}

/// The weight behind TW or WC, in pounds where no unit stands there.
fn weight(name: &str, glued: &str, rest: &mut Vec<String>) -> Result<Mass, Problem> {
    let number =
        if glued.is_empty() && !rest.is_empty() { rest.remove(0) } else { glued.to_owned() };
    let plain = number.trim_end_matches("LBS").trim_end_matches("LB");
    match parse_value(&format!("{plain} lb"), Kind::Mass) {
        Ok(value) if value.base > 0.0 => Ok(Mass::from_base(value.base)),
        _ => Err(unreadable(&format!("{name} {number}"))),
    }
}

/// A date from its month on.
fn stamp(month: &str, rest: &mut Vec<String>) -> Result<Stamp, Problem> {
    let number = month.parse().ok().filter(|month| (1..=12).contains(month));
    let number: i8 = number.ok_or_else(|| unreadable(month))?;
    let is_year = |token: &String| {
        matches!(token.len(), 2 | 4) && token.bytes().all(|byte| byte.is_ascii_digit())
    };
    let mut take = || if rest.is_empty() { None } else { Some(rest.remove(0)) };
    let first = take().ok_or_else(|| unreadable(month))?;
    // Between month and year stands the requalifier's number of four, or the inspector's own mark.
    let (year, requalifier) = if is_year(&first) {
        (first, false)
    } else {
        let year = take().filter(is_year);
        let year = year.ok_or_else(|| unreadable(&format!("{month} {first}")))?;
        (year, first.len() == 4)
    };
    let letter = match rest.first().map(String::as_str) {
        Some("S") => Some('S'),
        Some("E") => Some('E'),
        _ => None,
    };
    if letter.is_some() {
        rest.remove(0);
    }
    Ok(Stamp { month: number, year, requalifier, letter })
}

/// Sorts the dates: the first without a requalifier's number and letter is the manufacture, the latest other one
/// the last requalification.
fn date_stamps(
    stamps: &[Stamp],
    on: CalendarDate,
    marks: &mut CylinderMarks,
) -> Result<(), Problem> {
    let plain = |stamp: &Stamp| !stamp.requalifier && stamp.letter.is_none();
    let made = stamps.iter().position(plain);
    if let Some(made) = made {
        marks.manufactured = Some(month_of(&stamps[made], None, on)?);
    }
    for (at, stamp) in stamps.iter().enumerate() {
        if Some(at) == made {
            continue;
        }
        let month = month_of(stamp, marks.manufactured, on)?;
        if marks.last.is_none_or(|(last, _)| last <= month) {
            marks.last = Some((month, stamp.letter));
        }
    }
    Ok(())
}

/// The latest month that a stamp can mean, not after the day and not before the manufacture.
fn month_of(stamp: &Stamp, made: Option<Month>, on: CalendarDate) -> Result<Month, Problem> {
    let written = format!("{:02} {}", stamp.month, stamp.year);
    let year: i16 = stamp.year.parse().map_err(|_| unreadable(&written))?;
    let today = (on.first.year(), on.first.month());
    let candidates =
        if stamp.year.len() == 4 { vec![year] } else { vec![2000 + year, 1900 + year] };
    let past: Vec<Month> = candidates
        .into_iter()
        .map(|year| (year, stamp.month))
        .filter(|month| *month <= today && month.0 >= EARLIEST)
        .collect();
    if past.is_empty() {
        return Err(Problem::input(
            "marks",
            format!(
                "{written} lies after {on}, or before there were such cylinders; read it again"
            ),
        ));
    }
    past.into_iter().find(|month| made.is_none_or(|made| *month >= made)).ok_or_else(|| {
        Problem::input(
            "marks",
            format!("{written} lies before the manufacture: the dates are swapped or misread"),
        )
    })
}

fn written((year, month): Month) -> Output {
    Output::words(format!("{year:04}-{month:02}"))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.cylinder_marks",
    summary: "What the marks on a DOT propane cylinder's collar say.",
    inputs: &[
        Input::text(
            "marks",
            "the marks as they are stamped, such as DOT-4BA240 TW 17.0 WC 47.6 06 15 04 A123 25 E; what cannot be \
             read is left out, never guessed",
        ),
        Input::date("on", "day of the inspection"),
    ],
    result: Gives::words("specification", "such as 4BA; `not stamped` where no DOT mark was given"),
    parts: &[
        Gives::quantity("service_pressure", "psi", "pressure that it was made for"),
        Gives::quantity("tare", "lb", "weight empty, with valve: TW"),
        Gives::quantity("water_capacity", "lb", "water that it holds at 60 degF: WC"),
        Gives::quantity("capacity", "lb", "propane that it may hold: 42 % of the water capacity"),
        Gives::words("manufactured", "month of manufacture, like 2015-06"),
        Gives::words("last", "month of the latest requalification"),
        Gives::words("mark", "how that was made: plain, S or E; none where there is no such date"),
    ],
    valid: "DOT specifications 4B, 4BA, 4BW, 4E and 39; a mark that is not given has no part",
    sources: &[
        Source {
            document: "49 CFR parts 178 and 180",
            section: "178.35(f): marks of manufacture; 180.213(d): the requalifier’s number between month and year",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "49 CFR part 180, as amended by 85 FR 68790 (2020)",
            section: "180.213(f): letters S and E behind the date",
            confirmed: Confirmed::Quoted,
        },
        FILLING_TABLE,
    ],
    example: &[("marks", "DOT-4BA240 TW 17.0 WC 47.6 06 15"), ("on", "2026-11-25")],
    compute: |inputs| {
        let marks = read_marks(inputs.words("marks")?, inputs.date("on")?)?;
        let mut outcome = Outcome::new(Output::words(marks.specification.unwrap_or("not stamped")));
        if let Some(pressure) = marks.service_pressure {
            outcome = outcome.part("service_pressure", pressure);
        }
        if let Some(tare) = marks.tare {
            outcome = outcome.part("tare", tare);
        }
        if let Some(water) = marks.water_capacity {
            outcome =
                outcome.part("water_capacity", water).part("capacity", cylinder_capacity(water));
        }
        if let Some(made) = marks.manufactured {
            outcome = outcome.part("manufactured", written(made));
        }
        let mark = match marks.last {
            None => "none",
            Some((_, Some('S'))) => "S",
            Some((_, Some(_))) => "E",
            Some((_, None)) => "plain",
        };
        if let Some((last, _)) = marks.last {
            outcome = outcome.part("last", written(last));
        }
        outcome = outcome.part("mark", Output::words(mark));
        if marks.specification == Some("39") {
            outcome = outcome.note("DOT-39 is never refilled: empty, it is thrown away");
        }
        if marks.manufactured.is_none() {
            outcome = outcome.note(
                "no month of manufacture was read: whether it may be filled is not determined, never a pass",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{call, check_part, part_of, refuses};
    use crate::{Output, Problem};

    const NAME: &str = "gas.cylinder_marks";

    fn collar(marks: &str) -> [(&str, &str); 2] {
        [("marks", marks), ("on", "2026-11-25")]
    }

    fn word(marks: &str, part: &str) -> Option<String> {
        let outcome = call(NAME, &collar(marks)).unwrap();
        if part == "specification" {
            let Output::Words(word) = outcome.result else { panic!("no words") };
            return Some(word);
        }
        outcome.parts.iter().find(|(name, _)| *name == part).map(|(_, output)| match output {
            Output::Words(word) => word.clone(),
            other => panic!("{other:?}"),
        })
    }

    #[test]
    fn a_collar_is_read_mark_by_mark() {
        for written in [
            "DOT-4BA240 TW 17.0 WC 47.6 06 15",
            "dot-4ba240  t.w. 17.0 lb, w.c. 47.6 lb; 6-15",
            "DOT 4BA240 TW17.0 WC47.6LB 06/2015",
            "WC 47.6 06 K 15 TW 17.0 DOT-4BA-240",
            "DOT 4BA240 W.C. 47.6 LB T.W. 17.0 LB D.T. 4.0 MFG 06 15 RK 31877 LP GAS",
        ] {
            let given = collar(written);
            assert_eq!(word(written, "specification").as_deref(), Some("4BA"), "{written}");
            check_part(NAME, &given, "service_pressure", 240.0, "psi", 1e-9);
            check_part(NAME, &given, "tare", 17.0, "lb", 1e-9);
            check_part(NAME, &given, "water_capacity", 47.6, "lb", 1e-9);
            check_part(NAME, &given, "capacity", 19.992, "lb", 1e-9);
            assert_eq!(word(written, "manufactured").as_deref(), Some("2015-06"), "{written}");
            assert_eq!(word(written, "mark").as_deref(), Some("none"), "{written}");
        }
    }

    #[test]
    fn of_several_dates_the_latest_counts_with_its_letter() {
        for (written, last, mark) in [
            ("03 04 03 A123 16", "2016-03", "plain"),
            ("03 04 09 [A123] 20 S", "2020-09", "S"),
            ("03 04 03 A123 16 04 B456 19 E", "2019-04", "E"),
            ("03 04 04-B456-19 E 03 A123 16", "2019-04", "E"),
        ] {
            assert_eq!(word(written, "manufactured").as_deref(), Some("2004-03"), "{written}");
            assert_eq!(word(written, "last").as_deref(), Some(last), "{written}");
            assert_eq!(word(written, "mark").as_deref(), Some(mark), "{written}");
        }
    }

    #[test]
    fn a_year_of_two_digits_is_the_latest_that_has_been() {
        assert_eq!(word("11 26", "manufactured").as_deref(), Some("2026-11"));
        refuses(NAME, &collar("12 26"), "lies after 2026-11-25, or before");
        assert_eq!(word("06 88", "manufactured").as_deref(), Some("1988-06"));
        assert_eq!(word("06 88 05 A123 01", "last").as_deref(), Some("2001-05"));
    }

    #[test]
    fn a_cylinder_that_is_never_refilled_and_one_without_a_date_are_said() {
        let notes = |marks: &str| call(NAME, &collar(marks)).unwrap().notes.concat();
        assert!(notes("DOT-39 06 15").contains("never refilled"));
        assert!(notes("DOT-4BW240 TW 24.5").contains("never a pass"));
        assert!(
            notes("04 A123 25 E").contains("never a pass"),
            "a requalification is no manufacture"
        );
        assert!(!notes("DOT-4BA240 06 15").contains("never"));
    }

    #[test]
    fn what_cannot_be_read_is_named_and_never_guessed() {
        for (marks, words) in [
            ("", "has nothing in it"),
            ("DOT-4BA240 ?? 15", "`??` cannot be read"),
            ("13 15", "`13` cannot be read"),
            ("06", "`06` cannot be read"),
            ("06 A123 S", "`06 A123` cannot be read"),
            ("DOT-9Z240", "`DOT-9Z240` cannot be read"),
            ("TW heavy", "`TW HEAVY` cannot be read"),
            ("D.T. long", "`DT LONG` cannot be read"),
            ("06 2031", "lies after"),
            ("06 15 05 A123 2014", "swapped"),
        ] {
            let problem = refuses(NAME, &collar(marks), words);
            assert!(
                matches!(problem, Problem::Input { ref name, .. } if name == "marks"),
                "{problem}"
            );
        }
        let problem = refuses(NAME, &collar("TC-4BAM17 06 15"), "Canadian");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }

    #[test]
    fn the_date_and_its_mark_are_those_that_the_rule_of_requalification_takes() {
        let outcome = call(NAME, &collar("03 04 04 B456 19 E")).unwrap();
        let text = |part: &str| match part_of(&outcome, part) {
            Output::Words(words) => words.clone(),
            other => panic!("{other:?}"),
        };
        let (made, last, mark) = (text("manufactured"), text("last"), text("mark"));
        let given = [
            ("manufactured", made.as_str()),
            ("last", last.as_str()),
            ("mark", mark.as_str()),
            ("on", "2026-11-25"),
        ];
        let due = call("gas.requalification", &given).unwrap().result;
        assert_eq!(due, Output::words("2024-04"));
    }
}
