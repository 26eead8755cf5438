//! What the data files say in another language, or in a firm's own words: texts laid over those of a plan.
//!
//! A text file stands beside the file whose texts it gives, under `languages/<language>/`, and names each text as
//! that file does. Nothing is ever recorded in another language: choices, positions and ids stay what they are, and only
//! what people read of them changes. So judging gives the same answer in every language.

pub(crate) mod each;
mod lint;
mod phrases;
mod promises;
mod travel;
mod write;

use std::collections::{BTreeMap, BTreeSet};

use sha2::{Digest, Sha256};

pub use phrases::Phrases;
pub use promises::promises;
pub use write::write_texts;

use crate::{Files, Library, Plan, Problem};

/// Where a text stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TextName {
    /// The file without its ending, such as `points/gas/regulator_lockup`.
    pub file: String,
    /// The text within it, such as `defect.lockup_high.title`, `look[0]` or `title`.
    pub name: String,
}

/// A text that is not there in the other language.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct MissingText {
    /// Where it would stand.
    pub at: TextName,
    /// What it says in English.
    pub english: String,
}

/// A text of the data and what it is in the other language.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Text {
    english: String,
    own: String,
}

/// Texts of the data files in one language.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Texts {
    language: String,
    by_name: BTreeMap<TextName, Text>,
}

/// Texts as they were read, with all that is wrong with them and all that is missing.
#[derive(Clone, Debug, Default)]
pub struct LoadedTexts {
    /// The texts without a problem.
    pub texts: Texts,
    /// What is wrong: unknown texts, placeholders and numbers that differ, empty texts.
    pub problems: Vec<Problem>,
    /// Texts of the data that are in English only.
    pub missing: Vec<MissingText>,
    /// How many texts there are to be given.
    pub wanted: usize,
}

/// Reads the text files of a language and holds them against the data they belong to. `files` are by their path inside
/// the language's folder, such as `points/gas/regulator_lockup.toml`.
#[must_use]
pub fn load_texts(language: &str, files: &Files, library: &Library) -> LoadedTexts {
    lint::load(language, files, library)
}

impl Texts {
    /// The language's code, as in a page's `lang`.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    /// How many texts there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.by_name.len()
    }

    /// The title of a plan in this language.
    #[must_use]
    pub fn title_of_plan(&self, id: &str) -> Option<&str> {
        self.own(&TextName { file: format!("plans/{id}"), name: "title".to_owned() })
    }

    /// The title of a point in this language.
    #[must_use]
    pub fn title_of_point(&self, id: &str) -> Option<&str> {
        let of = |name: &&TextName| {
            let file = name.file.strip_prefix("points/").and_then(|path| path.rsplit('/').next());
            name.name == "title" && file == Some(id)
        };
        self.by_name.keys().find(of).and_then(|name| self.own(name))
    }

    /// SHA-256 over all names and texts, in lower-case hexadecimal: which texts a report was made with.
    #[must_use]
    pub fn revision(&self) -> String {
        let mut hash = Sha256::new();
        let mut add = |part: &str| {
            // Lengths first, so that no two sets of texts give the same bytes.
            hash.update(format!("{}\n", part.len()));
            hash.update(part);
        };
        add(&self.language);
        for (name, text) in &self.by_name {
            for part in [&name.file, &name.name, &text.english, &text.own] {
                add(part);
            }
        }
        hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// Lays further texts over these: a firm's own over those that ship.
    pub fn add(&mut self, further: Self) {
        self.by_name.extend(further.by_name);
    }

    /// What is said under exactly this name.
    fn own(&self, name: &TextName) -> Option<&str> {
        self.by_name.get(name).map(|text| text.own.as_str())
    }

    /// What a text is in this language: the text of that name, else the one shared by all files. A text that was made
    /// from other words than these is none.
    fn find(&self, spoken: &each::Spoken<'_>, english: &str) -> Option<&str> {
        let at = |file: &str, name: &str| {
            let name = TextName { file: file.to_owned(), name: name.to_owned() };
            self.by_name.get(&name).filter(|text| text.english == english)
        };
        let own = at(spoken.file, &spoken.name);
        let shared = || at(each::SHARED, spoken.shared.as_deref()?);
        own.or_else(shared).map(|text| text.own.as_str())
    }
}

impl Plan {
    /// The plan as people read it in another language, and what of it stays in English.
    ///
    /// A text is laid over the very words it was made from only: where a job's own plan says something else, its words
    /// stay, and are listed.
    #[must_use]
    pub fn with_texts(&self, texts: &Texts) -> (Self, Vec<MissingText>) {
        let mut plan = self.clone();
        let mut missing = Vec::new();
        let mut headings = Vec::new();
        // A word that many points share is met again in its new language, and missed once.
        let mut met = BTreeSet::new();
        each::text_of_plan(&mut plan, &mut |spoken, text| match texts.find(spoken, text) {
            Some(own) => {
                if spoken.file == each::SHARED {
                    met.insert(spoken.missing(text).at);
                }
                // A person who confirmed a draft may have kept its heading and whom to call as they stood.
                if spoken.name.starts_with("defect.") && !spoken.name.ends_with(".statement") {
                    headings.push((text.clone(), own.to_owned()));
                }
                own.clone_into(text);
            }
            None if spoken.wanted(text) => {
                let one = spoken.missing(text);
                if met.insert(one.at.clone()) {
                    missing.push(one);
                }
            }
            None => {}
        });
        plan.words.lay_over(texts);
        for (english, own) in headings {
            plan.words.exact.entry(english).or_insert(own);
        }
        plan.drawn = plan.words.clone();
        for point in &plan.points {
            for (word, shown) in point.readings.iter().flat_map(|reading| &reading.shown) {
                plan.drawn.exact.entry(word.clone()).or_insert_with(|| shown.clone());
            }
        }
        for (name, text) in &texts.by_name {
            if name.file == each::DRAWINGS {
                plan.drawn.add_sentence(&text.english, &text.own);
            }
        }
        texts.language.clone_into(&mut plan.language);
        (plan, missing)
    }
}

impl Phrases {
    /// Lays the phrases and sentences of a language over these.
    fn lay_over(&mut self, texts: &Texts) {
        for (name, text) in &texts.by_name {
            match name.file.as_str() {
                each::PHRASES => self.add(&text.english, &text.own),
                each::SENTENCES => self.add_sentence(&text.english, &text.own),
                _ => {}
            }
        }
    }
}
