//! The names things are kept under: a job's id and the SHA-256 of a blob.

use std::{fmt, str::FromStr};

use sha2::{Digest, Sha256};

use crate::StoreError;

/// A job's id: 1 to 64 letters, digits, `-` or `_`, so that it may stand in a file name or an
/// address as it is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(String);

impl JobId {
    /// Takes `text` as an id if it is one.
    pub fn new(text: &str) -> Result<Self, StoreError> {
        let refused = |why: String| {
            Err(StoreError::Refused {
                what: format!(
                    "job id {text:?} {why}; it takes 1 to 64 letters a to z, digits, \"-\" or \"_\""
                ),
            })
        };
        if text.is_empty() {
            return refused("is empty".into());
        }
        if text.len() > 64 {
            return refused(format!("has {} bytes", text.len()));
        }
        if let Some(odd) = text.chars().find(|c| !c.is_ascii_alphanumeric() && !"-_".contains(*c)) {
            return refused(format!("contains {odd:?}"));
        }
        Ok(Self(text.to_owned()))
    }

    /// The id as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for JobId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for JobId {
    type Err = StoreError;

    fn from_str(text: &str) -> Result<Self, StoreError> {
        Self::new(text)
    }
}

/// The SHA-256 (FIPS 180-4) of a blob, in 64 lower-case hexadecimal digits: the blob's name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sha256Hex(String);

impl Sha256Hex {
    /// Takes `text` as a hash if it is one.
    pub fn new(text: &str) -> Result<Self, StoreError> {
        let digits = text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        if text.len() != 64 || !digits {
            return Err(StoreError::Refused {
                what: format!(
                    "{text:?} is no SHA-256; it takes 64 hexadecimal digits 0 to 9, a to f"
                ),
            });
        }
        Ok(Self(text.to_owned()))
    }

    /// The hash of `bytes`.
    pub fn of(bytes: &[u8]) -> Self {
        Self::from_digest(Sha256::digest(bytes).into())
    }

    pub(crate) fn from_digest(digest: [u8; 32]) -> Self {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let digit = |value: u8| char::from(DIGITS[usize::from(value)]);
        Self(digest.iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect())
    }

    /// The 64 digits.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Sha256Hex {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for Sha256Hex {
    type Err = StoreError;

    fn from_str(text: &str) -> Result<Self, StoreError> {
        Self::new(text)
    }
}
