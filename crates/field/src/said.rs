//! A sentence before it has a language.

use crate::{Language, Texts};

/// A sentence of the interface: which text, and what is filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The text's key in the Fluent files.
    pub key: &'static str,
    /// What is filled in, by name.
    pub(crate) with: Vec<(&'static str, Word)>,
}

/// What is filled into a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Word {
    /// As it stands: a title of the plan, an entry, a number.
    Plain(String),
    /// Another text of the interface.
    Key(&'static str),
}

impl Said {
    /// A sentence without anything to fill in.
    #[must_use]
    pub fn new(key: &'static str) -> Self {
        Self { key, with: Vec::new() }
    }

    /// The sentence with a word filled in as it stands.
    #[must_use]
    pub fn with(mut self, name: &'static str, word: impl Into<String>) -> Self {
        self.with.push((name, Word::Plain(word.into())));
        self
    }

    /// The sentence with another text of the interface filled in.
    #[must_use]
    pub fn with_text(mut self, name: &'static str, key: &'static str) -> Self {
        self.with.push((name, Word::Key(key)));
        self
    }

    /// The sentence with a count filled in.
    #[must_use]
    pub fn counting(self, name: &'static str, count: usize) -> Self {
        self.with(name, count.to_string())
    }
}

/// In English, for logs and tests; the screen asks [`Texts::of`].
impl std::fmt::Display for Said {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&Texts::new(Language::English).of(self))
    }
}

impl std::error::Error for Said {}
