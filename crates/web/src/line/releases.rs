//! Releases and clients' pages, asked of the server: what is open, freezing, what was frozen.

use serde::{Deserialize, Serialize, de::DeserializeOwned};
use sync::JobId;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortSignal, Blob};

use super::address::{Asking, ask, body};
use super::json::NoAnswer;

/// Milliseconds until an answer is given up: for what is looked up, and for what is made.
const SOON: u32 = 60_000;
const LONG: u32 = 1_800_000;

/// How a job stands to its release.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ReleaseStanding {
    /// What of the job's log the server has seen.
    pub(crate) head: u64,
    /// Who releases it.
    pub(crate) inspector: String,
    /// What is open.
    pub(crate) matters: Vec<OpenMatter>,
    /// Photos and voice memos that the server does not have.
    pub(crate) absent_photos: usize,
    /// Voice memos likewise.
    pub(crate) absent_memos: usize,
    /// Keys that may sign.
    pub(crate) keys: Vec<KnownKey>,
    /// Languages of a report.
    pub(crate) languages: Vec<String>,
    /// What was released, oldest first.
    pub(crate) releases: Vec<ReleaseKept>,
    /// Whether the record is what the last release froze.
    pub(crate) unchanged: bool,
    /// Whether there is an invoice that a page can wait for.
    pub(crate) invoiced: bool,
}

/// Something that is open.
#[derive(Debug, Clone, Default, PartialEq, Eq, Hash, Deserialize)]
pub(crate) struct OpenMatter {
    /// In the sentence in which a release names it.
    pub(crate) matter: String,
    /// Its kind.
    pub(crate) kind: String,
    /// Where it is closed.
    pub(crate) place: String,
    /// Which of several.
    pub(crate) about: String,
}

/// A key that may sign.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct KnownKey {
    /// Its thumbprint.
    pub(crate) key: String,
    /// Whose it says it is.
    pub(crate) name: String,
    /// The day when it was made.
    pub(crate) made: String,
}

/// A release that is kept.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ReleaseKept {
    /// Which release of the job.
    pub(crate) number: u32,
    /// When, in universal time.
    pub(crate) released_at: String,
    /// By whom.
    pub(crate) released_by: String,
    /// The key that signed it.
    pub(crate) key: String,
    /// The digest of everything.
    pub(crate) tag_manifest_sha256: String,
    /// The digest of the report.
    pub(crate) report_sha256: String,
    /// Pages of the report.
    pub(crate) pages: u32,
    /// The report's language.
    pub(crate) language: String,
    /// What was open, with the words in which it was accepted.
    pub(crate) accepted: Vec<AcceptedMatter>,
    /// What it corrects and why.
    pub(crate) because: String,
    /// Who is to countersign.
    pub(crate) countersigner: String,
    /// Name of the bag, and how many files it has.
    pub(crate) bag: String,
    /// How many files it has.
    pub(crate) files: usize,
}

/// An open matter with the words in which it is accepted.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct AcceptedMatter {
    /// The matter.
    pub(crate) matter: String,
    /// The words.
    pub(crate) words: String,
}

/// On what terms a job is to be released. It holds a passphrase: it is sent once, and neither kept nor shown.
#[derive(Serialize)]
pub(crate) struct ReleaseWanted {
    /// What of the log the person has seen the standing of.
    pub(crate) head: u64,
    /// The key that is to sign.
    pub(crate) key: String,
    /// What opens it.
    pub(crate) passphrase: String,
    /// The report's language.
    pub(crate) language: String,
    /// `letter` or `a4`.
    pub(crate) paper: String,
    /// `us` or `si`.
    pub(crate) units: String,
    /// Open matters with their words.
    pub(crate) accepted: Vec<AcceptedMatter>,
    /// What it corrects and why.
    pub(crate) because: String,
    /// Who is to countersign.
    pub(crate) countersigner: String,
}

/// What differs between two states of a job.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Since {
    /// The later release; none for the job as it stands now.
    pub(crate) until: Option<u32>,
    /// What differs.
    pub(crate) differences: Vec<Differing>,
}

/// One thing that differs.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Differing {
    /// Its kind.
    pub(crate) what: String,
    /// Which one.
    pub(crate) key: String,
    /// As it was.
    pub(crate) before: Option<String>,
    /// As it is.
    pub(crate) after: Option<String>,
}

/// What page a client is to get.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct ShareWanted {
    /// The release whose report lies beside it.
    pub(crate) release: u32,
    /// For how many days.
    pub(crate) days: u16,
    /// Whether it waits for payment.
    pub(crate) after_payment: bool,
}

/// A page that has an address now.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct ShareMade {
    /// The address.
    pub(crate) address: String,
    /// Until when it is good, milliseconds since the start of 1970.
    pub(crate) until_unix_ms: i64,
    /// What to know before it is handed out.
    pub(crate) remarks: Vec<String>,
}

