//! Findings that people wrote, and the words they are sorted by.

use crate::{Carried, Moment, PhotoId, PointId, ReadingId};

/// One of the five uses that a finding can stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Use {
    /// Towing or moving the unit.
    Tow,
    /// Connecting and using mains or battery power.
    Power,
    /// Using gas.
    Gas,
    /// Using water and drains.
    Water,
    /// Staying or sleeping in it.
    Stay,
}

impl Use {
    /// All uses, in the order of the report.
    pub const ALL: [Self; 5] = [Self::Tow, Self::Power, Self::Gas, Self::Water, Self::Stay];

    /// The word in data files, records and reports.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tow => "tow",
            Self::Power => "power",
            Self::Gas => "gas",
            Self::Water => "water",
            Self::Stay => "stay",
        }
    }

    /// The use with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }
}

/// How soon something must be done about a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TimeToAct {
    /// Before the unit or the part is used again.
    BeforeUse,
    /// In the coming weeks.
    Soon,
    /// With the next ordinary work.
    InTime,
}

impl TimeToAct {
    /// All three, most urgent first.
    pub const ALL: [Self; 3] = [Self::BeforeUse, Self::Soon, Self::InTime];

    /// The words in data files, records and reports.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::BeforeUse => "before use",
            Self::Soon => "soon",
            Self::InTime => "in time",
        }
    }

    /// The time with these words.
    #[must_use]
    pub fn from_words(words: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.words() == words)
    }
}

/// A finding in the record: written by a person, or a drafted one that a person decided on.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordedFinding {
    /// The point it belongs to, if any.
    pub point: Option<PointId>,
    /// Key of the drafted finding that this one decides on, such as `regulator_lockup/too_high`.
    pub draft: Option<String>,
    /// Short heading.
    pub title: String,
    /// The statement for the report.
    pub statement: String,
    /// Readings that show it.
    pub readings: Vec<ReadingId>,
    /// Photos that show it.
    pub photos: Vec<PhotoId>,
    /// Photos of its point that do not show it.
    pub photos_out: Vec<PhotoId>,
    /// Uses that it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call: a licensed trade, or the owner.
    pub who: String,
    /// Draft, confirmed, withdrawn, or merged into another.
    pub state: FindingState,
    /// Who wrote it.
    pub by: String,
    /// When it was written.
    pub at: Option<Moment>,
    /// What it said in the earlier job, if it was carried from there.
    pub carried: Option<Carried>,
}

impl RecordedFinding {
    /// A draft without words, to be filled in.
    #[must_use]
    pub fn blank(by: &str, at: Option<Moment>) -> Self {
        Self {
            point: None,
            draft: None,
            title: String::new(),
            statement: String::new(),
            readings: Vec::new(),
            photos: Vec::new(),
            photos_out: Vec::new(),
            stops: Vec::new(),
            when: TimeToAct::Soon,
            who: String::new(),
            state: FindingState::Draft,
            by: by.to_owned(),
            at,
            carried: None,
        }
    }
}

/// Where a finding stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FindingState {
    /// Written, not settled.
    Draft,
    /// Stands in the report.
    Confirmed,
    /// Taken back, and why; stays in the record.
    Withdrawn {
        /// The reason in words.
        reason: String,
    },
    /// One with another finding, which speaks for both; stays in the record.
    Merged {
        /// The other's key: that of its draft, or its id in the record where a person wrote it.
        into: String,
    },
}
