//! What an assessment says, as plain data.

use inspection::{
    FindingId, InstrumentId, Outcome, PhotoId, PointId, ReadingId, TimeToAct, Use, WaitId,
};
use limit::{Judgement, Limit};
use quantity::{Unit, Value};

use crate::{CarriedResult, CarriedState};

/// Everything that follows from a plan and an inspection.
#[derive(Clone, Debug, Default)]
pub struct Assessment {
    /// Every point that the unit has, in walking order.
    pub points: Vec<PointResult>,
    /// Findings that stand, numbered from 1: those that stop a use first, then by time to act.
    pub findings: Vec<Finding>,
    /// The five uses, in the order of the report.
    pub uses: Vec<UseResult>,
    /// What became of each finding that was carried from an earlier job, in the order of that job's report.
    pub carried: Vec<CarriedResult>,
    /// What is missing or open, in walking order.
    pub missing: Vec<Missing>,
    /// Entries that could not be read or used, in sentences.
    pub problems: Vec<String>,
}

/// What became of one point.
#[derive(Clone, Debug)]
pub struct PointResult {
    /// The point.
    pub point: PointId,
    /// Its outcome; none if nothing was entered.
    pub outcome: Option<Outcome>,
    /// Notes of the person.
    pub notes: String,
    /// Values read and computed, in the plan's order, positions in theirs.
    pub values: Vec<ValueResult>,
    /// Photos of it, in time.
    pub photos: Vec<PhotoId>,
}

/// One value with its judgements.
#[derive(Clone, Debug)]
pub struct ValueResult {
    /// Name within the point.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// Which of several; empty where there is only one.
    pub position: String,
    /// The value.
    pub content: Content,
    /// The unit it is usually written in; none for words.
    pub unit: Option<&'static Unit>,
    /// Where it comes from.
    pub origin: Origin,
    /// What each limit says of it; empty where none applies.
    pub judgements: Vec<LimitResult>,
    /// What a reader must know beside it, in sentences.
    pub notes: Vec<String>,
}

/// A value's content.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// A quantity with its uncertainty.
    Quantity(Value),
    /// Words, a date, a list.
    Words(String),
    /// It could not be computed, and why.
    None(String),
}

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Read by a person.
    Read(ReadingId),
    /// Computed by a formula, from these readings.
    Computed {
        /// The formula's name.
        formula: String,
        /// Readings that went in.
        readings: Vec<ReadingId>,
    },
}

/// What a limit says of a value.
#[derive(Clone, Debug)]
pub struct LimitResult {
    /// The limit, its bound as it was applied.
    pub limit: Limit,
    /// The judgement.
    pub judgement: Judgement,
}

/// A finding that stands in the report.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Number in the report, from 1.
    pub number: usize,
    /// Stable key: `point/defect`, `point/defect@position`, or the record's id for one that a person wrote.
    pub key: String,
    /// The record's entry, where a person wrote or decided on it.
    pub recorded: Option<FindingId>,
    /// The point it belongs to.
    pub point: Option<PointId>,
    /// Which of several places; empty where there is only one.
    pub position: String,
    /// Short heading.
    pub title: String,
    /// The statement.
    pub statement: String,
    /// Uses that it stops.
    pub stops: Vec<Use>,
    /// How soon to act.
    pub when: TimeToAct,
    /// Whom to call.
    pub who: String,
    /// What to do at once; empty where it can wait.
    pub stop_work: String,
    /// What kind of ground it stands on.
    pub ground: Ground,
    /// Readings that show it.
    pub readings: Vec<ReadingId>,
    /// Photos that show it.
    pub photos: Vec<PhotoId>,
    /// Whether a person has confirmed it.
    pub confirmed: bool,
    /// Keys of the findings that were merged into it.
    pub merged: Vec<String>,
    /// What became of it, where it was carried from an earlier job.
    pub carried: Option<CarriedState>,
}

