//! `nearside verify`: whether a bag is what was packed and signed.

use std::io::Write;
use std::path::PathBuf;

use bag::{Role, Standing};
use clap::Args;
use serde_json::json;

use crate::bags::{self, keys, standing, time_stamps};
use crate::failure::Failure;

/// Reads a bag from beginning to end and says in words what is intact, what it corrects, who signed it, what time stamps say,
/// and what differs.
///
/// The exit status is 0 if it is intact and signed (by the key that --signer names, if given), 4 if anything differs, and
/// 5 if it is intact but not signed by anybody who counts: a working copy, the demonstration key, another key than the one
/// named, or a countersignature still awaited.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside verify 2026-001-release-1\n  \
                        nearside verify 2026-001-release-1.zip --signer inspector.public.json\n  \
                        nearside verify 2026-001-release-1 --json")]
pub(crate) struct VerifyArguments {
    /// The bag: a folder or a zip file
    bag: PathBuf,
    /// The key that must have signed it: its thumbprint, or the file of its public half
    // One thumbprint in sixty-four begins with a hyphen.
    #[arg(long, value_name = "KEY", allow_hyphen_values = true)]
    signer: Option<String>,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &VerifyArguments) -> Result<(), Failure> {
    let signer = arguments.signer.as_deref().map(keys::thumbprint).transpose()?;
    let opened = bags::open(&arguments.bag)?;
    let found = &opened.verification;
    let by_signer = signer.as_ref().map(|wanted| {
        let inspectors = found.signed.iter().filter(|signed| signed.role == Role::Inspector);
        inspectors.map(|signed| signed.key.thumbprint()).any(|key| key == *wanted)
    });
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let release = found.state.as_ref().and_then(|state| state.release.as_ref());
        let object = json!({
            "standing": standing::word(found.standing()),
            "by_signer": by_signer,
            "job": found.state.as_ref().map(|state| state.job.as_str()),
            "release": release.map(|release| release.number),
            "corrects": release.and_then(|release| release.corrects.as_ref()).map(|it| json!({
                "release": it.release,
                "released_at": it.released_at,
                "because": it.because,
            })),
            "files": found.files,
            "bytes": found.bytes,
            "tag_manifest_sha256": found.tag_manifest_sha256,
            "differs": found.faults.iter().map(|fault| json!({
                "file": fault.file,
                "what": fault.what,
            })).collect::<Vec<_>>(),
            "signatures": found.signed.iter().map(|signed| json!({
                "role": signed.role.word(),
                "name": signed.name,
                "signed_at": signed.signed_at,
                "key": signed.key.thumbprint(),
                "demonstration": signed.key.is_demonstration(),
            })).collect::<Vec<_>>(),
            "time_stamps": found.time_stamps.iter().map(|stamped| {
                time_stamps::object(&stamped.stamp)
            }).collect::<Vec<_>>(),
            "awaited": found.awaited,
        });
        writeln!(out, "{object}")?;
    } else {
        standing::write(&mut out, found)?;
        match by_signer {
            Some(true) => {
                writeln!(out, "the inspector's signature is by the key that you named")?;
            }
            Some(false) => {
                writeln!(out, "the inspector's signature is not by the key that you named")?;
            }
            None => {}
        }
    }
    match found.standing() {
        Standing::Differs => Err(Failure::said(4)),
        Standing::Signed if by_signer != Some(false) => Ok(()),
        Standing::Signed | Standing::Awaited | Standing::Demonstration | Standing::Unsigned => {
            Err(Failure::said(5))
        }
    }
}
