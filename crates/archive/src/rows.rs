//! The rows that figures are made of: one a job, and one for every point that its unit has.

use inspection::{DwellingKind, Use};
use jiff::civil::Date;
use limit::Verdict;

use crate::AgeBand;

/// One job. Neither the client's name, nor the address, nor an identification number is in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobRow {
    /// The job's number.
    pub job: String,
    /// Kind of unit.
    pub kind: DwellingKind,
    /// Maker, as on the plate.
    pub maker: String,
    /// Model, as on the plate.
    pub model: String,
    /// Model year, if recorded.
    pub model_year: Option<i16>,
    /// First day that the build date can mean, if recorded.
    pub built: Option<Date>,
    /// First day of the visits, if recorded.
    pub visited: Option<Date>,
    /// Whole years from being built to the first visit, if both are known.
    pub age: Option<u16>,
    /// State, province or country as ISO 3166 codes it; `unknown` where the address does not plainly say it.
    pub region: String,
    /// What the inspection was for.
    pub purpose: String,
    /// How many points the unit has.
    pub points: u32,
    /// How many of them were examined.
    pub examined: u32,
    /// Findings that a person confirmed.
    pub findings: u32,
}

impl JobRow {
    /// The band of its age.
    #[must_use]
    pub fn age_band(&self) -> AgeBand {
        AgeBand::of(self.age)
    }
}

/// What became of a point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum PointOutcome {
    /// Nothing was entered for it.
    #[default]
    NothingEntered,
    /// The point's acts were done.
    Examined,
    /// They were not.
    NotExamined,
    /// The unit has no such thing.
    NotFitted,
}

/// The worst that the limits say of a point's values.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorstVerdict {
    /// It has no value that was judged.
    #[default]
    None,
    /// Values, and no limit for them.
    NoLimit,
    /// All conform.
    Conforms,
    /// Within limits that can only inform.
    WithinGuidance,
    /// Beyond a limit that can only inform.
    BeyondGuidance,
    /// The uncertainty straddles a limit.
    Undecided,
    /// A value does not conform.
    DoesNotConform,
}

/// Whether something was found at a point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingSeen {
    /// Nothing stands.
    #[default]
    None,
    /// A finding that readings or answers brought up and nobody has confirmed.
    Draft,
    /// A finding that a person confirmed.
    Confirmed,
}

/// The uses that the standing findings of a point stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Held(u8);

macro_rules! words {
    ($name:ident: $($variant:ident = $word:literal),+ $(,)?) => {
        impl $name {
            /// All of them, in their order.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// The words in tables and files.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word),+
                }
            }

            /// The one with these words.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|one| one.word() == word)
            }
        }
    };
}

words!(PointOutcome:
    NothingEntered = "nothing entered",
    Examined = "examined",
    NotExamined = "not examined",
    NotFitted = "not fitted",
);
words!(WorstVerdict:
    None = "none",
    NoLimit = "no limit",
    Conforms = "conforms",
    WithinGuidance = "within guidance",
    BeyondGuidance = "beyond guidance",
    Undecided = "undecided",
    DoesNotConform = "does not conform",
);
words!(FindingSeen:
    None = "none",
    Draft = "draft",
    Confirmed = "confirmed",
);

impl From<Verdict> for WorstVerdict {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Conforms => Self::Conforms,
            Verdict::DoesNotConform => Self::DoesNotConform,
            Verdict::Undecided => Self::Undecided,
            Verdict::WithinGuidance => Self::WithinGuidance,
            Verdict::BeyondGuidance => Self::BeyondGuidance,
            Verdict::NoLimit => Self::NoLimit,
        }
    }
}

impl Held {
    /// Adds a use.
    pub fn add(&mut self, one: Use) {
        self.0 |= Self::bit(one);
    }

    /// Whether it is none.
    #[must_use]
    pub fn is_none(self) -> bool {
        self.0 == 0
    }

    /// The uses, in the report's order, apart by spaces; empty for none.
    #[must_use]
    pub fn words(self) -> String {
        let held = Use::ALL.into_iter().filter(|one| self.0 & Self::bit(*one) != 0);
        held.map(Use::word).collect::<Vec<_>>().join(" ")
    }

    /// Those uses, from their words.
    #[must_use]
    pub fn from_words(words: &str) -> Option<Self> {
        let mut held = Self::default();
        for word in words.split_whitespace() {
            held.add(Use::from_word(word)?);
        }
        Some(held)
    }

    /// The one with this number, of 32.
    #[must_use]
    pub fn numbered(number: u8) -> Self {
        Self(number & 31)
    }

    fn bit(one: Use) -> u8 {
        match one {
            Use::Tow => 1,
            Use::Power => 2,
            Use::Gas => 4,
            Use::Water => 8,
            Use::Stay => 16,
        }
    }
}

/// One point of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PointRow {
    /// The point's id in the plan.
    pub point: String,
    /// What became of it.
    pub outcome: PointOutcome,
    /// The worst that the limits say.
    pub verdict: WorstVerdict,
    /// What was found.
    pub finding: FindingSeen,
    /// Uses that its standing findings stop.
    pub held: Held,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_reads_back() {
        for one in PointOutcome::ALL {
            assert_eq!(PointOutcome::from_word(one.word()), Some(*one));
        }
        for one in WorstVerdict::ALL {
            assert_eq!(WorstVerdict::from_word(one.word()), Some(*one));
        }
        for one in FindingSeen::ALL {
            assert_eq!(FindingSeen::from_word(one.word()), Some(*one));
        }
        for number in 0..32 {
            let held = Held::numbered(number);
            assert_eq!(Held::from_words(&held.words()), Some(held));
        }
        assert_eq!(Held::from_words("tow sail"), None);
    }
}
