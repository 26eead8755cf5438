//! Parts of the report, laid out by the server as pages for the screen.

use serde::{Deserialize, Serialize};
use sync::JobId;
use web_sys::AbortSignal;

use super::address::{Asking, ask, body};

/// Which part of the report is wanted, with what is typed and not entered yet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct PagesWanted {
    /// Which part.
    pub(crate) part: String,
    /// Which of several.
    pub(crate) about: String,
    /// `us` or `si`.
    pub(crate) units: String,
    /// `letter` or `a4`.
    pub(crate) paper: String,
    /// The pages' language.
    pub(crate) language: String,
    /// A finding that is being written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) finding: Option<FindingTyped>,
    /// A caption that is being written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) photo: Option<CaptionTyped>,
}

/// A finding as it is typed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct FindingTyped {
    /// Its key; empty for a new one.
    pub(crate) key: String,
    /// Heading.
    pub(crate) title: String,
    /// The statement.
    pub(crate) statement: String,
    /// Whom to call.
    pub(crate) who: String,
    /// Uses it stops, as words; none for those that it stops now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) stops: Option<Vec<&'static str>>,
    /// How soon to act, as words; none for as it stands now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) when: Option<&'static str>,
    /// The point of a new one; empty for none.
    pub(crate) point: String,
}

/// A caption as it is typed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(crate) struct CaptionTyped {
    /// The photo.
    pub(crate) id: String,
    /// What it shows, in words.
    pub(crate) caption: String,
}

/// The pages of a part.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Pages {
    /// Each as an SVG.
    pub(crate) pages: Vec<String>,
    /// What cannot be shown.
    pub(crate) remarks: Vec<String>,
    /// The parts that the report has now.
    pub(crate) parts: Vec<ReportPart>,
}

/// A part of the report.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash, Deserialize)]
pub(crate) struct ReportPart {
    /// Which part.
    pub(crate) part: String,
    /// Which of several.
    pub(crate) about: String,
    /// What it is called; empty for those that every report has.
    pub(crate) title: String,
}

/// Why there are no pages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NoPages {
    /// The server cannot be reached.
    NoLine,
    /// It has none. Why, in its words.
    Refused(String),
}

#[derive(Deserialize)]
struct Refused {
    #[serde(default)]
    detail: String,
}

/// Asks for them; given up when something newer is wanted.
pub(crate) async fn pages(
    key: &str,
    job: &JobId,
    wanted: &PagesWanted,
    give_up: &AbortSignal,
) -> Result<Pages, NoPages> {
    let refused = |why: &dyn std::fmt::Display| NoPages::Refused(why.to_string());
    let json = serde_json::to_vec(wanted).map_err(|error| refused(&error))?;
    let asking = Asking {
        method: "POST",
        path: &format!("/v1/jobs/{job}/pages"),
        key: Some(key),
        headers: vec![("content-type", "application/json".to_owned())],
        body: Some(&json),
        give_up: Some(give_up),
    };
    let response = ask(&asking).await.map_err(|_| NoPages::NoLine)?;
    let bytes = body(&response).await.map_err(|_| NoPages::NoLine)?;
    if response.ok() {
        return serde_json::from_slice(&bytes).map_err(|error| refused(&error));
    }
    let said = serde_json::from_slice::<Refused>(&bytes).ok().map(|it| it.detail);
    let said = said.filter(|detail| !detail.is_empty());
    Err(NoPages::Refused(said.unwrap_or_else(|| response.status().to_string())))
}
