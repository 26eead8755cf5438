//! The check digit against published numbers, its own laws, and two outside libraries.

#![allow(clippy::panic, reason = "a wrong kind of output ends the test")]

use proptest::prelude::*;

use super::super::{VehicleNumber, invented::valid_number, vehicle_number::value};
use crate::{
    Output, Problem,
    tests::{call, check_part, part_of, refuses},
};

const NAME: &str = "identity.check_vin";

/// Written by reference/identity/generate.py.
const REFERENCE: &str = include_str!("../../../../../reference/identity/numbers.csv");

fn is_valid(pairs: &[(&str, &str)]) -> bool {
    let Output::Truth(valid) = call(NAME, pairs).unwrap().result else { panic!("no yes or no") };
    valid
}

fn words(number: &str, part: &str) -> String {
    let outcome = call(NAME, &[("number", number)]).unwrap();
    let Output::Words(words) = part_of(&outcome, part) else { panic!("no words") };
    words.clone()
}

fn positions(number: &str) -> Vec<String> {
    let outcome = call(NAME, &[("number", number)]).unwrap();
    let Output::Texts(texts) = part_of(&outcome, "positions") else { panic!("no texts") };
    texts.clone()
}

/// 49 CFR 565.15, Table VI (first row), and numbers that circulate as examples; the sums were
/// computed from Tables III and IV and agree with vininfo 1.11.0 on every verdict.
#[test]
fn published_numbers_have_their_sum_and_digit() {
    for (number, sum, expected, valid) in [
        ("1G4AH59H45G118341", 411.0, "4", true),
        ("1M8GDM9AXKP042788", 351.0, "X", true),
        ("11111111111111111", 89.0, "1", true),
        ("1FAPP64R7LH123456", 403.0, "7", true),
        ("JH2RC3605MM101581", 280.0, "5", true),
        ("LJCPCBLCX11000237", 186.0, "X", true),
        ("1G4AH59H45G118331", 408.0, "1", false),
        ("1G4AH59H55G118341", 411.0, "4", false),
    ] {
        check_part(NAME, &[("number", number)], "sum", sum, "", 0.0);
        assert_eq!(words(number, "expected"), expected, "{number}");
        assert_eq!(words(number, "found"), &number[8..9], "{number}");
        assert_eq!(is_valid(&[("number", number)]), valid, "{number}");
    }
}

#[test]
fn what_is_wrong_is_said_with_its_position() {
    assert_eq!(positions("1G4AH59H45G118341"), Vec::<String>::new());
    assert!(
        positions("1G4AH59H55G118341")[0].starts_with("position 9: 5 is there and 4 is expected")
    );
    assert!(positions("1G4AH59HK5G118341")[0].starts_with("position 9: K is no check digit"));
    assert_eq!(
        positions("1G4AH59H45G11B341")[1],
        "position 14: B, where the sequence number has a digit"
    );
}

/// The digit of this number agrees; U is no model-year code.
#[test]
fn a_number_without_a_model_year_code_is_not_valid() {
    let number = "1G4AH59H6UG118341";
    assert_eq!(words(number, "expected"), "6");
    assert!(!is_valid(&[("number", number)]));
    assert_eq!(positions(number), ["position 10: U is no model-year code"]);
    let outcome = call(NAME, &[("number", number)]).unwrap();
    assert_eq!(part_of(&outcome, "year_candidates"), &Output::Quantities(Vec::new()));
}

#[test]
fn small_letters_blanks_and_hyphens_are_allowed_for_and_said() {
    let outcome = call(NAME, &[("number", " 1g4ah59h4-5G 118341")]).unwrap();
    assert_eq!(outcome.result, Output::Truth(true));
    assert!(outcome.notes.iter().any(|note| note.contains("without its blanks and hyphens")));
    assert!(outcome.notes.iter().any(|note| note.contains("small letters")));
}

#[test]
fn what_cannot_be_a_number_is_refused_with_its_place() {
    for (number, said) in [
        ("1G4AH59H45G11834O", "position 17 is the letter O"),
        ("1G4AH59H45G11834O", "looks like 0"),
        ("1G4AH59H45GI18341", "position 12 is the letter I"),
        ("1G4AH59H45GQ18341", "position 12 is the letter Q"),
        ("1G4AH59H45G11834é", "position 17 is `é`"),
        ("1G4AH59H45G11834", "has 16 characters; accepted: 17"),
        ("1G4AH59H45G1183411", "has 18 characters; accepted: 17"),
        ("", "has 0 characters"),
    ] {
        let problem = refuses(NAME, &[("number", number)], said);
        assert!(matches!(problem, Problem::Input { .. }), "{number}");
    }
}

#[test]
fn the_year_goes_by_the_kind_of_vehicle() {
    let years = |pairs: &[(&str, &str)]| {
        let outcome = call(NAME, pairs).unwrap();
        let Output::Quantities(values) = part_of(&outcome, "year_candidates").clone() else {
            panic!("no list")
        };
        values.into_iter().map(|value| value.base).collect::<Vec<f64>>()
    };
    let number = ("number", "1G4AH59H45G118341");
    assert_eq!(years(&[number]), [2005.0, 2035.0]);
    assert_eq!(years(&[number, ("on", "2026-11-25")]), [2005.0]);
    assert_eq!(years(&[number, ("vehicle_kind", "car")]), [2005.0]);
}

