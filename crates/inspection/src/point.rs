//! What became of a point of the plan.

use crate::Moment;

/// A point's entry in the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointEntry {
    /// Examined, not examined, or not fitted.
    pub outcome: Outcome,
    /// Defects of the plan's own list that were seen, by their ids, each with the positions it was seen at
    /// (empty where the point has none).
    pub defects: Vec<(String, Vec<String>)>,
    /// Free notes.
    pub notes: String,
    /// Who entered it.
    pub by: String,
    /// When it was entered.
    pub at: Option<Moment>,
}

/// What became of a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Looked at, operated or measured as the plan says.
    Examined,
    /// Not examined, and why.
    NotExamined {
        /// The reason in words; empty if none was given, which is itself reported as missing.
        reason: String,
    },
    /// The unit has no such thing.
    NotFitted,
}
