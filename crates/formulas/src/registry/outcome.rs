//! What a formula gives: a main result, named parts, and notes.

use jiff::civil::Date;
use quantity::{Quantity, Value};

/// One result.
#[derive(Clone, Debug, PartialEq)]
pub enum Output {
    /// A quantity.
    Quantity(Value),
    /// Several quantities of one kind, in order.
    Quantities(Vec<Value>),
    /// Words.
    Words(String),
    /// Several words or texts, in order.
    Texts(Vec<String>),
    /// Yes or no.
    Truth(bool),
    /// A day.
    Day(Date),
}

impl<Q: Quantity> From<Q> for Output {
    fn from(quantity: Q) -> Self {
        Self::Quantity(Value::of(quantity))
    }
}

impl Output {
    /// Words.
    pub fn words(words: impl Into<String>) -> Self {
        Self::Words(words.into())
    }

    /// Several quantities.
    pub fn list<Q: Quantity>(quantities: impl IntoIterator<Item = Q>) -> Self {
        Self::Quantities(quantities.into_iter().map(Value::of).collect())
    }
}

/// Everything one call gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The main result.
    pub result: Output,
    /// Further results by name.
    pub parts: Vec<(&'static str, Output)>,
    /// What a reader must know beside the numbers, in sentences.
    pub notes: Vec<String>,
}

impl Outcome {
    /// An outcome with its main result.
    pub fn new(result: impl Into<Output>) -> Self {
        Self { result: result.into(), parts: Vec::new(), notes: Vec::new() }
    }

    /// The same with one more part.
    #[must_use]
    pub fn part(mut self, name: &'static str, output: impl Into<Output>) -> Self {
        self.parts.push((name, output.into()));
        self
    }

    /// Where the (first) number of a part stands among all numbers of the outcome, those of the main result
    /// first; an empty name is the main result. None if it has no number.
    #[must_use]
    pub fn number_of(&self, part: &str) -> Option<usize> {
        let count = |output: &Output| match output {
            Output::Quantity(_) => 1,
            Output::Quantities(values) => values.len(),
            Output::Words(_) | Output::Texts(_) | Output::Truth(_) | Output::Day(_) => 0,
        };
        let outputs = self.parts.iter().map(|(name, output)| (*name, output));
        let mut before = 0;
        for (name, output) in std::iter::once(("", &self.result)).chain(outputs) {
            if name == part {
                return (count(output) > 0).then_some(before);
            }
            before += count(output);
        }
        None
    }

    /// The same with one more note.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }
}
