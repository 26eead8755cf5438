//! Whether a vehicle identification number, as read, satisfies its check digit.

use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Source};

use super::{CheckDigit, VehicleKind, VehicleNumber, model_years};

/// The check digit of a number, and in words what is wrong at which position.
///
/// Every weight is prime to 11, so one misread character is always noticed unless it has the same
/// value as the right one (A, J and 1; B, K, S and 2; and so on). 49 CFR 565.15.
#[must_use]
pub fn check_vin(number: &VehicleNumber, kind: VehicleKind) -> (CheckDigit, Vec<String>) {
    let digit = number.check_digit();
    let mut wrong = Vec::new();
    if !(digit.found.is_ascii_digit() || digit.found == 'X') {
        wrong.push(format!(
            "position 9: {} is no check digit, which is 0 to 9 or X; {} is expected",
            digit.found, digit.expected
        ));
    } else if !digit.agrees() {
        wrong.push(format!(
            "position 9: {} is there and {} is expected; any of the seventeen may be the misread one",
            digit.found, digit.expected
        ));
    }
    if !number.has_year_code() {
        wrong.push(format!("position 10: {} is no model-year code", number.at(10)));
    }
    for position in number.letters_in_sequence(kind) {
        wrong.push(format!(
            "position {position}: {}, where the sequence number has a digit",
            number.at(position)
        ));
    }
    (digit, wrong)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.check_vin",
    summary: "Whether a 17-character vehicle identification number, as read, satisfies its check digit.",
    inputs: &[
        Input::text(
            "number",
            "the number as read; small letters, blanks and hyphens are allowed for",
        ),
        Input::word(
            "vehicle_kind",
            VehicleKind::WORDS,
            "what it is the number of; without it, a trailer",
        )
        .optional(),
        Input::date("on", "day of the inspection, which rules out later model years").optional(),
        Input::date(
            "built",
            "date of manufacture on the certification label, which decides between model years",
        )
        .optional(),
    ],
    result: Gives::words("valid", "the check digit agrees and position 10 holds a model-year code"),
    parts: &[
        Gives::quantity("sum", "", "weighted sum of the characters' values"),
        Gives::words("expected", "what position 9 should be"),
        Gives::words("found", "what position 9 is"),
        Gives::quantity("year_candidates", "", "model years that position 10 can mean"),
        Gives::words("positions", "what is wrong, and at which position"),
    ],
    valid: "17-character numbers, in use since model year 1981",
    sources: &[
        Source {
            document: "49 CFR 565",
            section: "565.15(a) to (c), Tables III to VI; 565.12(c)",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "49 CFR 565",
            section: "565.15(d), Table VII: model-year codes",
            confirmed: Confirmed::Quoted,
        },
        Source {
            document: "49 CFR 565",
            section: "565.15(d): digits at the end of the sequence number",
            confirmed: Confirmed::FromMemory,
        },
    ],
    example: &[("number", "1G4AH59H45G118341"), ("vehicle_kind", "car")],
    compute: |inputs| {
        let (number, mut notes) = VehicleNumber::read(inputs.words("number")?)?;
        let kind = VehicleKind::from_word(inputs.optional_words("vehicle_kind"));
        let (digit, positions) = check_vin(&number, kind);
        let candidates = |built| {
            model_years(number.at(10), kind, Some(number.at(7)), inputs.optional_date("on"), built)
        };
        let years = match inputs.optional_date("built") {
            _ if !number.has_year_code() => Vec::new(),
            None => candidates(None)?,
            // A date that fits no year is one more thing to re-read; it says nothing about the digit.
            Some(built) => candidates(Some(built)).or_else(|_| {
                notes.push(format!(
                    "{built}, the date on the label, goes with no model year that {} can mean: re-read both",
                    number.at(10)
                ));
                candidates(None)
            })?,
        };
        if !digit.agrees() {
            notes.push(
                "the number as read does not satisfy the check digit: re-read or photograph it; this \
                 is no proof of fraud, and imported or home-built trailers may not use the digit"
                    .to_owned(),
            );
        } else if !number.has_year_code() {
            notes.push(
                "the check digit agrees, but position 10 holds no model-year code: re-read it"
                    .to_owned(),
            );
        } else if !number.letters_in_sequence(kind).is_empty() {
            notes.push(
                "the check digit agrees, but a letter stands in the sequence number: re-read it (that \
                 only digits stand there is from memory and decides nothing)"
                    .to_owned(),
            );
        } else {
            notes.push(
                "that the digit agrees does not show that the number is this unit's, nor that it was \
                 ever issued: 11111111111111111 agrees too"
                    .to_owned(),
            );
        }
        if years.len() > 1 {
            notes.push(
                "position 10 repeats every 30 years: the date on the certification label, the title \
                 and the tyres decide"
                    .to_owned(),
            );
        }
        let valid = digit.agrees() && number.has_year_code();
        let outcome = Outcome::new(Output::Truth(valid))
            .part("sum", f64::from(digit.sum))
            .part("expected", Output::words(digit.expected))
            .part("found", Output::words(digit.found))
            .part("year_candidates", Output::list(years.into_iter().map(f64::from)))
            .part("positions", Output::Texts(positions));
        Ok(notes.into_iter().fold(outcome, Outcome::note))
    },
};

#[cfg(test)]
mod tests;
