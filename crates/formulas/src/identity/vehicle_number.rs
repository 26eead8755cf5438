//! The seventeen characters of a vehicle identification number: reading them, and what each is worth.

use crate::Problem;

use super::VehicleKind;

/// Model-year codes in their order, from 1980 and again from 2010 (49 CFR 565.15(d), Table VII).
pub(super) const YEAR_CODES: &str = "ABCDEFGHJKLMNPRSTVWXY123456789";

/// Weights of the positions (49 CFR 565.15(c), Table IV). Position 9 is the check digit itself.
const WEIGHTS: [u32; 17] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/// A number of the right length that holds only characters which can stand in one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VehicleNumber {
    characters: [char; 17],
}

/// The check digit as it is and as it should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CheckDigit {
    /// Sum of the characters' values times their positions' weights.
    pub sum: u32,
    /// What position 9 should be.
    pub expected: char,
    /// What position 9 is.
    pub found: char,
}

impl CheckDigit {
    /// Whether the number satisfies it.
    #[must_use]
    pub fn agrees(self) -> bool {
        self.expected == self.found
    }
}

impl VehicleNumber {
    /// Reads a number; small letters, blanks and hyphens are allowed for, and noted.
    ///
    /// # Errors
    /// [`Problem::Input`] if there are not seventeen characters, or some cannot stand in a number.
    pub fn read(text: &str) -> Result<(Self, Vec<String>), Problem> {
        let (characters, notes) = seventeen(text)?;
        let wrong: Vec<String> = characters
            .iter()
            .enumerate()
            .filter(|(_, character)| value(**character).is_none())
            .map(|(at, character)| impossible(at + 1, *character))
            .collect();
        if wrong.is_empty() {
            Ok((Self { characters }, notes))
        } else {
            Err(Problem::input(
                "number",
                format!(
                    "{}; accepted: A to Z without I, O and Q, and 0 to 9: re-read or photograph \
                     the plate",
                    wrong.join("; ")
                ),
            ))
        }
    }

    /// Reads a number, taking I for 1 and O and Q for 0; each is noted.
    ///
    /// # Errors
    /// [`Problem::Input`] as for [`Self::read`], the three letters apart.
    pub fn read_with_forbidden_letters(text: &str) -> Result<(Self, Vec<String>), Problem> {
        let (mut characters, mut notes) = seventeen(text)?;
        for (at, character) in characters.iter_mut().enumerate() {
            if let Some(digit) = digit_for_forbidden(*character) {
                notes.push(change_note(at + 1, *character, digit));
                *character = digit;
            }
        }
        let (number, _) = Self::read(&characters.iter().collect::<String>())?;
        Ok((number, notes))
    }

    /// The character at a position, counted from 1 as on paper.
    #[must_use]
    pub fn at(&self, position: usize) -> char {
        self.characters[position - 1]
    }

    /// The characters, in order.
    pub(super) fn characters(&self) -> &[char; 17] {
        &self.characters
    }

    /// The same number with another character at a position, counted from 1.
    pub(super) fn with(&self, position: usize, character: char) -> Self {
        let mut changed = *self;
        changed.characters[position - 1] = character;
        changed
    }

    /// The check digit: the weighted sum modulo 11, where 10 is written X (49 CFR 565.15(c)).
    #[must_use]
    pub fn check_digit(&self) -> CheckDigit {
        let sum = self
            .characters
            .iter()
            .zip(WEIGHTS)
            .map(|(character, weight)| value(*character).unwrap_or(0) * weight)
            .sum();
        let expected = char::from_digit(sum % 11, 10).unwrap_or('X');
        CheckDigit { sum, expected, found: self.at(9) }
    }

    /// Whether position 10 holds a model-year code.
    #[must_use]
    pub fn has_year_code(&self) -> bool {
        YEAR_CODES.contains(self.at(10))
    }

    /// The positions at the end that hold a letter where the sequence has digits only: the last four,
    /// and the last five of cars and light trucks (from memory).
    #[must_use]
    pub fn letters_in_sequence(&self, kind: VehicleKind) -> Vec<usize> {
        let first = if kind.is_light() { 13 } else { 14 };
        (first..=17).filter(|position| !self.at(*position).is_ascii_digit()).collect()
    }
}

impl std::fmt::Display for VehicleNumber {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.characters.iter().try_for_each(|character| write!(formatter, "{character}"))
    }
}

/// What was read otherwise than it stands.
pub(super) fn change_note(position: usize, from: char, to: char) -> String {
    format!("position {position}: {from} read as {to}")
}

/// The digit that a letter which never stands in a number is usually misread from.
pub(super) fn digit_for_forbidden(letter: char) -> Option<char> {
    match letter {
        'I' => Some('1'),
        'O' | 'Q' => Some('0'),
        _ => None,
    }
}

fn impossible(position: usize, character: char) -> String {
    match digit_for_forbidden(character) {
        Some(digit) => format!(
            "position {position} is the letter {character}, which never stands in a number; it looks \
             like {digit}"
        ),
        None => {
            format!("position {position} is `{character}`, which never stands in a number")
        }
    }
}

/// Capital letters without blanks and hyphens; exactly seventeen.
fn seventeen(text: &str) -> Result<([char; 17], Vec<String>), Problem> {
    let solid: Vec<char> = text
        .chars()
        .filter(|character| !character.is_whitespace() && !is_hyphen(*character))
        .collect();
    let characters: Vec<char> =
        solid.iter().map(|character| character.to_ascii_uppercase()).collect();
    let mut notes = Vec::new();
    if solid.len() != text.chars().count() {
        notes.push("the number was read without its blanks and hyphens".to_owned());
    }
    if characters != solid {
        notes.push("small letters were read as capitals".to_owned());
    }
    let count = characters.len();
    let characters = characters.try_into().map_err(|_| {
        Problem::input(
            "number",
            format!(
                "has {count} characters; accepted: 17 (a number from before model year 1981 has \
                 another form, and a manufactured home's serial number is none: neither can be \
                 checked)"
            ),
        )
    })?;
    Ok((characters, notes))
}

fn is_hyphen(character: char) -> bool {
    matches!(character, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// What a character is worth (49 CFR 565.15(c), Table III).
pub(super) fn value(character: char) -> Option<u32> {
    match character {
        '0'..='9' => character.to_digit(10),
        'A' | 'J' => Some(1),
        'B' | 'K' | 'S' => Some(2),
        'C' | 'L' | 'T' => Some(3),
        'D' | 'M' | 'U' => Some(4),
        'E' | 'N' | 'V' => Some(5),
        'F' | 'W' => Some(6),
        'G' | 'P' | 'X' => Some(7),
        'H' | 'Y' => Some(8),
        'R' | 'Z' => Some(9),
        _ => None,
    }
}
