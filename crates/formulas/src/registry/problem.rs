//! Why a formula gives no result.

use std::fmt;

/// Why a formula gives no result. Callers act on the difference: an input error is for the person
/// to correct, an out-of-range question has no answer here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Problem {
    /// An input is unknown, missing, of the wrong kind, or impossible.
    Input {
        /// The input's name.
        name: String,
        /// What is wrong and what is accepted.
        sentence: String,
    },
    /// The inputs are possible, but outside the range that the formula is valid for.
    OutOfRange {
        /// Which range, and what was given.
        sentence: String,
    },
}

impl Problem {
    /// An input error.
    pub fn input(name: impl Into<String>, sentence: impl Into<String>) -> Self {
        Self::Input { name: name.into(), sentence: sentence.into() }
    }

    /// Inputs outside the formula's range.
    pub fn out_of_range(sentence: impl Into<String>) -> Self {
        Self::OutOfRange { sentence: sentence.into() }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input { name, sentence } => write!(formatter, "{name}: {sentence}"),
            Self::OutOfRange { sentence } => formatter.write_str(sentence),
        }
    }
}

impl std::error::Error for Problem {}
