//! What a misread vehicle identification number may have been.

use crate::{Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

use super::{
    VehicleKind, VehicleNumber,
    vehicle_number::{YEAR_CODES, change_note},
};

/// Pairs of characters that are mistaken for each other on stamped and printed plates: our own
/// choice. The two of a pair never have the same value, so one such misreading is always noticed.
pub(super) const LOOK_ALIKES: [(char, char); 24] = [
    ('0', 'D'),
    ('0', 'C'),
    ('0', '6'),
    ('1', '7'),
    ('1', 'L'),
    ('1', 'T'),
    ('2', 'Z'),
    ('3', '8'),
    ('3', 'B'),
    ('4', 'A'),
    ('5', 'S'),
    ('5', '6'),
    ('6', '8'),
    ('6', 'G'),
    ('7', 'T'),
    ('7', 'Z'),
    ('8', 'B'),
    ('C', 'G'),
    ('E', 'F'),
    ('H', 'N'),
    ('K', 'X'),
    ('M', 'N'),
    ('P', 'R'),
    ('U', 'V'),
];

/// A number that the one read may have been, and what was changed to get it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// The number.
    pub number: VehicleNumber,
    /// What was changed, in words.
    pub change: String,
}

/// The numbers that satisfy the check digit and the rules of positions 9, 10 and 14 to 17, and differ
/// from the one read in one look-alike character, in order of position. If the number as read
/// satisfies them, it is the only candidate. None is ever picked: with one misread character there
/// are usually two to four.
#[must_use]
pub fn repair_vin(number: &VehicleNumber) -> Vec<Candidate> {
    if is_possible(number) {
        return vec![Candidate { number: *number, change: "nothing changed".to_owned() }];
    }
    let mut candidates = Vec::new();
    for (at, character) in number.characters().iter().enumerate() {
        for other in look_alikes(*character) {
            let changed = number.with(at + 1, other);
            if is_possible(&changed) {
                let change = change_note(at + 1, *character, other);
                candidates.push(Candidate { number: changed, change });
            }
        }
    }
    candidates
}

fn is_possible(number: &VehicleNumber) -> bool {
    number.check_digit().agrees()
        && YEAR_CODES.contains(number.at(10))
        && number.letters_in_sequence(VehicleKind::Trailer).is_empty()
}

