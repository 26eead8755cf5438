//! What each screen shows, as plain data: nothing here decides, nothing is stored.

mod again;
mod ahead;
mod desk_findings;
mod engagement;
mod findings;
mod instruments;
mod kit;
mod left;
mod left_over;
mod line;
mod memos;
mod missing;
mod new_finding;
mod opening;
mod photo;
mod point;
mod reasons;
mod remarks;
pub(crate) mod search;
mod sites;
mod stop;
mod waits;
mod why;

pub use again::{AgainList, AgainRow};
pub use ahead::{Ahead, Doing, NextStep, NextStop};
pub use desk_findings::{
    Drafted, FindingCard, FindingGroup, FindingKind, FindingList, May, PhotoEvidence,
    ReadingEvidence,
};
pub use engagement::{AgreementSheet, AgreementStanding, ConsentRow, EngagementSheet};
pub use findings::{CarriedRow, FindingRow, FindingStanding};
pub use instruments::{Calibration, InstrumentCard, InstrumentList, InstrumentRow};
pub use kit::{KitItem, kinds_of_instruments};
pub use left::{Left, LeftRow};
pub use line::{Line, PlanView, StopRow};
pub use memos::MemoRow;
pub use missing::{MissingGroup, MissingList, MissingRow, Target};
pub use new_finding::NewFinding;
pub use opening::{EquipmentRow, Opening};
pub use photo::{MarkRow, PhotoSheet, UNDRAWN};
pub use point::{DefectRow, Entered, Pad, PhotoRow, PointView, ReadingInput, ReadingView};
pub use reasons::{REASONS, Reason, reason_read};
pub use remarks::Remark;
pub use search::{Hit, HitKind};
pub use sites::{StateNeed, StateRow};
pub use stop::{PointRow, PointState, StopView};
pub use waits::{RunningWait, WaitState};
pub use why::site_caution;
