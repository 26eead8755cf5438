//! `nearside countersign`: a second person vouches for a release.

use std::io::Write;
use std::path::{Path, PathBuf};

use bag::{Bag, File, Role, Standing, State, Statement, sign, signature_path};
use clap::Args;
use serde_json::json;

use crate::bags::keys::{KeyArguments, public_path};
use crate::bags::{self, pack, releases};
use crate::data_folder::{Place, read_text};
use crate::failure::Failure;
use crate::open_job;
use crate::today;

/// Adds a second person's signature to a released job, or to its bag.
///
/// The bag is verified first. A signature is added beside the others; nothing else changes. For a zip file, --into names the
/// new one. `nearside job import` brings the signature back to whoever released the job.
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  nearside countersign 2026-001-release-1 --key my-key.pem\n  \
                        nearside countersign 2026-001.zip --into countersigned.zip\n  nearside countersign 2026-001")]
pub(crate) struct CountersignArguments {
    /// The bag (a folder or a zip file), or the number of a released job
    what: String,
    /// For a bag: a new folder or zip file to write; a bag that is a folder gains the signature itself if left out
    #[arg(long, value_name = "PATH")]
    into: Option<PathBuf>,
    #[command(flatten)]
    key: KeyArguments,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(place: &Place, arguments: &CountersignArguments) -> Result<(), Failure> {
    let path = Path::new(&arguments.what);
    let (state, file) =
        if path.exists() { sign_bag(place, arguments, path)? } else { sign_job(place, arguments)? };
    let number = state.release.as_ref().map(|release| release.number);
    let mut out = std::io::stdout().lock();
    if arguments.json {
        let object = json!({"job": state.job, "release": number, "signature": file.path});
        writeln!(out, "{object}")?;
    } else {
        writeln!(out, "job {}, release {}: {}", state.job, number.unwrap_or_default(), file.path)?;
    }
    Ok(())
}

fn sign_bag(
    place: &Place,
    arguments: &CountersignArguments,
    path: &Path,
) -> Result<(State, File), Failure> {
    if arguments.into.is_none() && !path.is_dir() {
        return Err(
            Failure::input("a zip file is not changed").hint("name the new one: --into FILE.zip")
        );
    }
    let mut opened = bags::open(path)?;
    let standing = opened.verification.standing();
    if standing == Standing::Differs {
        return Err(Failure::differs(format!("{} is not what was signed", path.display()))
            .hint("`nearside verify` names what differs"));
    }
    let unsigned = || Failure::input("this bag is a working copy that nobody has released");
    let state = opened.verification.state.clone().ok_or_else(unsigned)?;
    let mut files = Vec::new();
    for path in opened.paths()? {
        let bytes = opened.bytes(&path)?;
        files.push(File::new(path, bytes));
    }
    let mut bag = Bag { files };
    let file = add(place, arguments, &state, &mut bag)?;
    match &arguments.into {
        Some(into) => {
            // Every byte is at hand, so the store is not asked for any; it only has to be there.
            bags::write(&place.store()?, &bag, &pack::name(&state), into)?;
        }
        None => {
            let target = path.join(&file.path);
            crate::data_folder::write_file(&target, file.bytes.as_deref().unwrap_or_default())?;
        }
    }
    Ok((state, file))
}

fn sign_job(place: &Place, arguments: &CountersignArguments) -> Result<(State, File), Failure> {
    if arguments.into.is_some() {
        return Err(Failure::input(format!(
            "`{}` is no bag here, and --into writes one",
            arguments.what
        ))
        .hint("`nearside export` writes the bag of a job"));
    }
    let store = place.store()?;
    let id = open_job::job_id(&arguments.what)
        .map_err(|failure| failure.hint("name a bag (a folder or a zip file) or a job's number"))?;
    let kept = releases::list(&store, &id)?;
    let last = kept.last().ok_or_else(|| {
        Failure::input(format!(
            "there is no bag `{0}` here, and no released job `{0}`",
            arguments.what
        ))
    })?;
    let mut bag = releases::bag(&store, last)?;
    let state = releases::state(&store, &bag)?;
    let file = add(place, arguments, &state, &mut bag)?;
    releases::keep(&store, &id, last.number, &bag)?;
    Ok((state, file))
}

/// Adds the signature to the bag.
fn add(
    place: &Place,
    arguments: &CountersignArguments,
    state: &State,
    bag: &mut Bag,
) -> Result<File, Failure> {
    let release = state
        .release
        .as_ref()
        .ok_or_else(|| Failure::input("this bag is a working copy that nobody has released"))?;
    let name = name(place, arguments)?;
    let key = arguments.key.open(place)?;
    let public = key.public();
    if public.thumbprint() == release.key {
        return Err(Failure::input(
            "this key released the job; a countersignature is a second person's",
        )
        .hint("name the other person's key with --key FILE"));
    }
    let statement = Statement {
        role: Role::Countersigner,
        name,
        signed_at: today::in_universal_time(today::unix_seconds()),
        job: state.job.clone(),
        release: release.number,
        heads: state.record_heads.clone(),
        tag_manifest_sha256: bag.tag_manifest_sha256(),
    };
    let path = signature_path(Role::Countersigner, &public);
    if bag.files.iter().any(|file| file.path == path) {
        return Err(Failure::input("this key has countersigned the release already"));
    }
    let token = sign(&key, &statement);
    bag.add_signature(Role::Countersigner, &public, &token);
    Ok(File::new(path, token))
}

/// The signer's name: `--by`, else the one beside the key.
fn name(place: &Place, arguments: &CountersignArguments) -> Result<String, Failure> {
    if let Some(name) = &place.by {
        return Ok(name.clone());
    }
    let public = public_path(&arguments.key.path(place)?);
    let named = read_text(&public)
        .ok()
        .and_then(|text| serde_json::from_str::<serde_json::Value>(&text).ok())
        .and_then(|value| value["name"].as_str().map(str::to_owned));
    named.filter(|name| !name.is_empty()).ok_or_else(|| {
        Failure::input("who countersigns? no name stands beside the key")
            .hint("name yourself with --by \"C. Reviewer\"")
    })
}
