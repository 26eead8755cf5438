//! What was judged: the five uses, findings, readings, and what was and was not examined.

use serde::{Deserialize, Serialize};

use super::{OnFace, Place};

/// One of the five uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UseKind {
    /// Towing or moving the unit.
    Tow,
    /// Connecting and using power.
    Power,
    /// Using gas.
    Gas,
    /// Using water and drains.
    Water,
    /// Staying or sleeping in it.
    Stay,
}

impl UseKind {
    /// All uses, in the order of the report.
    pub const ALL: [Self; 5] = [Self::Tow, Self::Power, Self::Gas, Self::Water, Self::Stay];

    /// The word on the page.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tow => "Tow",
            Self::Power => "Power",
            Self::Gas => "Gas",
            Self::Water => "Water",
            Self::Stay => "Stay",
        }
    }
}

/// Where a use stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UseState {
    /// Nothing was found that stops it and its essential points were examined.
    Clear,
    /// A finding stops it.
    Held,
    /// Essential points were not examined.
    Open,
    /// The unit has nothing of the kind.
    NotFitted,
}

/// A use, its state, and what the state rests on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Use {
    /// Which use.
    pub kind: UseKind,
    /// Where it stands.
    pub state: UseState,
    /// One sentence for a lay reader.
    pub sentence: String,
    /// Numbers of the findings that stop it.
    pub findings: Vec<usize>,
    /// Numbers of the entries of the not-examined list that leave it open.
    pub not_examined: Vec<usize>,
}

/// A matter that cannot wait: gas escaping, a conductor bare.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct StopWork {
    /// Short heading.
    pub title: String,
    /// What to do at once, and what was done already.
    pub text: String,
    /// Number of the finding that reports it.
    pub finding: Option<usize>,
}

/// How soon something must be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum When {
    /// Before the unit or the part is used again.
    BeforeUse,
    /// In the coming weeks.
    Soon,
    /// With the next ordinary work.
    InTime,
}

/// Something wrong, with its evidence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    /// Short heading.
    pub title: String,
    /// The statement; line breaks separate paragraphs.
    pub statement: String,
    /// Where on the unit, in words.
    pub location: String,
    /// How soon to act.
    pub when: When,
    /// Whom to call: a licensed trade, or the owner.
    pub who: String,
    /// Uses that it stops.
    pub stops: Vec<UseKind>,
    /// Numbers of the readings that show it.
    pub readings: Vec<usize>,
    /// Numbers of the photos that show it.
    pub photos: Vec<usize>,
    /// What the judgement rests on, in words.
    pub basis: String,
    /// Numbers of the sources that the basis rests on.
    pub sources: Vec<usize>,
    /// Where its pin stands on the plan view.
    pub place: Option<Place>,
    /// On which side one sees it from outside; only with a place.
    #[serde(default)]
    pub side: Option<OnFace>,
}

/// The readings of one system: gas, running gear …
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct System {
    /// Name of the system.
    pub name: String,
    /// A remark that holds for the whole table; may be empty.
    pub note: String,
    /// The readings and the values worked out from them.
    pub readings: Vec<Reading>,
}

/// What a value turned out to be against a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Within the limit, uncertainty considered.
    Conforms,
    /// Beyond a limit that binds.
    DoesNotConform,
    /// The uncertainty straddles the limit.
    Undecided,
    /// Within a limit that only informs.
    WithinGuidance,
    /// Beyond a limit that only informs.
    BeyondGuidance,
    /// A figure worth reporting without a limit.
    NoLimit,
}

/// One value with everything that it travels with.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reading {
    /// The point it was taken at; readings of one point stand together.
    pub point: String,
    /// What was read or worked out.
    pub name: String,
    /// Which of several: a tyre, an outlet; empty where there is only one.
    pub position: String,
    /// The value as printed: `11.3`, or words.
    pub value: String,
    /// Its unit as printed; empty for counts and words.
    pub unit: String,
    /// Its expanded uncertainty as printed, without sign; empty where none applies.
    pub uncertainty: String,
    /// What each limit says of it; empty where none applies.
    pub judged: Vec<Judged>,
    /// A remark; may be empty.
    pub remark: String,
    /// Numbers of the instruments.
    pub instruments: Vec<usize>,
    /// Numbers of the photos taken at its point: of its position, where they say one.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<usize>,
}

/// A value against one limit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Judged {
    /// The limit in words: `at most 14 inH2O`.
    pub limit: String,
    /// Whose duty the limit is about, in words; may be empty.
    pub footing: String,
    /// The verdict; chooses the sign.
    pub verdict: Verdict,
    /// The verdict in words.
    pub words: String,
    /// Numbers of the sources of the limit.
    pub sources: Vec<usize>,
}

/// A point that was not examined.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct NotExamined {
    /// The point.
    pub point: String,
    /// The stop where it belongs.
    pub stop: String,
    /// Why it was not examined.
    pub reason: String,
    /// Uses that it leaves open.
    pub leaves_open: Vec<UseKind>,
}

/// What was examined without remark at one stop.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ExaminedStop {
    /// The stop.
    pub name: String,
    /// Its points.
    pub points: Vec<String>,
}