/// What a finding stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ground {
    /// A value breaks a limit that can condemn.
    Limit,
    /// A person saw it.
    Seen,
    /// A value is beyond common practice or an unconfirmed limit: it informs.
    Guidance,
    /// The uncertainty straddles a limit.
    Undecided,
}

/// One of the five uses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UseResult {
    /// Which use.
    pub which: Use,
    /// Its state.
    pub state: UseState,
    /// Numbers of the findings that hold it.
    pub held_by: Vec<usize>,
    /// Essential points that were not examined.
    pub open_for: Vec<PointId>,
}

/// State of a use on the day, as far as examined; never a warranty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UseState {
    /// No finding stops it, and its essential points were examined.
    Clear,
    /// A finding stops it.
    Held,
    /// Essential points were not examined.
    Open,
    /// The unit has nothing of the kind.
    NotFitted,
}

impl UseState {
    /// The word in reports and on the screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Held => "held",
            Self::Open => "open",
            Self::NotFitted => "not fitted",
        }
    }
}

/// Something missing or open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// What kind of gap.
    pub what: Gap,
    /// The point, if it belongs to one.
    pub point: Option<PointId>,
    /// What it is about, where that is more than the point as a whole: the place to go.
    pub about: About,
    /// The gap in a sentence that says what would close it.
    pub sentence: String,
}

/// What a gap is about: where a person goes to close it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum About {
    /// The point as a whole.
    Point,
    /// One of its readings or values.
    Value {
        /// Its name within the point.
        name: String,
        /// Which of several; empty where there is only one.
        position: String,
        /// The limit's id, where a verdict is meant; else empty.
        limit: String,
    },
    /// A wait.
    Wait(WaitId),
    /// A finding, by its key.
    Finding(String),
    /// A photo.
    Photo(PhotoId),
    /// An instrument.
    Instrument(InstrumentId),
    /// The agreement with the client.
    Agreement,
}

/// Kinds of gaps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gap {
    /// Nothing was entered for a point.
    NotSettled,
    /// Not examined, without a reason.
    NoReason,
    /// Examined, but a required reading is missing.
    NoReading,
    /// A wanted photo is missing.
    NoPhoto,
    /// A verdict is undecided.
    Undecided,
    /// A finding has neither reading nor photo.
    NoEvidence,
    /// An instrument's calibration has run out, or is not known.
    Calibration,
    /// A wait still runs.
    WaitRunning,
    /// A photo belongs to no point and to no finding.
    PhotoNotPlaced,
    /// The client has not agreed to the terms yet.
    NotAgreed,
    /// What was agreed has changed since the client's last consent.
    AgreedOtherwise,
    /// Nobody has said what became of a carried finding.
    NotRechecked,
    /// A carried finding is said to be corrected, and today's readings or answers bring it up again.
    CorrectedButFound,
}

impl Gap {
    /// All kinds, in the order in which they are listed.
    pub const ALL: [Self; 13] = [
        Self::NotSettled,
        Self::NoReason,
        Self::NoReading,
        Self::NoPhoto,
        Self::Undecided,
        Self::WaitRunning,
        Self::NotRechecked,
        Self::CorrectedButFound,
        Self::NoEvidence,
        Self::PhotoNotPlaced,
        Self::Calibration,
        Self::NotAgreed,
        Self::AgreedOtherwise,
    ];

    /// The word in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::NotSettled => "not_settled",
            Self::NoReason => "no_reason",
            Self::NoReading => "no_reading",
            Self::NoPhoto => "no_photo",
            Self::Undecided => "undecided",
            Self::NoEvidence => "no_evidence",
            Self::Calibration => "calibration",
            Self::WaitRunning => "wait_running",
            Self::PhotoNotPlaced => "photo_not_placed",
            Self::NotAgreed => "not_agreed",
            Self::AgreedOtherwise => "agreed_otherwise",
            Self::NotRechecked => "not_rechecked",
            Self::CorrectedButFound => "corrected_but_found",
        }
    }
}
