//! Whether a bag is what it was: every file, every signature, and the record inside.

use std::collections::{BTreeMap, BTreeSet};

use inspection::PhotoId;
use record::Record;
use sha2::Digest;

use crate::{
    Container, PublicKey, Role, Sha256, Signature, State, TimeStamp,
    assemble::DECLARATION,
    is_safe_path, manifest, photo_files, place, signature_path,
    time_stamp::{is_time_stamp_path, time_stamp_path},
};

/// What was found out about a bag.
#[derive(Clone, Debug, Default)]
pub struct Verification {
    /// Everything that is not as it should be; empty if the bag is intact.
    pub faults: Vec<Fault>,
    /// How many files it has, signatures included.
    pub files: usize,
    /// How many bytes they have.
    pub bytes: u64,
    /// What it freezes, as far as that can be read.
    pub state: Option<State>,
    /// Signatures that hold, the inspector's first.
    pub signed: Vec<Signed>,
    /// Time stamps that hold, the earliest first.
    pub time_stamps: Vec<Stamped>,
    /// Whose countersignature was to be added and is not there; empty where none is awaited.
    pub awaited: String,
    /// The hash that signatures stand on.
    pub tag_manifest_sha256: Option<Sha256>,
}

/// One thing that is not as it should be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The file, by its path in the bag.
    pub file: String,
    /// What is wrong with it, in words.
    pub what: String,
}

/// A signature that holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signed {
    /// Its file.
    pub file: String,
    /// As what.
    pub role: Role,
    /// The name that the signer gave.
    pub name: String,
    /// When, by the signer's own clock.
    pub signed_at: String,
    /// The key.
    pub key: PublicKey,
}

/// A time stamp that holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamped {
    /// Its file.
    pub file: String,
    /// What it says.
    pub stamp: TimeStamp,
}

/// What a bag amounts to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Something differs from what was packed or signed.
    Differs,
    /// Intact as far as its own manifests say, and nobody signed it: a working copy.
    Unsigned,
    /// Intact, and signed with the key that everybody has: it shows nothing about who signed.
    Demonstration,
    /// Intact and signed; a countersignature is still awaited.
    Awaited,
    /// Intact and signed by the key that is named.
    Signed,
}

impl Verification {
    /// What it amounts to.
    #[must_use]
    pub fn standing(&self) -> Standing {
        if !self.faults.is_empty() {
            return Standing::Differs;
        }
        let inspector = self.signed.iter().find(|signed| signed.role == Role::Inspector);
        match inspector {
            None => Standing::Unsigned,
            Some(signed) if signed.key.is_demonstration() => Standing::Demonstration,
            Some(_) if !self.awaited.is_empty() => Standing::Awaited,
            Some(_) => Standing::Signed,
        }
    }

    fn fault(&mut self, file: &str, what: impl Into<String>) {
        self.faults.push(Fault { file: file.to_owned(), what: what.into() });
    }
}

/// Reads a bag from beginning to end and says what is intact and what differs. `progress` is told how many files are
/// done, of how many.
///
/// # Errors
/// When the container cannot even be listed.
pub fn verify(
    container: &mut dyn Container,
    progress: &mut dyn FnMut(usize, usize),
) -> std::io::Result<Verification> {
    let listed = container.list()?;
    let mut found = Verification { files: listed.len(), ..Verification::default() };
    found.bytes = listed.iter().map(|(_, size)| size).sum();
    let mut hashes: BTreeMap<String, Sha256> = BTreeMap::new();
    for (at, (path, _)) in listed.iter().enumerate() {
        progress(at, listed.len());
        if !is_safe_path(path) {
            found.fault(path, "has a name that no file of a bag has: it was added or renamed");
            continue;
        }
        let mut digest = sha2::Sha256::new();
        match container.read(path, &mut |piece| digest.update(piece)) {
            Ok(()) => {
                hashes.insert(path.clone(), Sha256(digest.finalize().into()));
            }
            Err(error) => found.fault(path, format!("cannot be read: {error}")),
        }
    }
    manifests(container, &hashes, &mut found);
    contents(container, &hashes, &mut found);
    signatures(container, &hashes, &mut found);
    time_stamps(container, &hashes, &mut found);
    // One file can be wrong for several reasons, each its own line; the same line is not said twice.
    let mut said = BTreeSet::new();
    found.faults.retain(|fault| said.insert((fault.file.clone(), fault.what.clone())));
    Ok(found)
}

/// The bytes of a small file that is there, or a fault.
fn bytes(container: &mut dyn Container, path: &str, found: &mut Verification) -> Option<Vec<u8>> {
    match container.bytes(path) {
        Ok(bytes) => Some(bytes),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            found.fault(path, "is missing");
            None
        }
        Err(error) => {
            found.fault(path, format!("cannot be read: {error}"));
            None
        }
    }
}

