//! What the server asks of whoever started it, to release a job and to make a client's page: plain data both ways, so that
//! the server opens no job's document and knows no signature.

use std::{fmt, io::Write};

use serde::{Deserialize, Serialize};
use store::{JobId, Store};

/// How a job stands to its release.
type Stand = fn(&Store, &JobId) -> Result<ReleaseStanding, String>;
/// Freezes, signs and keeps.
type Freeze =
    fn(&Store, &JobId, &ReleaseWanted, &dyn Fn(ReleaseStep)) -> Result<ReleaseKept, NotReleased>;
/// The report of a release.
type Report = fn(&Store, &JobId, u32) -> Result<Option<Vec<u8>>, String>;
/// The bag of a release as a zip file; false, and nothing written, if there is no such release.
type WriteBag = fn(&Store, &JobId, u32, &mut dyn Write) -> Result<bool, String>;
/// What has changed since a release.
type Compare = fn(&Store, &JobId, u32) -> Result<Option<Since>, String>;
/// Makes a client's page and its address.
type Share =
    fn(&Store, &JobId, &ShareWanted, &dyn Fn(ReleaseStep)) -> Result<ShareMade, NotReleased>;

/// Who releases jobs and makes clients' pages. All of it may wait for the disk, and the second and the last take long. An
/// error that is a text is a sentence for the person who asked.
#[derive(Debug, Clone, Copy)]
pub struct ReleaseOffice {
    /// What is open, which keys may sign, and what was released.
    pub standing: Stand,
    /// Releases a job; what is answered is on disk.
    pub release: Freeze,
    /// The PDF of a release.
    pub report: Report,
    /// The bag of a release.
    pub bag: WriteBag,
    /// What has changed from a release to the next one, or to the job as it stands now.
    pub since: Compare,
    /// Gives a client's page an address.
    pub share: Share,
}

/// How a job stands to its release.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ReleaseStanding {
    /// How many changes of the job's log this was worked out from: a release names it again.
    pub head: u64,
    /// Who releases it: the job's inspector.
    pub inspector: String,
    /// Everything that is open.
    pub matters: Vec<OpenMatter>,
    /// Photos that the record names and whose originals are not here: no release is made without them.
    pub absent_photos: usize,
    /// Voice memos likewise, apart from those that were struck out.
    pub absent_memos: usize,
    /// What a reader might stumble over, in sentences; it stops nothing.
    pub remarks: Vec<String>,
    /// The keys that may sign.
    pub keys: Vec<KnownKey>,
    /// The languages that a report can be in, by their codes.
    pub languages: Vec<String>,
    /// What was released, oldest first.
    pub releases: Vec<ReleaseKept>,
    /// Whether the record is still what the last release froze.
    pub unchanged: bool,
    /// Whether the job has an invoice that a client's page can wait for.
    pub invoiced: bool,
}

/// Something that is open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct OpenMatter {
    /// The matter in the sentence in which a release names it.
    pub matter: String,
    /// Its kind, such as `undecided` or `draft`.
    pub kind: String,
    /// Where it is closed: `point`, `finding`, `photo`, `photos`, `instrument`, `agreement` or `job`.
    pub place: String,
    /// Which of several; empty where there is one.
    pub about: String,
}

/// A key that may sign.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct KnownKey {
    /// Its thumbprint (RFC 7638).
    pub key: String,
    /// Whose it says it is.
    pub name: String,
    /// The day when it was made.
    pub made: String,
}

