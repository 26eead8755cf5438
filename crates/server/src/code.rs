//! One-time pairing codes: forty random bits in eight letters that are hard to mistake.
//!
//! The alphabet is Crockford's base 32 (<https://www.crockford.com/base32.html>): digits and capital
//! letters without I, L, O and U. What a person types may be in small letters, with or without the
//! hyphen, with I or L for 1 and O for 0.

use sha2::{Digest, Sha256};

const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const LETTERS: usize = 8;

/// A one-time pairing code.
#[derive(Clone, PartialEq, Eq)]
pub struct Code([u8; LETTERS]);

impl Code {
    /// A code from five random bytes.
    #[must_use]
    pub fn from_random(random: [u8; 5]) -> Self {
        let bits = random.iter().fold(0_u64, |bits, byte| bits << 8 | u64::from(*byte));
        let mut letters = [0; LETTERS];
        for (at, letter) in letters.iter_mut().rev().enumerate() {
            let value = bits >> (5 * at) & 31;
            *letter = ALPHABET[usize::try_from(value).unwrap_or_default()];
        }
        Self(letters)
    }

    /// What a person typed or a phone scanned; `None` if it is no code.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut letters = Vec::new();
        for letter in text.bytes().filter(|byte| !b"- ".contains(byte)) {
            letters.push(match letter.to_ascii_uppercase() {
                b'I' | b'L' => b'1',
                b'O' => b'0',
                other if ALPHABET.contains(&other) => other,
                _ => return None,
            });
        }
        letters.try_into().ok().map(Self)
    }

    /// What the store keeps of it.
    #[must_use]
    pub fn sha256(&self) -> [u8; 32] {
        Sha256::digest(self.0).into()
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (at, letter) in self.0.iter().enumerate() {
            let hyphen = if at == LETTERS / 2 { "-" } else { "" };
            write!(formatter, "{hyphen}{}", char::from(*letter))?;
        }
        Ok(())
    }
}

impl std::fmt::Debug for Code {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // A code in a log would let its reader in.
        formatter.write_str("Code(…)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_forty_bits_in_base_32() {
        assert_eq!(Code::from_random([0; 5]).to_string(), "0000-0000");
        assert_eq!(Code::from_random([255; 5]).to_string(), "ZZZZ-ZZZZ");
        // 1 · 32⁷ + 2 · 32⁶ + … + 8, by the alphabet's own order.
        let bits = (1..=8_u64).fold(0, |bits, digit| bits << 5 | digit);
        let random: [u8; 5] = bits.to_be_bytes()[3..].try_into().unwrap();
        assert_eq!(Code::from_random(random).to_string(), "1234-5678");
    }

    #[test]
    fn what_a_person_types_is_forgiven() {
        let code = Code::read("1O2K-9XYZ").unwrap();
        for typed in ["102k9xyz", "i o 2 k 9 x y z", "LO2K-9XYZ", " 102K-9XYZ "] {
            assert_eq!(Code::read(typed).as_ref(), Some(&code), "{typed}");
        }
        for wrong in ["", "102K-9XY", "102K-9XYZ0", "102U-9XYZ", "102K_9XYZ", "ä02K-9XY"] {
            assert_eq!(Code::read(wrong), None, "{wrong}");
        }
    }
}
