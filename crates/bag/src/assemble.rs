//! From a job's files to a bag: the manifests and the few lines about it (RFC 8493, 2).

use std::collections::BTreeSet;

use crate::{
    File, PublicKey, Role, Sha256, is_safe_path, manifest::manifest, place, signature_path,
    time_stamp_path,
};

/// What `bag-info.txt` says (RFC 8493, 2.2.2).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BagInfo {
    /// What identifies it: job and release.
    pub identifier: String,
    /// One line about it.
    pub description: String,
    /// The inspector.
    pub contact: String,
    /// The day of the release or of the last change, `2026-06-12`.
    pub date: String,
    /// Program and version.
    pub program: String,
}

/// A whole bag, each file by its path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bag {
    /// Its files in order of their paths.
    pub files: Vec<File>,
}

impl Bag {
    /// Puts manifests around the files of `data/`.
    ///
    /// # Errors
    /// A sentence when a path is not safe, not in `data/`, or there twice.
    pub fn assemble(payload: Vec<File>, info: &BagInfo) -> Result<Self, String> {
        let mut paths = BTreeSet::new();
        for file in &payload {
            if !is_safe_path(&file.path) || !file.path.starts_with("data/") {
                return Err(format!("{:?} is no path for a file in a bag's data", file.path));
            }
            // Some file systems do not tell capital letters from small ones.
            if !paths.insert(file.path.to_lowercase()) {
                return Err(format!("two files of the bag have the path {}", file.path));
            }
        }
        let bytes: u64 = payload.iter().map(|file| file.size).sum();
        let mut tags = vec![
            File::new("bagit.txt", DECLARATION),
            File::new("bag-info.txt", bag_info(info, bytes, payload.len())),
            File::new(place::MANIFEST, manifest(payload.iter())),
        ];
        tags.push(File::new(place::TAG_MANIFEST, manifest(tags.iter())));
        let mut bag = Self { files: payload };
        bag.files.extend(tags);
        bag.sort();
        Ok(bag)
    }

    /// The hash that a signature stands on.
    #[must_use]
    pub fn tag_manifest_sha256(&self) -> Sha256 {
        let found = self.files.iter().find(|file| file.path == place::TAG_MANIFEST);
        found.map(|file| file.sha256).expect("every bag is assembled with its tag manifest")
    }

    /// Adds a signature's file.
    pub fn add_signature(&mut self, role: Role, key: &PublicKey, token: &str) {
        let path = signature_path(role, key);
        self.put(File::new(path, token));
    }

    /// Adds the answer of a time stamp service; its path is what it can be found by.
    pub fn add_time_stamp(&mut self, answer: &[u8]) -> String {
        let path = time_stamp_path(answer);
        self.put(File::new(path.clone(), answer));
        path
    }

    fn put(&mut self, file: File) {
        self.files.retain(|one| one.path != file.path);
        self.files.push(file);
        self.sort();
    }

    fn sort(&mut self) {
        self.files.sort_by(|one, other| one.path.cmp(&other.path));
    }
}

/// `bagit.txt` (RFC 8493, 2.1.1).
pub(crate) const DECLARATION: &str = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

fn bag_info(info: &BagInfo, bytes: u64, files: usize) -> String {
    let lines = [
        ("Bag-Software-Agent", info.program.clone()),
        ("Bagging-Date", info.date.clone()),
        ("Contact-Name", info.contact.clone()),
        ("External-Description", info.description.clone()),
        ("External-Identifier", info.identifier.clone()),
        ("Payload-Oxum", format!("{bytes}.{files}")),
    ];
    let mut text = String::new();
    for (label, value) in lines {
        // A line's end inside a value would begin another label.
        let value: String =
            value.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
        if !value.trim().is_empty() {
            text.push_str(&format!("{label}: {}\n", value.trim()));
        }
    }
    text
}
