//! The model years that the tenth character of a vehicle identification number can mean.

use crate::{CalendarDate, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

use super::{VehicleKind, vehicle_number::YEAR_CODES, vehicle_number::value};

/// First model year of each cycle of thirty codes.
const CYCLES: [i16; 2] = [1980, 2010];

/// The model years that a code can mean, earliest first.
///
/// The codes repeat every 30 years. Position 7 tells the cycle of cars and light trucks (a digit:
/// 1980 to 2009, a letter: 2010 to 2039) and says nothing for other vehicles. A model year is never
/// later than two years after `on`, and is the year of manufacture, the one before or the two after.
///
/// # Errors
/// [`Problem::Input`] if the code is none, or contradicts the dates.
pub fn model_years(
    code: char,
    kind: VehicleKind,
    position_7: Option<char>,
    on: Option<CalendarDate>,
    built: Option<CalendarDate>,
) -> Result<Vec<i16>, Problem> {
    let place = YEAR_CODES.chars().position(|known| known == code).ok_or_else(|| {
        Problem::input(
            "code",
            format!(
                "`{code}` is no model-year code; accepted at position 10: A to Y without I, O, Q, U \
                 and Z, and 1 to 9"
            ),
        )
    })?;
    let place = i16::try_from(place).unwrap_or(0);
    let mut years: Vec<i16> = CYCLES.iter().map(|first| first + place).collect();
    if let (true, Some(seventh)) = (kind.is_light(), position_7) {
        let cycle = usize::from(!seventh.is_ascii_digit());
        years = vec![years[cycle]];
    }
    if let Some(on) = on {
        years.retain(|year| *year <= on.last.year() + 2);
        if years.is_empty() {
            return Err(Problem::input(
                "on",
                format!("is before every model year that {code} can mean; re-read both"),
            ));
        }
    }
    if let Some(built) = built {
        years.retain(|year| (built.first.year() - 1..=built.last.year() + 2).contains(year));
        if years.is_empty() {
            return Err(Problem::input(
                "built",
                format!("does not go with any model year that {code} can mean; re-read both"),
            ));
        }
    }
    Ok(years)
}

/// One character that can stand in a vehicle identification number.
fn one_character(name: &str, text: &str) -> Result<char, Problem> {
    let mut characters = text.chars().map(|character| character.to_ascii_uppercase());
    match (characters.next(), characters.next()) {
        (Some(character), None) => Ok(character),
        _ => Err(Problem::input(name, format!("`{text}` is not one character; accepted: one"))),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.model_years",
    summary: "The model years that position 10 of a vehicle identification number can mean.",
    inputs: &[
        Input::text("code", "the character at position 10"),
        Input::word(
            "vehicle_kind",
            VehicleKind::WORDS,
            "what it is the number of; without it, a trailer",
        )
        .optional(),
        Input::date("on", "day of the inspection; without it, later years are not ruled out")
            .optional(),
        Input::text(
            "position_7",
            "the character at position 7, which decides for cars and light trucks",
        )
        .optional(),
        Input::date("built", "date of manufacture on the certification label").optional(),
    ],
    result: Gives::quantity("model_years", "", "candidates, earliest first"),
    parts: &[],
    valid: "17-character numbers, in use since model year 1981",
    sources: &[
        Source {
            document: "49 CFR 565",
            section: "565.15(d), Table VII",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "NHTSA, final rule on 49 CFR 565 (2008)",
            section: "discussion of position 7: it tells the cycle of cars and light trucks only",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "a model year is at most two years after the calendar year",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("code", "L"), ("vehicle_kind", "trailer"), ("on", "2025-11-25")],
    compute: |inputs| {
        let code = one_character("code", inputs.words("code")?)?;
        let kind = VehicleKind::from_word(inputs.optional_words("vehicle_kind"));
        let seventh = inputs
            .optional_words("position_7")
            .map(|text| one_character("position_7", text))
            .transpose()?;
        if let Some(character) = seventh.filter(|character| value(*character).is_none()) {
            return Err(Problem::input(
                "position_7",
                format!(
                    "`{character}` never stands in a number; accepted: A to Z without I, O and Q, and 0 to 9"
                ),
            ));
        }
        let years = model_years(
            code,
            kind,
            seventh,
            inputs.optional_date("on"),
            inputs.optional_date("built"),
        )?;
        let several = years.len() > 1;
        let mut outcome = Outcome::new(Output::list(years.into_iter().map(f64::from))).note(
            "the model year is not the year of manufacture: age is counted from the label's date",
        );
        if !kind.is_light() && seventh.is_some() {
            outcome = outcome.note("position 7 says nothing about the year here: it decides for cars and light trucks only");
        }
        if several {
            outcome = outcome.note(
                "more than one year is possible: the certification label, the title and the tyres decide",
            );
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use crate::{
        Output,
        tests::{call, refuses},
    };

    fn check(pairs: &[(&str, &str)], years: &[f64]) {
        let Output::Quantities(got) = call("identity.model_years", pairs).unwrap().result else {
            panic!("no list")
        };
        let got: Vec<f64> = got.iter().map(|value| value.base).collect();
        assert_eq!(got, years, "{pairs:?}");
    }

    /// 49 CFR 565.15(d), Table VII: A is 1980 and 2010, Y 2000 and 2030, 1 2001 and 2031, 9 2009 and 2039.
    #[test]
    fn codes_repeat_every_thirty_years() {
        for (code, years) in [
            ("A", [1980.0, 2010.0]),
            ("L", [1990.0, 2020.0]),
            ("Y", [2000.0, 2030.0]),
            ("1", [2001.0, 2031.0]),
            ("9", [2009.0, 2039.0]),
        ] {
            check(&[("code", code), ("vehicle_kind", "trailer")], &years);
        }
    }

    #[test]
    fn a_trailer_keeps_both_years_whatever_position_seven_is() {
        for seventh in ["R", "9"] {
            check(
                &[
                    ("code", "a"),
                    ("vehicle_kind", "trailer"),
                    ("on", "2025-11-25"),
                    ("position_7", seventh),
                ],
                &[1980.0, 2010.0],
            );
        }
        check(
            &[("code", "K"), ("vehicle_kind", "heavy_vehicle"), ("position_7", "9")],
            &[1989.0, 2019.0],
        );
    }

    #[test]
    fn position_seven_decides_for_cars_and_light_trucks() {
        for kind in ["car", "light_truck"] {
            check(&[("code", "K"), ("vehicle_kind", kind), ("position_7", "9")], &[1989.0]);
            check(&[("code", "K"), ("vehicle_kind", kind), ("position_7", "C")], &[2019.0]);
        }
    }

    #[test]
    fn a_year_more_than_two_ahead_is_ruled_out() {
        check(&[("code", "1"), ("on", "2025-06-01")], &[2001.0]);
        check(&[("code", "V"), ("on", "2025-06-01")], &[1997.0, 2027.0]);
        check(&[("code", "W"), ("on", "2025-06-01")], &[1998.0]);
    }

    #[test]
    fn the_label_date_decides() {
        check(&[("code", "L"), ("vehicle_kind", "trailer"), ("built", "2020-06")], &[2020.0]);
        refuses("identity.model_years", &[("code", "L"), ("built", "2005-06")], "re-read both");
    }

    #[test]
    fn characters_that_are_no_code_are_refused() {
        for code in ["U", "Z", "0", "I", "O", "Q", "AB", "", "é"] {
            let problem = refuses("identity.model_years", &[("code", code)], "code");
            assert!(matches!(problem, crate::Problem::Input { .. }), "{code}");
        }
        refuses("identity.model_years", &[("code", "A"), ("position_7", "Q")], "never stands");
        refuses("identity.model_years", &[("code", "A"), ("on", "1970-01-01")], "before every");
    }
}