fn manifests(
    container: &mut dyn Container,
    hashes: &BTreeMap<String, Sha256>,
    found: &mut Verification,
) {
    if let Some(declaration) = bytes(container, "bagit.txt", found)
        && declaration != DECLARATION.as_bytes()
    {
        found.fault("bagit.txt", "does not say what the first file of a bag says");
    }
    found.tag_manifest_sha256 = hashes.get(place::TAG_MANIFEST).copied();
    for manifest_path in [place::TAG_MANIFEST, place::MANIFEST] {
        let Some(text) = bytes(container, manifest_path, found) else { continue };
        let read = String::from_utf8(text)
            .map_err(|_| "it is no text".to_owned())
            .and_then(|text| manifest::read(&text));
        match read {
            Ok(named) => against(manifest_path, &named, hashes, found),
            Err(why) => found.fault(manifest_path, format!("cannot be read as a manifest: {why}")),
        }
    }
}

/// Whether it is this manifest that names this path.
fn covers(manifest_path: &str, path: &str) -> bool {
    let payload = path.starts_with("data/");
    if manifest_path == place::MANIFEST {
        return payload;
    }
    !payload && path != place::TAG_MANIFEST && !path.starts_with(place::SIGNATURES)
}

/// The files that a manifest names against those that are there.
fn against(
    manifest_path: &str,
    named: &BTreeMap<String, Sha256>,
    hashes: &BTreeMap<String, Sha256>,
    found: &mut Verification,
) {
    for (path, sha256) in named {
        if !covers(manifest_path, path) {
            found.fault(manifest_path, format!("names {path}, which is not its business"));
            continue;
        }
        let already = found.faults.iter().any(|fault| fault.file == *path);
        match hashes.get(path) {
            Some(there) if there == sha256 => {}
            Some(_) => found
                .fault(path, format!("is not the file that {manifest_path} names: it was changed")),
            None if already => {}
            None => found.fault(path, format!("is missing; {manifest_path} names it")),
        }
    }
    for path in
        hashes.keys().filter(|path| covers(manifest_path, path) && !named.contains_key(*path))
    {
        found.fault(path, format!("was added: {manifest_path} does not name it"));
    }
}

/// State, record, plan and photos, each against the others.
fn contents(
    container: &mut dyn Container,
    hashes: &BTreeMap<String, Sha256>,
    found: &mut Verification,
) {
    let Some(text) = bytes(container, place::STATE, found) else { return };
    let state = match State::read(&text) {
        Ok(state) => state,
        Err(why) => {
            found.fault(place::STATE, format!("cannot be read: {why}"));
            return;
        }
    };
    let hashed = [
        (place::RECORD, state.record_sha256),
        (place::PLAN, state.plan_sha256),
        (place::ASSESSMENT, state.assessment_sha256),
        (place::REPORT, state.report.sha256),
    ];
    let content = state.report.content_sha256.map(|sha256| (place::REPORT_JSON, sha256));
    for (path, sha256) in hashed.into_iter().chain(content) {
        match hashes.get(path) {
            Some(there) if *there == sha256 => {}
            Some(_) => found.fault(path, format!("is not the file that {} names", place::STATE)),
            None => found.fault(path, "is missing"),
        }
    }
    for (path, sha256) in hashes {
        if photo_files::named_sha256(path).is_some_and(|named| named != *sha256) {
            found.fault(path, "is named by a hash that is not its own");
        }
    }
    if let Some(record) = bytes(container, place::RECORD, found) {
        recorded(&record, &state, hashes, found);
    }
    found.state = Some(state);
}

fn recorded(
    bytes: &[u8],
    state: &State,
    hashes: &BTreeMap<String, Sha256>,
    found: &mut Verification,
) {
    let record = match Record::load([bytes]) {
        Ok(record) => record,
        Err(error) => {
            found.fault(place::RECORD, format!("cannot be read as a record: {error}"));
            return;
        }
    };
    let mut heads: Vec<String> = record.heads().iter().map(ToString::to_string).collect();
    heads.sort();
    let mut named = state.record_heads.clone();
    named.sort();
    if heads != named || record.beginning().to_string() != state.record_beginning {
        found.fault(place::RECORD, format!("has other heads than {} names", place::STATE));
    }
    match record.plan() {
        Ok(text) if Sha256::of(text.as_bytes()) == state.plan_sha256 => {}
        Ok(_) => found.fault(place::PLAN, "is not the plan that the record was made with"),
        Err(error) => found.fault(place::RECORD, error.to_string()),
    }
    let inspection = record.inspection().0;
    let photos = inspection.photos.keys().map(PhotoId::as_str);
    all_there(hashes, photo_files::folder::ORIGINAL, photos, &state.absent_photos, "photo", found);
    let standing = inspection.memos.iter().filter(|(_, memo)| memo.struck_out.is_none());
    let memos = standing.map(|(id, _)| id.as_str());
    all_there(hashes, photo_files::folder::MEMOS, memos, &state.absent_memos, "voice memo", found);
}

