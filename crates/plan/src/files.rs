//! The data files as text: those that ship with the program, and a firm's own beside them.

use std::collections::BTreeMap;

use sha2::{Digest, Sha256};

use crate::embedded::EMBEDDED;
use crate::embedded_languages::EMBEDDED_LANGUAGES;

/// The line before each file where several stand in one text; no TOML file can hold it outside a comment.
const MARK: &str = "#== ";

/// Data files by their path inside the data folder, such as `points/gas/regulator_lockup.toml`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Files {
    by_path: BTreeMap<String, String>,
}

impl Files {
    /// The files that ship with the program.
    #[must_use]
    pub fn embedded() -> Self {
        let by_path = EMBEDDED.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
        Self { by_path: by_path.collect() }
    }

    /// The languages that texts ship in, beside English.
    pub fn languages() -> impl Iterator<Item = &'static str> {
        EMBEDDED_LANGUAGES.iter().map(|(language, _)| *language)
    }

    /// The text files of a language that ship with the program, by their path inside the language's folder; none
    /// if there are none. Kept apart from the data: who asks for no other language carries none.
    #[must_use]
    pub fn of_language(language: &str) -> Option<Self> {
        let (_, files) = EMBEDDED_LANGUAGES.iter().find(|(known, _)| *known == language)?;
        let by_path = files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
        Some(Self { by_path: by_path.collect() })
    }

    /// All files in one text, each behind a line with its path: the form in which a plan is frozen into a job, and in
    /// which the shipped files travel to the app.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for (path, content) in self.iter() {
            text.push_str(MARK);
            text.push_str(path);
            text.push('\n');
            text.push_str(content);
            if !content.ends_with('\n') {
                text.push('\n');
            }
        }
        text
    }

    /// The files in such a text. What stands before the first path belongs to none.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut files = Self::none();
        let mut path = None;
        let mut content = String::new();
        for line in text.split_inclusive('\n') {
            if let Some(next) = line.strip_prefix(MARK) {
                if let Some(path) = path.replace(next.trim().to_owned()) {
                    files.add(path, std::mem::take(&mut content));
                }
            } else if path.is_some() {
                content.push_str(line);
            }
        }
        if let Some(path) = path {
            files.add(path, content);
        }
        files
    }

    /// No files.
    #[must_use]
    pub fn none() -> Self {
        Self::default()
    }

    /// Adds a file; one with the same path is replaced.
    pub fn add(&mut self, path: impl Into<String>, text: impl Into<String>) {
        self.by_path.insert(path.into(), text.into());
    }

    /// Adds a firm's own point: it replaces the shipped point of the same id, wherever that stands.
    /// Gives the path that it replaced, if any.
    pub fn add_point(&mut self, path: &str, text: impl Into<String>) -> Option<String> {
        let name = path.rsplit('/').next().unwrap_or(path);
        let replaced = self
            .by_path
            .keys()
            .find(|other| other.starts_with("points/") && other.rsplit('/').next() == Some(name))
            .cloned();
        if let Some(other) = &replaced {
            self.by_path.remove(other);
        }
        self.by_path.insert(path.to_owned(), text.into());
        replaced
    }

    /// The text of a file.
    #[must_use]
    pub fn text(&self, path: &str) -> Option<&str> {
        self.by_path.get(path).map(String::as_str)
    }

    /// All files by path.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.by_path.iter().map(|(path, text)| (path.as_str(), text.as_str()))
    }

    /// SHA-256 over all paths and texts, in lower-case hexadecimal: the data revision.
    #[must_use]
    pub fn revision(&self) -> String {
        let mut hash = Sha256::new();
        for (path, text) in &self.by_path {
            for part in [path, text] {
                // Lengths first, so that no two sets of files give the same bytes.
                hash.update(format!("{}\n", part.len()));
                hash.update(part);
            }
        }
        hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
    }
}