#[test]
fn the_label_date_decides_between_the_years_and_never_over_the_digit() {
    let with = |built: &str| {
        call(NAME, &[("number", "1G4AH59H45G118341"), ("on", "2036-01-01"), ("built", built)])
            .unwrap()
    };
    let years = |outcome: &crate::Evaluation| match part_of(outcome, "year_candidates") {
        Output::Quantities(values) => values.iter().map(|value| value.base).collect::<Vec<f64>>(),
        other => panic!("{other:?}"),
    };
    assert_eq!(years(&with("2004-09")), [2005.0]);
    assert_eq!(years(&with("2034-09")), [2035.0]);
    let contradicting = with("2019-06");
    assert_eq!(contradicting.result, Output::Truth(true));
    assert_eq!(years(&contradicting), [2005.0, 2035.0]);
    assert!(
        contradicting
            .notes
            .iter()
            .any(|note| note.contains("2019-06, the date on the label, goes with no"))
    );
}

/// Verdicts of vininfo 1.11.0 and of ultravin 3.0.2's check digit, which agree on every row.
#[test]
fn the_verdict_agrees_with_two_libraries() {
    let mut counts = [0, 0];
    for row in REFERENCE.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let [number, verdict, expected] = cells[..] else { panic!("{row}") };
        match verdict {
            "refused" => {
                assert!(
                    matches!(call(NAME, &[("number", number)]), Err(Problem::Input { .. })),
                    "{row}"
                );
            }
            "yes" | "no" => {
                assert_eq!(words(number, "expected"), expected, "{row}");
                assert_eq!(is_valid(&[("number", number)]), verdict == "yes", "{row}");
                counts[usize::from(verdict == "yes")] += 1;
            }
            other => panic!("{other}"),
        }
    }
    assert!(counts.iter().all(|count| *count >= 900), "{counts:?}");
    assert!(counts.iter().sum::<i32>() >= 2_000, "{counts:?}");
}

/// Counted from Tables III and IV of 49 CFR 565.15: of the 512 ways to misread one character of the example
/// of Table VI, its check digit apart, 39 keep the sum.
#[test]
fn of_512_single_misreadings_of_the_published_example_39_go_unnoticed() {
    let (truth, _) = VehicleNumber::read("1G4AH59H45G118341").unwrap();
    let mut counts = [0, 0];
    for position in (1..=17).filter(|position| *position != 9) {
        for other in "0123456789ABCDEFGHJKLMNPRSTUVWXYZ".chars() {
            if other != truth.at(position) {
                let agrees = truth.with(position, other).check_digit().agrees();
                counts[usize::from(agrees)] += 1;
            }
        }
    }
    assert_eq!(counts, [512 - 39, 39]);
}

/// 49 CFR 565.15, Table III: the groups of characters that the digit cannot tell apart.
#[test]
fn characters_of_one_value_stand_in_their_published_groups() {
    for (worth, group) in
        (0..).zip(["0", "1AJ", "2BKS", "3CLT", "4DMU", "5ENV", "6FW", "7GPX", "8HY", "9RZ"])
    {
        for character in group.chars() {
            assert_eq!(value(character), Some(worth), "{character}");
        }
    }
    for character in ['I', 'O', 'Q', 'a', '-', 'É'] {
        assert_eq!(value(character), None, "{character}");
    }
}

proptest! {
    /// Every weight is prime to 11, so only a character of the same value goes unnoticed.
    #[test]
    fn one_wrong_character_is_noticed_unless_it_has_the_same_value(
        truth in valid_number(), position in 1usize..=17, other in "[0-9A-HJ-NPR-Z]"
    ) {
        let other = other.chars().next().unwrap();
        prop_assume!(other != truth.at(position));
        let misread = truth.with(position, other);
        let same = position != 9 && value(other) == value(truth.at(position));
        prop_assert_eq!(misread.check_digit().agrees(), same);
    }

    /// Neighbouring weights differ modulo 11 away from position 9.
    #[test]
    fn swapped_neighbours_are_noticed_if_their_values_differ(
        truth in valid_number(), position in (1usize..=15).prop_filter("9 stays", |at| ![8, 9].contains(at))
    ) {
        let (one, other) = (truth.at(position), truth.at(position + 1));
        let swapped = truth.with(position, other).with(position + 1, one);
        prop_assert_eq!(swapped.check_digit().agrees(), value(one) == value(other));
    }

    #[test]
    fn no_text_is_too_strange_to_be_answered(text in ".{0,24}") {
        let answer = call(NAME, &[("number", &text)]);
        let answered = matches!(answer, Ok(_) | Err(Problem::Input { .. }));
        prop_assert!(answered, "{:?}", answer);
    }
}