/// A release as it is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ReleaseKept {
    /// Which release of the job.
    pub number: u32,
    /// When, in universal time.
    pub released_at: String,
    /// By whom.
    pub released_by: String,
    /// The thumbprint of the key that signed it.
    pub key: String,
    /// SHA-256 of the manifest that names every file: the digest of everything.
    pub tag_manifest_sha256: String,
    /// SHA-256 of the report.
    pub report_sha256: String,
    /// Its pages.
    pub pages: u32,
    /// Size of its pages: `letter` or `a4`.
    pub paper: String,
    /// Units of its values: `us` or `si`.
    pub units: String,
    /// Its language.
    pub language: String,
    /// What was open, each with the words in which it was accepted.
    pub accepted: Vec<AcceptedMatter>,
    /// What it corrects and why; empty for the first one.
    pub because: String,
    /// Who is to countersign, if anybody.
    pub countersigner: String,
    /// Name of the bag's folder, and how many files it has.
    pub bag: String,
    /// How many files the bag has.
    pub files: usize,
}

/// An open matter with the words in which it is accepted.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AcceptedMatter {
    /// The matter, in its own sentence.
    pub matter: String,
    /// Why the job is released all the same.
    pub words: String,
}

/// What opens a signing key. It is never written: not into a log either.
#[derive(Clone, PartialEq, Eq, Deserialize)]
#[serde(transparent)]
pub struct Passphrase(pub String);

impl fmt::Debug for Passphrase {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("Passphrase(…)")
    }
}

/// On what terms a job is to be released.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReleaseWanted {
    /// How many changes of the job's log the person has seen the standing of.
    pub head: u64,
    /// The thumbprint of the key that is to sign.
    pub key: String,
    /// What opens it.
    pub passphrase: Passphrase,
    /// The report's language, such as `es`; English if empty.
    #[serde(default)]
    pub language: String,
    /// `letter` or `a4`; `letter` if empty.
    #[serde(default)]
    pub paper: String,
    /// `us` or `si`; `us` if empty.
    #[serde(default)]
    pub units: String,
    /// Open matters with the words in which each is accepted.
    #[serde(default)]
    pub accepted: Vec<AcceptedMatter>,
    /// What this release corrects and why; needed from the second one on.
    #[serde(default)]
    pub because: String,
    /// Who is to countersign; nobody if empty.
    #[serde(default)]
    pub countersigner: String,
}

/// How far a release has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReleaseStep {
    /// What is open is looked through, and the key opened.
    Checking,
    /// Photos are fetched and drawings made.
    Photos,
    /// Pages are laid out.
    Layout,
    /// The PDF is written.
    Writing,
    /// The files are packed and signed.
    Signing,
    /// They are written to the disk.
    Keeping,
}

/// Why nothing was released, or no page made. Nothing has changed then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotReleased {
    /// These matters are open and were not accepted.
    Open(Vec<OpenMatter>),
    /// The job is not what the person saw: look again.
    Changed(String),
    /// The passphrase does not open the key: ask again.
    Passphrase(String),
    /// Something else, in a sentence.
    Refused(String),
}

/// What differs between two states of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Since {
    /// The later release; none for the job as it stands now.
    pub until: Option<u32>,
    /// Whether both were worked out from the same record.
    pub same_record: bool,
    /// What differs that a reader would see.
    pub differences: Vec<Differing>,
}

/// One thing that differs.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Differing {
    /// Its kind: `uses`, `findings` …
    pub what: String,
    /// Which one.
    pub key: String,
    /// As it was; none where it is new.
    pub before: Option<String>,
    /// As it is; none where it has gone.
    pub after: Option<String>,
}

/// What page a client is to get.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShareWanted {
    /// The release whose report lies beside the page; the record must still be what it froze.
    pub release: u32,
    /// For how many days the address is good, 1 to 3660.
    pub days: u16,
    /// Whether it shows nothing until the job's invoices are paid.
    #[serde(default)]
    pub after_payment: bool,
}

/// A client's page that has an address now.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ShareMade {
    /// The address; nobody can be told it again.
    pub address: String,
    /// Until when it is good, milliseconds since the start of 1970, universal time.
    pub until_unix_ms: i64,
    /// What whoever hands it out should know first, in sentences.
    pub remarks: Vec<String>,
}
