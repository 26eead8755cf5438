//! What became of the findings of an earlier inspection of the same unit, with photos of then and now.

use serde::{Deserialize, Serialize};

use super::{Fact, UseKind};

/// The difference to an earlier inspection.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Again {
    /// The earlier job's number.
    pub job: String,
    /// The day of its last visit, as printed; may be empty.
    pub visited: String,
    /// What names its record: heads, the last release.
    pub record: Vec<Fact>,
    /// How many findings became what, in a sentence.
    pub sentence: String,
    /// Its findings, those that are still there first, each group in the order of the earlier report.
    pub findings: Vec<AgainFinding>,
}

/// What became of one finding.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct AgainFinding {
    /// Its number in the earlier report.
    pub number_then: u32,
    /// Its number in this one; none where it stands no more.
    pub number: Option<usize>,
    /// Its heading.
    pub title: String,
    /// Where on the unit, in words.
    pub location: String,
    /// Its statement then.
    pub statement: String,
    /// What became of it; chooses the sign.
    pub state: AgainState,
    /// The same in words.
    pub words: String,
    /// Why it was not seen, or was withdrawn; may be empty.
    pub remark: String,
    /// Uses that it stopped, or stops still.
    pub stops: Vec<UseKind>,
    /// Numbers of the photos of then.
    pub photos_then: Vec<usize>,
    /// Numbers of the photos of now.
    pub photos_now: Vec<usize>,
}

/// What became of a finding.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AgainState {
    /// It is there still.
    NotCorrected,
    /// It was not looked at.
    NotSeen,
    /// Nobody has said.
    #[default]
    Open,
    /// It is there no more.
    Corrected,
    /// It was withdrawn.
    Withdrawn,
}
