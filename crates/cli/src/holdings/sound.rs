//! Whether the files beside the store's own can still be used for what they are there for.

use std::collections::BTreeSet;

use bag::{KeyError, PublicKey, SigningKey};
use field::Sentences;
use plan::{Files, load_texts};
use serde_json::Value;
use store::{Companion, Sha256Hex, Store};

use super::{Care, Found, care_of};
use crate::commands::plan::shipped;
use crate::failure::Failure;

/// What is wrong with a secret that is none.
pub(super) const OPEN: &str = "is secret and can be read by others";

/// A file that is not as it should be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct FileFault {
    /// Its name in the data folder.
    pub(crate) name: String,
    /// What is wrong, as the end of a sentence that begins with the name.
    pub(crate) why: String,
    /// Whether something is lost; else it is only to be known.
    pub(crate) is_loss: bool,
}

impl std::fmt::Display for FileFault {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{} {}", self.name, self.why)
    }
}

/// Everything that is wrong with the files of the data folder beside the store's own; each file once.
pub(crate) fn file_faults(store: &Store, found: &Found) -> Result<Vec<FileFault>, Failure> {
    let sealed = store.sealed_files()?;
    // Which of a pair of certificate and key is wrong, the seals say; without them, that the pair is.
    let tls_differs = sealed.iter().any(|sealed| {
        let file = found.files.iter().find(|file| file.name == sealed.name);
        sealed.name.starts_with("tls/")
            && file.is_none_or(|file| Sha256Hex::of(&file.bytes) != sealed.sha256)
    });
    let mut faults = Vec::new();
    let mut named = BTreeSet::new();
    for (name, why) in meaningless(store, found)? {
        if tls_differs && name.starts_with("tls/") {
            continue;
        }
        if named.insert(name.clone()) {
            faults.push(FileFault { name, why, is_loss: true });
        }
    }
    for sealed in sealed {
        let file = found.files.iter().find(|file| file.name == sealed.name);
        let edited = matches!(care_of(&sealed.name), Some(Care::Edited | Care::ByHand));
        let why = match file {
            None if edited => "is not there any more: somebody took it away, or it was lost",
            None => "is missing",
            Some(file) if Sha256Hex::of(&file.bytes) == sealed.sha256 => continue,
            Some(_) if edited => {
                "is not as the program wrote it: somebody edited it, or it was damaged"
            }
            Some(_) => "is not what was kept",
        };
        if named.insert(sealed.name.clone()) {
            faults.push(FileFault { name: sealed.name, why: why.to_owned(), is_loss: !edited });
        }
    }
    for file in found.files.iter().filter(|file| file.secret) {
        if is_open_to_others(store, file) && named.insert(file.name.clone()) {
            faults.push(FileFault {
                name: file.name.clone(),
                why: OPEN.to_owned(),
                is_loss: false,
            });
        }
    }
    faults.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(faults)
}

/// Files that do not say what they are there to say, and why.
fn meaningless(store: &Store, found: &Found) -> Result<Vec<(String, String)>, Failure> {
    let mut faults = server::certificate_faults(store.folder());
    for (_, why) in &mut faults {
        *why = format!("cannot be used: {why}");
    }
    for file in &found.files {
        faults.extend(unreadable(file).map(|why| (file.name.clone(), why)));
    }
    faults.extend(texts(found)?);
    Ok(faults)
}

/// Why one file by itself does not say what it is there to say, if it does not.
pub(super) fn unreadable(file: &Companion) -> Option<String> {
    match file.name.as_str() {
        "sentences.json" => sentences(file),
        name if name.starts_with("tls/") || name.starts_with("texts/") => None,
        name if name.ends_with(".public.json") => public_half(file),
        name if name.ends_with(".pem") => private_half(file),
        _ => None,
    }
}

fn text(file: &Companion) -> Result<&str, String> {
    std::str::from_utf8(&file.bytes).map_err(|error| format!("cannot be read: {error}"))
}

fn sentences(file: &Companion) -> Option<String> {
    match text(file) {
        Ok(text) => Sentences::read(text).err().map(|why| format!("cannot be read: {why}")),
        Err(why) => Some(why),
    }
}

/// Without its passphrase a key says no more than that it is one; what it holds is sealed.
fn private_half(file: &Companion) -> Option<String> {
    let read = text(file).and_then(|pem| {
        SigningKey::check_encrypted_pem(pem).map_err(|error: KeyError| error.to_string())
    });
    read.err().map(|why| format!("cannot be used: {why}"))
}

fn public_half(file: &Companion) -> Option<String> {
    let value: Value = match serde_json::from_slice(&file.bytes) {
        Ok(value) => value,
        Err(error) => return Some(format!("cannot be read: {error}")),
    };
    let key = value.pointer("/jwk/x").and_then(Value::as_str).and_then(PublicKey::from_base64url);
    match key {
        None => Some("holds no public half of a key".to_owned()),
        Some(key) if value["thumbprint"] != key.thumbprint() => {
            Some("holds another key than the thumbprint in it says".to_owned())
        }
        Some(_) => None,
    }
}

fn texts(found: &Found) -> Result<Vec<(String, String)>, Failure> {
    let mut faults = Vec::new();
    let mut languages: std::collections::BTreeMap<&str, Files> = std::collections::BTreeMap::new();
    for file in &found.files {
        let Some(inside) = file.name.strip_prefix("texts/") else { continue };
        let (Some((language, name)), true) = (inside.split_once('/'), inside.ends_with(".toml"))
        else {
            continue;
        };
        match text(file) {
            Ok(text) => languages.entry(language).or_default().add(name, text.to_owned()),
            Err(why) => faults.push((file.name.clone(), why)),
        }
    }
    if languages.is_empty() {
        return Ok(faults);
    }
    let library = shipped()?;
    for (language, files) in languages {
        for problem in load_texts(language, &files, &library).problems {
            let name = format!("texts/{language}/{}", problem.file);
            faults.push((name, format!("cannot be used: {problem}")));
        }
    }
    Ok(faults)
}

#[cfg(unix)]
fn is_open_to_others(store: &Store, file: &Companion) -> bool {
    use std::os::unix::fs::PermissionsExt as _;
    std::fs::metadata(store.folder().join(&file.name))
        .is_ok_and(|about| about.permissions().mode() & 0o077 != 0)
}

#[cfg(not(unix))]
fn is_open_to_others(_store: &Store, _file: &Companion) -> bool {
    false
}
