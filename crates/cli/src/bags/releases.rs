//! Releases in the data folder: every file of a released bag is kept by its hash and written out again as it was.

use std::collections::BTreeMap;

use bag::{
    Bag, File, Sha256, Signature, State, place, read_manifest, signature_path, time_stamp_path,
};
use serde_json::{Value, json};
use store::{JobId, Sha256Hex, Store};

use crate::bags::files::bytes_of;
use crate::failure::Failure;
use crate::open_job::OpenJob;

/// One release as the data folder knows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Kept {
    /// Which release of the job.
    pub(crate) number: u32,
    /// The hash of its tag manifest.
    pub(crate) tag_manifest: Sha256,
    /// The hashes of its signatures.
    pub(crate) signatures: Vec<Sha256>,
    /// The hashes of the answers of time stamp services.
    pub(crate) time_stamps: Vec<Sha256>,
}

fn key(job: &JobId) -> String {
    format!("releases {job}")
}

/// The releases of a job, oldest first.
pub(crate) fn list(store: &Store, job: &JobId) -> Result<Vec<Kept>, Failure> {
    let Some(text) = store.setting(&key(job))? else { return Ok(Vec::new()) };
    let damaged = || Failure::failed(format!("the list of releases of job {job} is damaged"));
    let value: Value = serde_json::from_str(&text).map_err(|_| damaged())?;
    let read = |one: &Value| {
        let hash = |value: &Value| value.as_str().and_then(Sha256::parse);
        let hashes = |value: &Value| value.as_array()?.iter().map(hash).collect::<Option<_>>();
        Some(Kept {
            number: u32::try_from(one["number"].as_u64()?).ok()?,
            tag_manifest: hash(&one["tag_manifest"])?,
            signatures: hashes(&one["signatures"])?,
            // Releases from before there were time stamps say nothing of any.
            time_stamps: match &one["time_stamps"] {
                Value::Null => Vec::new(),
                named => hashes(named)?,
            },
        })
    };
    let kept: Option<Vec<Kept>> = value.as_array().ok_or_else(damaged)?.iter().map(read).collect();
    kept.ok_or_else(damaged)
}

fn set(store: &Store, job: &JobId, releases: &[Kept]) -> Result<(), Failure> {
    let value: Vec<Value> = releases
        .iter()
        .map(|one| {
            json!({
                "number": one.number,
                "tag_manifest": one.tag_manifest,
                "signatures": one.signatures,
                "time_stamps": one.time_stamps,
            })
        })
        .collect();
    Ok(store.set_setting(&key(job), &Value::from(value).to_string())?)
}

/// Keeps a released bag: its files first, then its line in the list. A release that is there already gains signatures
/// and time stamps.
pub(crate) fn keep(store: &Store, job: &JobId, number: u32, bag: &Bag) -> Result<(), Failure> {
    let (mut signatures, mut time_stamps) = (Vec::new(), Vec::new());
    for file in &bag.files {
        if let Some(bytes) = &file.bytes {
            store.put_blob(bytes)?;
        }
        if file.path.starts_with(place::SIGNATURES) {
            let stamped = file.path.ends_with(".tsr");
            if stamped { &mut time_stamps } else { &mut signatures }.push(file.sha256);
        }
    }
    let mut releases = list(store, job)?;
    let tag_manifest = bag.tag_manifest_sha256();
    match releases.iter_mut().find(|one| one.number == number) {
        Some(there) if there.tag_manifest == tag_manifest => {
            gain(&mut there.signatures, signatures);
            gain(&mut there.time_stamps, time_stamps);
        }
        Some(_) => {
            return Err(Failure::input(format!(
                "job {job} has another release {number} in this data folder"
            ))
            .hint("two people released it apart from each other; compare the two with `nearside compare`"));
        }
        None => {
            signatures.sort();
            time_stamps.sort();
            releases.push(Kept { number, tag_manifest, signatures, time_stamps });
            releases.sort_by_key(|one| one.number);
        }
    }
    set(store, job, &releases)
}

fn gain(there: &mut Vec<Sha256>, new: Vec<Sha256>) {
    there.extend(new);
    there.sort();
    there.dedup();
}

/// The bag of a release, as it was when it was released, with every signature and time stamp it has now.
pub(crate) fn bag(store: &Store, kept: &Kept) -> Result<Bag, Failure> {
    let tag_manifest = fetched(store, place::TAG_MANIFEST, kept.tag_manifest)?;
    let mut named = manifest(&tag_manifest)?;
    let mut files = vec![tag_manifest];
    if let Some(sha256) = named.remove(place::MANIFEST) {
        let payload = fetched(store, place::MANIFEST, sha256)?;
        named.extend(manifest(&payload)?);
        files.push(payload);
    }
    for (path, sha256) in named {
        // Its size is learnt when its bytes are; nothing is written from the size alone.
        files.push(File::kept(path, sha256, 0));
    }
    for sha256 in &kept.signatures {
        let file = fetched(store, "signature", *sha256)?;
        let bytes = file.bytes.unwrap_or_default();
        let signature = Signature::read(&bytes)
            .map_err(|error| Failure::failed(format!("a signature of the release: {error}")))?;
        let path = signature_path(signature.statement.role, &signature.key);
        files.push(File::new(path, bytes));
    }
    for sha256 in &kept.time_stamps {
        let file = fetched(store, "time stamp", *sha256)?;
        let bytes = file.bytes.unwrap_or_default();
        files.push(File::new(time_stamp_path(&bytes), bytes));
    }
    files.sort_by(|one, other| one.path.cmp(&other.path));
    Ok(Bag { files })
}

/// The frozen state of a release's bag.
pub(crate) fn state(store: &Store, bag: &Bag) -> Result<State, Failure> {
    State::read(&content(store, bag, place::STATE)?)
        .map_err(|why| Failure::failed(format!("{} of the release: {why}", place::STATE)))
}

/// The last release of a job, while the record is still what it froze.
pub(crate) fn standing(job: &OpenJob) -> Result<Option<(State, Bag)>, Failure> {
    let known = list(&job.store, &job.id)?;
    let Some(last) = known.last() else { return Ok(None) };
    let bag = bag(&job.store, last)?;
    let state = state(&job.store, &bag)?;
    let mut heads: Vec<String> = job.record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    Ok((state.record_heads == heads).then_some((state, bag)))
}

/// One file's bytes of a release's bag.
pub(crate) fn content(store: &Store, bag: &Bag, path: &str) -> Result<Vec<u8>, Failure> {
    let file = bag.files.iter().find(|file| file.path == path);
    let file = file.ok_or_else(|| Failure::failed(format!("the release has no {path}")))?;
    Ok(bytes_of(store, file)?)
}

fn fetched(store: &Store, path: &str, sha256: Sha256) -> Result<File, Failure> {
    let hash = Sha256Hex::new(&sha256.to_string()).map_err(Failure::failed)?;
    let bytes = store.blob(&hash)?;
    let bytes = bytes.ok_or_else(|| {
        Failure::failed(format!("{path} of the release is not in the data folder"))
    })?;
    Ok(File::new(path, bytes))
}

fn manifest(file: &File) -> Result<BTreeMap<String, Sha256>, Failure> {
    let text = String::from_utf8_lossy(file.bytes.as_deref().unwrap_or_default()).into_owned();
    read_manifest(&text)
        .map_err(|why| Failure::failed(format!("{} of the release: {why}", file.path)))
}
