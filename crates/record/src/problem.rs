//! What could not be read from a record, in words.

/// Something in the record that could not be read, or not wholly.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// Where: `reading 0a1b2c3d4e5f6071-12`, `job`.
    pub place: String,
    /// What is wrong there and what becomes of it.
    pub trouble: String,
}

impl std::fmt::Display for Problem {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{}: {}", self.place, self.trouble)
    }
}