/// An address that was made.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub(crate) struct Share {
    /// What it is named by.
    pub(crate) link: String,
    /// Until when it is good, milliseconds since the start of 1970; the other times likewise.
    pub(crate) until_unix_ms: i64,
    /// When it was revoked.
    pub(crate) revoked_unix_ms: Option<i64>,
    /// Whether it shows something now.
    pub(crate) good: bool,
    /// Whether it waits for payment now.
    pub(crate) waits: bool,
    /// When the page was opened.
    pub(crate) views_unix_ms: Vec<i64>,
}

/// A paired device that asks about a job.
#[derive(Debug, Clone)]
pub(crate) struct ReleaseLine {
    /// The device's key.
    pub(crate) key: String,
    /// The job.
    pub(crate) job: JobId,
}

#[derive(Deserialize)]
struct Shares {
    shares: Vec<Share>,
}

#[derive(Deserialize)]
struct Releasing {
    step: Option<String>,
}

#[derive(Default, Deserialize)]
struct Problem {
    #[serde(default)]
    reason: String,
    #[serde(default)]
    detail: String,
}

impl ReleaseLine {
    /// What is open, which keys may sign, what was released.
    pub(crate) async fn standing(&self) -> Result<ReleaseStanding, NoAnswer> {
        read(&self.asked("GET", "releases", None, SOON).await?)
    }

    /// How far the release that is being made has come; none if none is.
    pub(crate) async fn step(&self) -> Result<Option<String>, NoAnswer> {
        let answer: Releasing = read(&self.asked("GET", "releasing", None, SOON).await?)?;
        Ok(answer.step)
    }

    /// Releases the job.
    pub(crate) async fn release(&self, wanted: &ReleaseWanted) -> Result<ReleaseKept, NoAnswer> {
        read(&self.asked("POST", "releases", Some(written(wanted)?), LONG).await?)
    }

    /// What has changed from a release to the next one, or to now.
    pub(crate) async fn since(&self, number: u32) -> Result<Since, NoAnswer> {
        read(&self.asked("GET", &format!("releases/{number}/since"), None, SOON).await?)
    }

    /// A file of a release: `report.pdf` or `bag.zip`.
    pub(crate) async fn file(&self, number: u32, name: &str) -> Result<Blob, NoAnswer> {
        let rest = format!("releases/{number}/{name}");
        let response = self.answered("GET", &rest, None, LONG).await?;
        let blob = response.blob().map_err(|_| NoAnswer::NoLine)?;
        let blob = JsFuture::from(blob).await.map_err(|_| NoAnswer::NoLine)?;
        blob.dyn_into().map_err(|_| NoAnswer::NoLine)
    }

    /// The addresses of the job's pages, newest first.
    pub(crate) async fn shares(&self) -> Result<Vec<Share>, NoAnswer> {
        let answer: Shares = read(&self.asked("GET", "shares", None, SOON).await?)?;
        Ok(answer.shares)
    }

    /// Gives the client's page an address.
    pub(crate) async fn share(&self, wanted: &ShareWanted) -> Result<ShareMade, NoAnswer> {
        read(&self.asked("POST", "shares", Some(written(wanted)?), LONG).await?)
    }

    /// Shuts an address.
    pub(crate) async fn revoke(&self, link: &str) -> Result<(), NoAnswer> {
        self.asked("DELETE", &format!("shares/{link}"), None, SOON).await.map(drop)
    }

    async fn asked(
        &self,
        method: &str,
        rest: &str,
        sent: Option<Vec<u8>>,
        patience: u32,
    ) -> Result<Vec<u8>, NoAnswer> {
        let response = self.answered(method, rest, sent, patience).await?;
        body(&response).await.map_err(|_| NoAnswer::NoLine)
    }

    async fn answered(
        &self,
        method: &str,
        rest: &str,
        sent: Option<Vec<u8>>,
        patience: u32,
    ) -> Result<web_sys::Response, NoAnswer> {
        let give_up = AbortSignal::timeout_with_u32(patience);
        let headers = match sent {
            Some(_) => vec![("content-type", "application/json".to_owned())],
            None => Vec::new(),
        };
        let asking = Asking {
            method,
            path: &format!("/v1/jobs/{}/{rest}", self.job),
            key: Some(&self.key),
            headers,
            body: sent.as_deref(),
            give_up: Some(&give_up),
        };
        let response = ask(&asking).await.map_err(|_| NoAnswer::NoLine)?;
        if response.ok() {
            return Ok(response);
        }
        let bytes = body(&response).await.map_err(|_| NoAnswer::NoLine)?;
        let Problem { reason, detail } = serde_json::from_slice(&bytes).unwrap_or_default();
        let detail = if detail.is_empty() { response.status().to_string() } else { detail };
        Err(NoAnswer::Refused(reason, detail))
    }
}

fn read<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, NoAnswer> {
    serde_json::from_slice(bytes)
        .map_err(|error| NoAnswer::Refused("unreadable".to_owned(), error.to_string()))
}

fn written(value: &impl Serialize) -> Result<Vec<u8>, NoAnswer> {
    serde_json::to_vec(value)
        .map_err(|error| NoAnswer::Refused("unreadable".to_owned(), error.to_string()))
}
