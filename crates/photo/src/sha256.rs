//! The name of an original: the SHA-256 of its bytes, written as 64 lower-case hex digits.

use std::{fmt, str::FromStr};

use sha2::Digest;

/// SHA-256 of an original's bytes (FIPS 180-4). It names the photo everywhere in the record.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sha256(pub [u8; 32]);

impl Sha256 {
    /// The hash of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Self(sha2::Sha256::digest(bytes).into())
    }
}

impl fmt::Display for Sha256 {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(out, "{byte:02x}"))
    }
}

impl fmt::Debug for Sha256 {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Sha256({self})")
    }
}

/// A text that is not a photo's name.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\" is not a SHA-256; write 64 hex digits, 0–9 and a–f in lower case")]
pub struct NotASha256(pub String);

impl FromStr for Sha256 {
    type Err = NotASha256;

    /// Upper case is refused: one hash has one spelling, or it could name two files.
    fn from_str(text: &str) -> Result<Self, NotASha256> {
        let digit = |letter: u8| match letter {
            b'0'..=b'9' => Some(letter - b'0'),
            b'a'..=b'f' => Some(letter - b'a' + 10),
            _ => None,
        };
        let refused = || NotASha256(text.to_owned());
        if text.len() != 64 {
            return Err(refused());
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(text.as_bytes().chunks_exact(2)) {
            let high = digit(pair[0]).ok_or_else(refused)?;
            let low = digit(pair[1]).ok_or_else(refused)?;
            *byte = high << 4 | low;
        }
        Ok(Self(bytes))
    }
}
