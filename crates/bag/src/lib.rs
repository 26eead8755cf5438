//! The package of a job: everything that belongs to it in one folder or zip file that proves itself.
//!
//! A bag follows BagIt 1.0 (RFC 8493): what belongs to the job lies in `data/`, a manifest names each file with its
//! SHA-256, a second manifest names the first. `data/` is at the same time an RO-Crate (1.1), which says in machine
//! readable words what each file is. A released job's bag carries signatures: JSON Web Signatures (RFC 7515) with
//! Ed25519 (RFC 8037) over the hash of the second manifest, so over everything. Beside them may lie time stamps (RFC 3161)
//! on the same hash.
//!
//! No clock, no files, no random source: the caller passes bytes, moments and random salt in, and the same arguments give
//! the same bytes.

mod assemble;
mod canonical;
mod caption;
mod container;
mod crate_metadata;
mod file;
mod key;
mod manifest;
mod paths;
mod pdf_signature;
mod photo_files;
mod readme;
mod record_bytes;
mod record_json;
mod sha256;
mod signature;
mod state;
mod tables;
mod time_stamp;
mod verify;
mod zip;

pub use assemble::{Bag, BagInfo};
pub use canonical::canonical_json;
pub use caption::{Caption, Captioned, captioned};
pub use container::Container;
pub use crate_metadata::{Description, crate_metadata};
pub use file::File;
pub use key::{KeyError, PublicKey, SALT_LENGTH, SigningKey};
pub use manifest::read as read_manifest;
pub use paths::is_safe_path;
pub use pdf_signature::{PdfSigner, sign_pdf};
pub use photo_files::{captioned_path, display_path, memo_path, original_path, thumbnail_path};
pub use readme::readme;
pub use record_bytes::record_bytes;
pub use record_json::record_json;
pub use sha256::Sha256;
pub use signature::{Role, Signature, SignatureError, Statement, sign, signature_path};
pub use state::{Accepted, Correction, Release, ReportFile, State};
pub use tables::{findings_table, readings_table, values_table};
pub use time_stamp::{TimeStamp, TimeStampRequest, time_stamp_path};
pub use verify::{Fault, Signed, Stamped, Standing, Verification, verify};
pub use zip::{ZipContainer, ZipError, write_zip};

/// Where things lie in a bag.
pub mod place {
    /// The frozen state: what was released, by whom, from which record, plan and program.
    pub const STATE: &str = "data/state.json";
    /// The job's document with its whole history.
    pub const RECORD: &str = "data/record.automerge";
    /// The same facts as plain JSON.
    pub const RECORD_JSON: &str = "data/record.json";
    /// The plan's whole text as it was when the job was made.
    pub const PLAN: &str = "data/plan.txt";
    /// Verdicts, findings, uses and what is missing, as JSON.
    pub const ASSESSMENT: &str = "data/assessment.json";
    /// The report.
    pub const REPORT: &str = "data/report.pdf";
    /// What the report says, as data.
    pub const REPORT_JSON: &str = "data/report.json";
    /// The folder of the client's page.
    pub const PAGE: &str = "data/page/";
    /// The RO-Crate's description of the files.
    pub const CRATE: &str = "data/ro-crate-metadata.json";
    /// What lies here, for a person who opens the folder.
    pub const README: &str = "data/README.txt";
    /// The manifest of everything under `data/`.
    pub const MANIFEST: &str = "manifest-sha256.txt";
    /// The manifest of everything beside `data/`, signatures apart.
    pub const TAG_MANIFEST: &str = "tagmanifest-sha256.txt";
    /// The folder of the signatures and time stamps.
    pub const SIGNATURES: &str = "signatures/";
}

/// The JSON Schema (2020-12) of `data/assessment.json`.
pub const ASSESSMENT_SCHEMA: &str = include_str!("../../../docs/schema/assessment.schema.json");

/// The JSON Schema (2020-12) of `data/record.json`.
pub const RECORD_SCHEMA: &str = include_str!("../../../docs/schema/record.schema.json");

/// The JSON Schema (2020-12) of `data/report.json`.
pub const REPORT_SCHEMA: &str = include_str!("../../../docs/schema/report.schema.json");

/// The JSON Schema (2020-12) of `data/state.json`.
pub const STATE_SCHEMA: &str = include_str!("../../../docs/schema/state.schema.json");
