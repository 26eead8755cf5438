//! Which release the report belongs to: its number, what it corrects and why, what was open and accepted in words.

use serde::{Deserialize, Serialize};

/// The release of a report.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Released {
    /// Which release of the job, from 1.
    pub number: u32,
    /// When it was released, as printed.
    pub at: String,
    /// The release that it corrects; none for the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corrects: Option<Corrected>,
    /// What was open at the release, those accepted in the same words together.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<Accepted>,
}

/// What a later release says of the one before it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Corrected {
    /// Number of the release that is corrected.
    pub number: u32,
    /// Its day, as printed.
    pub day: String,
    /// What was changed and why, in the inspector's words.
    pub because: String,
}

/// Matters that were open at the release and accepted in the same words.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Accepted {
    /// The inspector's words.
    pub words: String,
    /// Each matter in the sentence in which the release names it.
    pub matters: Vec<String>,
}