/// Whether each of these of the record lies in its folder or is said to be absent.
fn all_there<'r>(
    hashes: &BTreeMap<String, Sha256>,
    folder: &str,
    wanted: impl Iterator<Item = &'r str>,
    absent: &[String],
    what: &str,
    found: &mut Verification,
) {
    let there: BTreeSet<String> = hashes
        .keys()
        .filter(|path| path.starts_with(folder))
        .filter_map(|path| photo_files::named_sha256(path))
        .map(|sha256| sha256.to_string())
        .collect();
    for id in wanted {
        if !there.contains(id) && !absent.iter().any(|absent| absent == id) {
            found
                .fault(&format!("{folder}{id}"), format!("is missing: the record has this {what}"));
        }
    }
}

fn signatures(
    container: &mut dyn Container,
    hashes: &BTreeMap<String, Sha256>,
    found: &mut Verification,
) {
    let of_persons =
        |path: &&String| path.starts_with(place::SIGNATURES) && !is_time_stamp_path(path);
    let files: Vec<String> = hashes.keys().filter(of_persons).cloned().collect();
    for path in files {
        let Some(token) = bytes(container, &path, found) else { continue };
        match Signature::read(&token) {
            Ok(signature) => match fits(&path, &signature, found) {
                Ok(()) => found.signed.push(Signed {
                    role: signature.statement.role,
                    name: signature.statement.name,
                    signed_at: signature.statement.signed_at,
                    key: signature.key,
                    file: path,
                }),
                Err((file, why)) => found.fault(&file, why),
            },
            Err(error) => found.fault(&path, error.to_string()),
        }
    }
    found.signed.sort_by(|one, other| (one.role, &one.file).cmp(&(other.role, &other.file)));
    let release = found.state.as_ref().and_then(|state| state.release.clone());
    match release {
        Some(release) => {
            let signed = found.signed.iter().any(|signed| {
                signed.role == Role::Inspector && signed.key.thumbprint() == release.key
            });
            if !signed {
                let path = format!("{}inspector-{}.jws", place::SIGNATURES, release.key);
                let known = found.faults.iter().any(|fault| fault.file == path);
                if !known {
                    found.fault(&path, "is missing: the release says that this key signed it");
                }
            }
            let countersigned =
                found.signed.iter().any(|signed| signed.role == Role::Countersigner);
            if !countersigned {
                found.awaited = release.countersigner.unwrap_or_default();
            }
        }
        None if found.state.is_some() => {
            // Nobody signs a working copy; a signature beside one was brought here from elsewhere.
            for signed in std::mem::take(&mut found.signed) {
                found.fault(&signed.file, "is a signature, and this bag is no release");
            }
        }
        None => {}
    }
}

/// Time stamps: each says by itself what it stands on; a wrong one is named, and never makes the others doubtful.
fn time_stamps(
    container: &mut dyn Container,
    hashes: &BTreeMap<String, Sha256>,
    found: &mut Verification,
) {
    let files: Vec<String> =
        hashes.keys().filter(|path| is_time_stamp_path(path)).cloned().collect();
    for path in files {
        let Some(answer) = bytes(container, &path, found) else { continue };
        if path != time_stamp_path(&answer) {
            found.fault(
                &path,
                "is not what its name says: a byte of it was changed, or it was renamed",
            );
            continue;
        }
        match TimeStamp::read(&answer) {
            Err(why) => found.fault(&path, format!("is no sound time stamp: {why}")),
            Ok(_) if found.state.as_ref().is_some_and(|state| state.release.is_none()) => {
                found.fault(&path, "is a time stamp, and this bag is no release");
            }
            Ok(stamp) if found.tag_manifest_sha256 == Some(stamp.sha256) => {
                found.time_stamps.push(Stamped { file: path, stamp });
            }
            // Where the manifest itself was changed, that is the fault, and it has been named.
            Ok(_) if found.faults.iter().any(|fault| fault.file == place::TAG_MANIFEST) => {}
            Ok(_) => found.fault(&path, "is a time stamp on another release"),
        }
    }
    found
        .time_stamps
        .sort_by(|one, other| (&one.stamp.at, &one.file).cmp(&(&other.stamp.at, &other.file)));
}

/// Whether a sound signature belongs to this bag; else the file that is wrong, and why.
fn fits(path: &str, signature: &Signature, found: &Verification) -> Result<(), (String, String)> {
    let statement = &signature.statement;
    let own = |why: &str| Err((path.to_owned(), why.to_owned()));
    if path != signature_path(statement.role, &signature.key) {
        return own("is not named after its own role and key: it was renamed");
    }
    if found.tag_manifest_sha256 != Some(statement.tag_manifest_sha256) {
        let why = format!(
            "is not the one that {} signed: it, or the file of the signature, was exchanged",
            statement.name
        );
        return Err((place::TAG_MANIFEST.to_owned(), why));
    }
    let Some(state) = &found.state else { return Ok(()) };
    let release = state.release.as_ref();
    let mut heads = statement.heads.clone();
    heads.sort();
    let mut named = state.record_heads.clone();
    named.sort();
    if statement.job != state.job
        || heads != named
        || release.map(|it| it.number) != Some(statement.release)
    {
        return own("speaks of another job, release or record");
    }
    if statement.role == Role::Inspector
        && release.is_some_and(|it| it.key != signature.key.thumbprint())
    {
        return own("is by another key than the one that the release names");
    }
    Ok(())
}
