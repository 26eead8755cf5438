//! Findings carried from the job that this one inspects again: what they said then, and what became of each.

use crate::{Moment, PhotoId};

/// What a finding said in the earlier job, as it stood there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Carried {
    /// Its number in the earlier report.
    pub number: u32,
    /// Its key there.
    pub key: String,
    /// Where it was; empty where there was only one place.
    pub position: String,
    /// Its heading then.
    pub title: String,
    /// Its statement then.
    pub statement: String,
    /// Photos that showed it then.
    pub photos: Vec<PhotoId>,
    /// What became of it; none as long as nobody has said.
    pub mark: Option<RecheckMark>,
}

/// A person's word on what became of a carried finding.
#[derive(Clone, Debug, PartialEq)]
pub struct RecheckMark {
    /// What became of it.
    pub recheck: Recheck,
    /// What was seen of one that was looked at, in words; empty for nothing to say, and for one that was not seen, which has
    /// its reason.
    pub note: String,
    /// Who said so.
    pub by: String,
    /// When.
    pub at: Option<Moment>,
}

/// What became of a carried finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Recheck {
    /// It was looked at, and is there no more.
    Corrected,
    /// It was looked at, and is there still.
    NotCorrected,
    /// It was not looked at, and why.
    NotSeen {
        /// The reason in words.
        reason: String,
    },
}

impl Recheck {
    /// The words in records, data and reports.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self {
            Self::Corrected => "corrected",
            Self::NotCorrected => "not corrected",
            Self::NotSeen { .. } => "not seen",
        }
    }
}

impl Carried {
    /// Whether a person said that it is there no more.
    #[must_use]
    pub fn is_corrected(&self) -> bool {
        self.mark.as_ref().is_some_and(|mark| mark.recheck == Recheck::Corrected)
    }
}