/// The characters that a character may have been.
pub(super) fn look_alikes(character: char) -> impl Iterator<Item = char> {
    LOOK_ALIKES.into_iter().filter_map(move |(one, other)| {
        if character == one {
            Some(other)
        } else if character == other {
            Some(one)
        } else {
            None
        }
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "identity.repair_vin",
    summary: "What a misread vehicle identification number may have been; none is ever picked.",
    inputs: &[Input::text(
        "number",
        "the number as read, 17 characters; I, O and Q are allowed for",
    )],
    result: Gives::words("candidates", "numbers that satisfy the check digit; possibly none"),
    parts: &[Gives::words("changes", "what was changed for each candidate, in the same order")],
    valid: "one misread look-alike character, beside I, O and Q",
    sources: &[
        Source {
            document: "49 CFR 565",
            section: "565.15(c), Tables III to VI",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "49 CFR 565",
            section: "565.15(d): digits at the end of the sequence number",
            confirmed: Confirmed::FromMemory,
        },
        Source {
            document: "24 pairs of look-alike characters",
            section: "",
            confirmed: Confirmed::OwnChoice,
        },
    ],
    example: &[("number", "1G4AH59H45G11B341")],
    compute: |inputs| {
        let (number, notes) = VehicleNumber::read_with_forbidden_letters(inputs.words("number")?)?;
        let candidates = repair_vin(&number);
        let advice = match candidates.len() {
            0 => {
                "no single look-alike explains the number: more than one character may be misread, or \
                  the maker did not use the digit; re-read or photograph it"
            }
            1 => {
                "one candidate is no proof: compare it with the plate or its photo before it is used"
            }
            _ => "the plate, its photo and the maker's code must decide between the candidates",
        };
        let mapped: Vec<String> =
            notes.iter().filter(|note| note.starts_with("position")).cloned().collect();
        let change = |candidate: &Candidate| {
            let mut changes = mapped.clone();
            if mapped.is_empty() || candidate.number != number {
                changes.push(candidate.change.clone());
            }
            changes.join("; ")
        };
        let changes = candidates.iter().map(change).collect();
        let numbers = candidates.iter().map(|candidate| candidate.number.to_string()).collect();
        let outcome = Outcome::new(Output::Texts(numbers)).part("changes", Output::Texts(changes));
        Ok::<_, Problem>(notes.into_iter().fold(outcome, Outcome::note).note(advice))
    },
};

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::{invented::valid_number, vehicle_number::value};
    use super::{LOOK_ALIKES, VehicleNumber, look_alikes, repair_vin};
    use crate::{
        Output, Problem,
        tests::{call, part_of, refuses},
    };

    fn texts(output: &Output) -> Vec<String> {
        let Output::Texts(texts) = output else { panic!("no texts: {output:?}") };
        texts.clone()
    }

    fn repair(number: &str) -> (Vec<String>, Vec<String>) {
        let outcome = call("identity.repair_vin", &[("number", number)]).unwrap();
        (texts(&outcome.result), texts(part_of(&outcome, "changes")))
    }

    #[test]
    fn look_alikes_never_have_the_same_value() {
        for (one, other) in LOOK_ALIKES {
            assert_ne!(value(one).unwrap(), value(other).unwrap(), "{one} {other}");
        }
    }

    /// The example of 49 CFR 565.15, Table VI, with one 8 read as B.
    #[test]
    fn a_b_in_the_sequence_was_an_eight() {
        let (candidates, changes) = repair("1G4AH59H45G11B341");
        assert_eq!(candidates, ["1G4AH59H45G118341"]);
        assert_eq!(changes, ["position 14: B read as 8"]);
    }

    /// Counted over all characters at all positions: far too many for arithmetic alone to decide.
    #[test]
    fn arithmetic_alone_would_allow_49_repairs() {
        let (read, _) = VehicleNumber::read("1G4AH59H45G11B341").unwrap();
        let repairs = (1..=17)
            .flat_map(|position| {
                "0123456789ABCDEFGHJKLMNPRSTUVWXYZ".chars().map(move |c| (position, c))
            })
            .filter(|(position, character)| {
                read.at(*position) != *character
                    && read.with(*position, *character).check_digit().agrees()
            })
            .count();
        assert_eq!(repairs, 49);
    }

    #[test]
    fn forbidden_letters_are_mapped_and_said() {
        let (candidates, changes) = repair("IG4AH59H45GII8341");
        assert_eq!(candidates, ["1G4AH59H45G118341"]);
        assert_eq!(
            changes,
            ["position 1: I read as 1; position 12: I read as 1; position 13: I read as 1"]
        );
        let (candidates, _) = repair("1M8GDM9AXKPQ42788");
        assert_eq!(candidates, ["1M8GDM9AXKP042788"]);
    }

    #[test]
    fn a_number_that_agrees_is_left_alone() {
        let (candidates, changes) = repair("1g4ah59h45g118341");
        assert_eq!(candidates, ["1G4AH59H45G118341"]);
        assert_eq!(changes, ["nothing changed"]);
    }

    #[test]
    fn a_number_of_another_length_is_refused() {
        let problem =
            refuses("identity.repair_vin", &[("number", "1G4AH59H45G11834")], "16 characters");
        assert!(matches!(problem, Problem::Input { .. }));
    }

    proptest! {
        /// The true number is always among the candidates after one look-alike misreading.
        #[test]
        fn the_true_number_is_among_the_candidates(
            truth in valid_number(), position in 1usize..=17, pick in any::<proptest::sample::Index>()
        ) {
            let others: Vec<char> = look_alikes(truth.at(position)).collect();
            prop_assume!(!others.is_empty());
            let misread = truth.with(position, others[pick.index(others.len())]);
            prop_assert!(!misread.check_digit().agrees());
            let candidates = repair_vin(&misread);
            prop_assert!(candidates.iter().any(|candidate| candidate.number == truth), "{candidates:?}");
            for candidate in &candidates {
                prop_assert!(candidate.number.check_digit().agrees());
            }
        }
    }
}
