//! The state that a bag freezes: which record, plan and program, and for a release who released it and on what terms.

use serde::{Deserialize, Serialize};

use crate::{Sha256, canonical_json};

/// What a bag holds, in numbers and hashes; `data/state.json`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct State {
    /// The form of this file, counted from 1.
    pub format: u32,
    /// The job's number.
    pub job: String,
    /// The record's first change, in hexadecimal: it tells one job from another.
    pub record_beginning: String,
    /// The record's heads, in hexadecimal: together they name every change.
    pub record_heads: Vec<String>,
    /// How many changes the record has.
    pub record_changes: u64,
    /// SHA-256 of `data/record.automerge`.
    pub record_sha256: Sha256,
    /// SHA-256 of the plan's text, as the record names it too.
    pub plan_sha256: Sha256,
    /// Revision of the data files that the plan was made from.
    pub data_revision: String,
    /// Program and version that judged the record and made the report.
    pub program: String,
    /// SHA-256 of `data/assessment.json`.
    pub assessment_sha256: Sha256,
    /// The report.
    pub report: ReportFile,
    /// Photos of the record whose original file is not in the bag; always none for a release.
    pub absent_photos: Vec<String>,
    /// Voice memos that stand in the record and whose recording is not in the bag; always none for a release.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub absent_memos: Vec<String>,
    /// The release; none for a working copy of a job that was not released.
    pub release: Option<Release>,
}

/// The report of a bag.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReportFile {
    /// SHA-256 of `data/report.pdf`.
    pub sha256: Sha256,
    /// SHA-256 of `data/report.json`, what its pages say as data; none in bags from before it lay in them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub content_sha256: Option<Sha256>,
    /// How many pages it has.
    pub pages: u32,
    /// Size of the pages: `letter` or `a4`.
    pub paper: String,
    /// Units of its values: `us` or `si`.
    pub units: String,
    /// The language of its sentences, as in a page's `lang`; none for English.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub language: Option<String>,
    /// SHA-256 of the texts that were laid over the plan's own: another language's, or a firm's; none where there were
    /// none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texts_sha256: Option<Sha256>,
}

/// A release of a job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Release {
    /// Which release of the job, from 1.
    pub number: u32,
    /// When, in universal time, such as `2026-06-12T18:00:00Z`.
    pub released_at: String,
    /// The inspector who released it, by name.
    pub released_by: String,
    /// Thumbprint (RFC 7638) of the key that must have signed it.
    pub key: String,
    /// Every matter that was open, with the words in which it was accepted.
    pub accepted: Vec<Accepted>,
    /// The release that this one corrects; none for the first.
    pub corrects: Option<Correction>,
    /// Who is to countersign, by name; none where nobody needs to.
    pub countersigner: Option<String>,
}

/// A matter that was open at the release.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Accepted {
    /// The matter, in a sentence.
    pub matter: String,
    /// Why the report is released all the same, in the inspector's words.
    pub words: String,
}

/// What a later release says of the one before it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Correction {
    /// Number of the release that is corrected.
    pub release: u32,
    /// SHA-256 of the tag manifest of that release's bag.
    pub tag_manifest_sha256: Sha256,
    /// When that release was made; none in releases from before this was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub released_at: Option<String>,
    /// What changed and why, in the inspector's words.
    pub because: String,
}

impl State {
    /// The form that is written here.
    pub const FORMAT: u32 = 1;

    /// The content of `data/state.json`: canonical JSON and a line's end.
    #[must_use]
    pub fn to_json(&self) -> String {
        let value = serde_json::to_value(self).expect("text and small whole numbers alone");
        let mut text = canonical_json(&value).expect("counts stay far below 2⁵³");
        text.push('\n');
        text
    }

    /// Reads `data/state.json`.
    ///
    /// # Errors
    /// A sentence that says what is wrong.
    pub fn read(bytes: &[u8]) -> Result<Self, String> {
        let format = serde_json::from_slice::<serde_json::Value>(bytes)
            .map_err(|error| format!("it is no JSON: {error}"))?
            .get("format")
            .and_then(serde_json::Value::as_u64);
        match format {
            Some(format) if format == u64::from(Self::FORMAT) => {}
            Some(format) => {
                return Err(format!(
                    "it has the form {format}; this version of the program knows form {}",
                    Self::FORMAT
                ));
            }
            None => return Err("it does not say which form it has".to_owned()),
        }
        serde_json::from_slice(bytes).map_err(|error| error.to_string())
    }
}
