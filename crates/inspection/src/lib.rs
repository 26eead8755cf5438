//! Plain data of one inspection: the job, the dwelling, what was examined, read, found, photographed and said.
//!
//! These types hold facts only, as people entered them. They are not serializable and know no
//! document: `record` reads them out of the job's document, `findings` judges them, `report`
//! prints them. A reading keeps the text that was typed, with its unit; what it means is derived.

mod agreement;
mod carried;
mod crop;
mod dwelling;
mod finding;
mod id;
mod instrument;
mod job;
mod memo;
mod moment;
mod money;
mod photo;
mod point;
mod reading;
mod visit;

pub use agreement::{
    Agreement, ChargeLine, Charges, Consent, ConsentWay, DrawnSignature, Tax, Taxed,
};
pub use carried::{Carried, Recheck, RecheckMark};
pub use crop::Crop;
pub use dwelling::{Dwelling, DwellingKind, Outline};
pub use finding::{FindingState, RecordedFinding, TimeToAct, Use};
pub use id::{
    ChangeHash, ConsentId, FindingId, InstrumentId, MemoId, PhotoId, PointId, ReadingId, WaitId,
};
pub use instrument::Instrument;
pub use job::{Client, EarlierJob, Engagement, Job, Site};
pub use memo::Memo;
pub use moment::Moment;
pub use money::{Currency, TaxRate};
pub use photo::{Mark, Photo, PlaceOnUnit};
pub use point::{Outcome, PointEntry};
pub use reading::{Reading, StruckOut};
pub use visit::{SiteStateChange, Wait};

use std::collections::BTreeMap;

/// Everything recorded about one job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inspection {
    /// The engagement: who asked for what, where and when.
    pub job: Job,
    /// The dwelling that was inspected.
    pub dwelling: Dwelling,
    /// What became of each point, by the point's id in the plan.
    pub points: BTreeMap<PointId, PointEntry>,
    /// Every reading, struck-out ones included.
    pub readings: BTreeMap<ReadingId, Reading>,
    /// Findings that a person wrote, confirmed or withdrew.
    pub findings: BTreeMap<FindingId, RecordedFinding>,
    /// Photos by the SHA-256 of the original file.
    pub photos: BTreeMap<PhotoId, Photo>,
    /// Voice memos by the SHA-256 of the recording, struck-out ones included.
    pub memos: BTreeMap<MemoId, Memo>,
    /// Unattended spans: started, and ended or still running.
    pub waits: BTreeMap<WaitId, Wait>,
    /// Changes of the site's state (shore power on, gas off …), in time.
    pub site_states: Vec<SiteStateChange>,
    /// Instruments used.
    pub instruments: BTreeMap<InstrumentId, Instrument>,
}
