//! Whether an identification number is the same in every place where it stands.

use crate::placed::{self, Placed};
use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

use super::{repair_vin::look_alikes, vehicle_number::digit_for_forbidden};

/// What kind of number is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberKind {
    /// A vehicle identification number, or the serial number of an older trailer.
    VehicleNumber,
    /// The serial number of a manufactured home, whose sections carry one letter more at either end.
    HomeSerial,
}

/// One place whose number differs from what most places have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceDifference {
    /// The place.
    pub place: String,
    /// In words: where it differs, and what stands there.
    pub words: String,
    /// Whether every character that differs only looks like the other.
    pub only_look_alikes: bool,
}

/// Capital letters without blanks and hyphens, as numbers are compared.
fn plain(text: &str) -> Vec<char> {
    text.chars()
        .filter(|character| !character.is_whitespace() && !character.is_ascii_punctuation())
        .map(|character| character.to_ascii_uppercase())
        .collect()
}

/// Whether two numbers are the same; the serials of two sections of a home are, their letters left aside.
fn same(one: &[char], other: &[char], kind: NumberKind) -> bool {
    if one == other {
        return true;
    }
    match kind {
        NumberKind::VehicleNumber => false,
        NumberKind::HomeSerial => {
            forms(one).any(|form| forms(other).any(|against| form == against))
        }
    }
}

/// A serial number as it is, and without the letter of its section at the end or in front.
fn forms(number: &[char]) -> impl Iterator<Item = &[char]> {
    let is_letter = |character: Option<&char>| character.is_some_and(char::is_ascii_alphabetic);
    let without_last = is_letter(number.last()).then(|| &number[..number.len() - 1]);
    let without_first = is_letter(number.first()).then(|| &number[1..]);
    [Some(number), without_last, without_first].into_iter().flatten()
}

/// Whether one character may have been misread for the other.
fn look_alike(one: char, other: char) -> bool {
    look_alikes(one).any(|character| character == other)
        || digit_for_forbidden(one) == Some(other)
        || digit_for_forbidden(other) == Some(one)
}

/// The places that differ from the number that most places have, or from the first where none has most.
///
/// Numbers are compared in capitals, without blanks and hyphens. Places that were not read are not
/// compared.
#[must_use]
pub fn places_agree(numbers: &[(String, String)], kind: NumberKind) -> Vec<PlaceDifference> {
    let read: Vec<(&str, Vec<char>)> =
        numbers.iter().map(|(place, text)| (place.as_str(), plain(text))).collect();
    let with = |number: &[char]| -> Vec<&str> {
        let agreeing = read.iter().filter(|(_, other)| same(number, other, kind));
        agreeing.map(|(place, _)| *place).collect()
    };
    let mut reference: Option<(&[char], Vec<&str>)> = None;
    for (_, number) in &read {
        let places = with(number);
        if reference.as_ref().is_none_or(|(_, most)| places.len() > most.len()) {
            reference = Some((number, places));
        }
    }
    let Some((reference, places)) = reference else { return Vec::new() };
    read.iter()
        .filter(|(_, number)| !same(reference, number, kind))
        .map(|(place, number)| {
            difference(place, number, reference, &placed::sentence(places.iter().copied()))
        })
        .collect()
}

