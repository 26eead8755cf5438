//! A limit with where it comes from.

use jiff::civil::Date;

use crate::{Applies, Bound};

/// A published limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Its id within its point; a judgement is named `point/limit`.
    pub id: String,
    /// The reading or derived value that it bounds.
    pub on: String,
    /// The bound.
    pub bound: Bound,
    /// Where it is published.
    pub source: SourceReference,
    /// What kind of authority stands behind it.
    pub basis: Basis,
    /// Whose duty it is about.
    pub footing: Footing,
    /// Whether anybody read the section.
    pub read: SectionRead,
    /// Which units it applies to.
    pub applies: Applies,
}

impl Limit {
    /// Whether this limit can condemn. Common practice, and sections that nobody read, only inform.
    #[must_use]
    pub fn can_condemn(&self) -> bool {
        self.basis != Basis::Practice && self.read != SectionRead::No
    }
}

/// Where a limit is published.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SourceReference {
    /// Key in `data/sources.toml`.
    pub key: String,
    /// Section, table or page.
    pub section: String,
    /// Edition, where it differs from the source's own.
    pub edition: String,
}

/// What kind of authority stands behind a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// A statute or regulation.
    Law,
    /// A published standard or model code.
    Standard,
    /// The maker's plate or manual.
    Maker,
    /// Common practice of the trade, or this project's own screening.
    Practice,
}

impl Basis {
    /// All, strongest first.
    pub const ALL: [Self; 4] = [Self::Law, Self::Standard, Self::Maker, Self::Practice];

    /// The word in data files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Law => "law",
            Self::Standard => "standard",
            Self::Maker => "maker",
            Self::Practice => "practice",
        }
    }

    /// The basis with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }
}

/// Whose duty a limit is about; the three are never mixed, and are worded apart in a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Footing {
    /// What the maker owed on the build date.
    Build,
    /// A rule for units in use.
    InUse,
    /// Good practice.
    GoodPractice,
}

impl Footing {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Build, Self::InUse, Self::GoodPractice];

    /// The word in data files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Build => "build",
            Self::InUse => "in_use",
            Self::GoodPractice => "good_practice",
        }
    }

    /// The words in a report.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Build => "owed by the maker when built",
            Self::InUse => "rule for units in use",
            Self::GoodPractice => "good practice",
        }
    }

    /// The footing with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }
}

/// Whether anybody on the project read the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SectionRead {
    /// The text itself was read, that day.
    On(Date),
    /// It was read as another text quotes it, that day.
    Quoted(Date),
    /// Nobody read it.
    No,
}
