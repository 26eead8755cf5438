//! A problem in a data file, with its place and a hint.

use std::fmt;

/// One problem in a data file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// The file, relative to the data folder.
    pub file: String,
    /// Line, counted from 1.
    pub line: usize,
    /// Column, counted from 1 in characters.
    pub column: usize,
    /// What is wrong.
    pub message: String,
    /// What to write instead; empty where nothing can be suggested.
    pub hint: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}:{}:{}: {}", self.file, self.line, self.column, self.message)?;
        if !self.hint.is_empty() {
            write!(formatter, "\n  hint: {}", self.hint)?;
        }
        Ok(())
    }
}