fn difference(place: &str, number: &[char], reference: &[char], others: &str) -> PlaceDifference {
    let write = |number: &[char]| number.iter().collect::<String>();
    if number.len() != reference.len() {
        let common = number.iter().zip(reference).take_while(|(one, other)| one == other).count();
        let words = format!(
            "{place}: {} characters ({}), {others}: {} ({}); they part at position {}",
            number.len(),
            write(number),
            reference.len(),
            write(reference),
            common + 1
        );
        return PlaceDifference { place: place.to_owned(), words, only_look_alikes: false };
    }
    let differing: Vec<(usize, char, char)> = number
        .iter()
        .zip(reference)
        .enumerate()
        .filter(|(_, (one, other))| one != other)
        .map(|(at, (one, other))| (at + 1, *one, *other))
        .collect();
    let at: Vec<String> = differing
        .iter()
        .map(|(position, one, other)| format!("position {position} is {one}, not {other}"))
        .collect();
    PlaceDifference {
        place: place.to_owned(),
        words: format!("{place} against {others}: {}", at.join("; ")),
        only_look_alikes: differing.iter().all(|(_, one, other)| look_alike(*one, *other)),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.places_agree",
    summary: "Whether an identification number is the same in every place where it stands.",
    inputs: &[
        Input::text(
            "numbers",
            "place: number; place: number, as read on the label, the frame, the papers; a place without a number was not read",
        ),
        Input::text("record", "the number in the record of the inspection; without it, not compared")
            .optional(),
        Input::word(
            "number_kind",
            &["vehicle_number", "home_serial"],
            "home_serial: a manufactured home's, where the letter of a section is left aside; without it, vehicle_number",
        )
        .optional(),
    ],
    result: Gives::words("agreement", "agree, differ, or one place only"),
    parts: &[
        Gives::words("differences", "which place differs, and in which characters"),
        Gives::words("compared", "the places that were compared"),
        Gives::words("not_compared", "the places that were not read"),
    ],
    valid: "",
    sources: &[
        Source {
            document: "definition: the same characters, blanks and hyphens left aside",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "Louisiana RS 911.30; California 25 CCR 4030(c)",
            section: "the letter of a section stands behind or before a home's serial number",
            confirmed: Confirmed::Read,
        },
    ],
    example: &[("numbers", "label: 1G4AH59H45G118341; frame: 1G4AH59H45G118331; papers:")],
    compute: |inputs| {
        let places = placed::read("numbers", inputs.words("numbers")?)?;
        let kind = match inputs.optional_words("number_kind") {
            Some("home_serial") => NumberKind::HomeSerial,
            _ => NumberKind::VehicleNumber,
        };
        let mut read: Vec<(String, String)> =
            places.read.into_iter().map(|Placed { place, text }| (place, text)).collect();
        if let Some(record) = inputs.optional_words("record").filter(|text| !text.is_empty()) {
            read.push(("record".to_owned(), record.to_owned()));
        }
        if let Some((place, text)) = read.iter().find(|(_, text)| plain(text).is_empty()) {
            return Err(Problem::input(
                "numbers",
                format!("`{text}` at {place} holds no letter and no digit; leave a place that was not read empty"),
            ));
        }
        let differences = places_agree(&read, kind);
        let agreement = match (read.len(), differences.is_empty()) {
            (0, _) => {
                return Err(Problem::input("numbers", "holds no number; accepted: place: number"));
            }
            (1, _) => "one place only",
            (_, true) => "agree",
            (_, false) => "differ",
        };
        let texts = |differences: &[PlaceDifference]| {
            Output::Texts(differences.iter().map(|difference| difference.words.clone()).collect())
        };
        let mut outcome = Outcome::new(Output::words(agreement))
            .part("differences", texts(&differences))
            .part("compared", Output::Texts(read.into_iter().map(|(place, _)| place).collect()))
            .part("not_compared", Output::Texts(places.unread));
        if !differences.is_empty() {
            outcome = outcome.note(
                "read each place again before anything is concluded: a number is often misread or miscopied, and \
                 a difference is no proof of fraud",
            );
            if differences.iter().all(|difference| difference.only_look_alikes) {
                outcome = outcome.note("all that differs are characters that look alike");
            }
        }
        if agreement == "agree" && kind == NumberKind::HomeSerial {
            outcome = outcome.note("the letter of a section was left aside");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::invented::valid_number;
    use crate::{
        Evaluation, Output, Problem,
        tests::{call, part_of, refuses},
    };

    const NAME: &str = "identity.places_agree";
    const TRUE: &str = "1G4AH59H45G118341";

    fn said(numbers: &str, more: &[(&str, &str)]) -> Evaluation {
        call(NAME, &[&[("numbers", numbers)], more].concat()).unwrap()
    }

    fn texts(outcome: &Evaluation, part: &str) -> Vec<String> {
        let Output::Texts(texts) = part_of(outcome, part) else { panic!("no texts") };
        texts.clone()
    }

    #[test]
    fn the_same_number_agrees_whatever_its_blanks_and_capitals() {
        let outcome = said("label: 1G4AH59H45G118341; frame: 1g4ah 59h4-5G118341; papers:", &[]);
        assert_eq!(outcome.result, Output::words("agree"));
        assert_eq!(texts(&outcome, "compared"), ["label", "frame"]);
        assert_eq!(texts(&outcome, "not_compared"), ["papers"]);
        assert_eq!(texts(&outcome, "differences"), Vec::<String>::new());
    }

    #[test]
    fn the_place_that_differs_is_named_with_its_characters() {
        let outcome = said(
            "label: 1G4AH59H45G118341; frame: 1G4AH59H45G118331; papers: 1G4AH59H45G118341",
            &[("record", TRUE)],
        );
        assert_eq!(outcome.result, Output::words("differ"));
        assert_eq!(
            texts(&outcome, "differences"),
            ["frame against label, papers and record: position 16 is 3, not 4"]
        );
    }

    /// Two against one: the odd one out is named even where it comes first.
    #[test]
    fn most_places_decide_which_one_differs() {
        let outcome = said(
            "label: 1G4AH59H45G11B341; frame: 1G4AH59H45G118341; papers: 1G4AH59H45G118341",
            &[],
        );
        assert_eq!(
            texts(&outcome, "differences"),
            ["label against frame and papers: position 14 is B, not 8"]
        );
        assert!(outcome.notes.iter().any(|note| note.contains("look alike")));
    }

    #[test]
    fn a_number_of_another_length_says_where_they_part() {
        let outcome = said("label: 1G4AH59H45G118341; papers: 1G4AH59H5G118341", &[]);
        assert_eq!(
            texts(&outcome, "differences"),
            [
                "papers: 16 characters (1G4AH59H5G118341), label: 17 (1G4AH59H45G118341); they part at position 9"
            ]
        );
    }

    #[test]
    fn one_place_alone_is_not_compared() {
        assert_eq!(
            said("label: 1G4AH59H45G118341; frame:", &[]).result,
            Output::words("one place only")
        );
        assert_eq!(
            said("label: 1G4AH59H45G118341", &[("record", TRUE)]).result,
            Output::words("agree")
        );
    }

    /// Louisiana RS 911.30 puts the letter of a section behind, California 25 CCR 4030(c) before; the
    /// numbers are invented.
    #[test]
    fn the_letter_of_a_section_is_left_aside_for_homes_only() {
        for serials in [
            "data_plate: LAXX12345; frame: LAXX12345A",
            "data_plate: LAXX12345B; frame: LAXX12345A",
            "data_plate: 7712345; frame: A7712345",
        ] {
            let home = said(serials, &[("number_kind", "home_serial")]);
            assert_eq!(home.result, Output::words("agree"), "{serials}");
            assert_eq!(said(serials, &[]).result, Output::words("differ"), "{serials}");
        }
        let other =
            said("data_plate: LAXX12345A; frame: LAXX12346A", &[("number_kind", "home_serial")]);
        assert_eq!(other.result, Output::words("differ"));
    }

    #[test]
    fn what_is_no_list_of_numbers_is_refused() {
        for (numbers, words) in [
            ("1G4AH59H45G118341", "does not say where"),
            ("label: A1; label: A2", "names label twice"),
            ("label: ; frame:", "holds no number"),
            ("", "holds no number"),
            ("label: --; frame: A1", "no letter and no digit"),
        ] {
            let problem = refuses(NAME, &[("numbers", numbers)], words);
            assert!(matches!(problem, Problem::Input { .. }), "{numbers}");
        }
    }

    proptest! {
        /// Unlike the check digit, comparing notices every wrong character.
        #[test]
        fn one_wrong_character_is_always_noticed_and_placed(
            truth in valid_number(), position in 1usize..=17, other in "[0-9A-HJ-NPR-Z]"
        ) {
            let other = other.chars().next().unwrap();
            prop_assume!(other != truth.at(position));
            let misread = truth.with(position, other);
            let outcome = said(&format!("label: {truth}; papers: {truth}; frame: {misread}"), &[]);
            let wanted = format!(
                "frame against label and papers: position {position} is {other}, not {}",
                truth.at(position)
            );
            prop_assert_eq!(texts(&outcome, "differences"), [wanted]);
        }
    }
}
