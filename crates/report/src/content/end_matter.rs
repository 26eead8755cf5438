//! What stands at the end: instruments, sources, terms, the trail's digest, the signature.

use serde::{Deserialize, Serialize};

/// An instrument that readings were taken with.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Instrument {
    /// What it is and how the inspector calls it.
    pub name: String,
    /// Serial number.
    pub serial: String,
    /// Accuracy in words.
    pub accuracy: String,
    /// When it was last calibrated, as printed.
    pub calibrated: String,
    /// Until when that holds, as printed.
    pub due: String,
    /// How that stood on the day of the visit.
    pub calibration: CalibrationState,
}

/// How an instrument's calibration stood on the day of the visit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CalibrationState {
    /// Valid on that day.
    InDate,
    /// Run out before that day.
    Overdue,
    /// Not known.
    #[default]
    Unknown,
}

/// On what footing a source stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Law or regulation.
    Law,
    /// A published standard.
    Standard,
    /// The maker's plate or instructions.
    Maker,
    /// Common practice of the trade.
    Practice,
}

/// A document of the reference list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Title, with publisher where it helps.
    pub document: String,
    /// Edition or year.
    pub edition: String,
    /// Section, table or clause.
    pub section: String,
    /// On what footing it stands.
    pub basis: Basis,
    /// Whether someone has read the section; an unread one only informs.
    pub read: bool,
    /// A remark; may be empty.
    pub note: String,
}

/// A clause of the terms.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Clause {
    /// Short heading.
    pub title: String,
    /// The text; line breaks separate paragraphs.
    pub text: String,
}

/// Digest of the record's history.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Trail {
    /// Hashes of the latest changes: whoever holds the record can compare them.
    pub heads: Vec<String>,
    /// How many changes the record holds.
    pub changes: usize,
    /// People who made them.
    pub people: Vec<String>,
    /// First and last change in words; may be empty.
    pub span: String,
}

/// With what the report was made.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadeBy {
    /// Program and version.
    pub program: String,
    /// Revision of the data that judged.
    pub data_revision: String,
    /// Name and hash of the plan.
    pub plan: String,
    /// SHA-256 of the texts laid over the plan's own: another language's, or a firm's; empty where there are none.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub texts: String,
}

/// Who signs.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Signature {
    /// Name.
    pub name: String,
    /// Licence, certificate or membership.
    pub credentials: String,
    /// What the signature states.
    pub statement: String,
    /// When and how it was signed electronically; empty for a line to sign on.
    pub signed: String,
}
