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

    /// Lower and upper end, each none where there is no such end; none for words.
    #[must_use]
    pub fn ends(&self) -> Option<(Option<Value>, Option<Value>)> {
        match self {
            Self::AtMost(most) => Some((None, Some(*most))),
            Self::AtLeast(least) => Some((Some(*least), None)),
            Self::Between(least, most) => Some((Some(*least), Some(*most))),
            Self::OneOf(_) => None,
        }
    }

    /// Lower and upper bound in SI base units; none for words.
    #[must_use]
    pub fn interval(&self) -> Option<(f64, f64)> {
        let (least, most) = self.ends()?;
        Some((
            least.map_or(f64::NEG_INFINITY, |least| least.base),
            most.map_or(f64::INFINITY, |most| most.base),
        ))
    }
}
