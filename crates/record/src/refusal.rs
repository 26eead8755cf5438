//! Why the record does not take an edit.

use std::fmt;

/// Why the record does not take an edit: the kind of mistake, and a sentence in English that says what exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What kind of mistake it is: what a program that speaks another language says.
    pub kind: RefusalKind,
    sentence: String,
}

/// What is wrong with an edit, by what a person can do about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RefusalKind {
    /// What is to be added stands there already.
    There,
    /// What is to be changed is not there, or not any more.
    Gone,
    /// A reason or a name is needed, and the one given is empty.
    NoWords,
    /// A text has a line break, or a sign that cannot be shown.
    LineBreak,
    /// A number is infinite or none.
    Number,
    /// A time does not read back as it was given.
    Time,
    /// One thing is named twice.
    Twice,
    /// It is never changed, or in another way.
    Fixed,
    /// The record holds no such thing.
    Unfit,
}

impl RefusalKind {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::There,
        Self::Gone,
        Self::NoWords,
        Self::LineBreak,
        Self::Number,
        Self::Time,
        Self::Twice,
        Self::Fixed,
        Self::Unfit,
    ];

    /// A refusal of this kind.
    #[must_use]
    pub fn refusal(self, sentence: impl Into<String>) -> Refusal {
        Refusal { kind: self, sentence: sentence.into() }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.sentence)
    }
}
