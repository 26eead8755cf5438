//! What a limit asks of a value.

use quantity::{Unit, Value, write_value};

/// What is judged: a value with its uncertainty, or words.
#[derive(Clone, Debug, PartialEq)]
pub enum Reading {
    /// A quantity.
    Quantity(Value),
    /// Words, such as a pattern or `yes`.
    Words(String),
}

/// What a limit asks. Bounds belong to what is accepted: "at most 14" accepts 14.
#[derive(Clone, Debug, PartialEq)]
pub enum Bound {
    /// This or less.
    AtMost(Value),
    /// This or more.
    AtLeast(Value),
    /// From this to that.
    Between(Value, Value),
    /// One of these words.
    OneOf(Vec<String>),
}

impl Bound {
    /// The bound in words, quantities written in this unit: `at most 14 inH2O`.
    #[must_use]
    pub fn words(&self, unit: Option<&Unit>) -> String {
        let write = |value: &Value| match unit {
            Some(unit) => write_value(*value, unit),
            None => value.base.to_string(),
        };
        match self {
            Self::AtMost(most) => format!("at most {}", write(most)),
            Self::AtLeast(least) => format!("at least {}", write(least)),
            Self::Between(least, most) => format!("{} to {}", write(least), write(most)),
            Self::OneOf(words) => words.join(" or "),
        }
    }

    /// Lower and upper bound in SI base units; none for words.
    #[must_use]
    pub fn interval(&self) -> Option<(f64, f64)> {
        match self {
            Self::AtMost(most) => Some((f64::NEG_INFINITY, most.base)),
            Self::AtLeast(least) => Some((least.base, f64::INFINITY)),
            Self::Between(least, most) => Some((least.base, most.base)),
            Self::OneOf(_) => None,
        }
    }
}
