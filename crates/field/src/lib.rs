//! The phone app without a browser: what a visit offers to do, what an act changes, and what each screen shows.
//!
//! A [`Visit`] holds a job's record with the plan it carries. [`Visit::act`] turns what a person did into one
//! change, [`Visit::typed`] judges a reading while it is typed, and the views are plain data for the screens. Pure and
//! deterministic: the caller passes the time, and ids are made of the device's id, so natively and as
//! WebAssembly the same acts give the same bytes.

mod act;
mod bell;
mod camera;
mod day;
mod edits;
mod engagement;
mod entry;
mod fee;
mod find;
mod finding;
mod instruments;
mod judged;
mod label;
mod memo;
mod new_job;
mod now;
mod photos;
mod said;
mod sentences;
mod states;
mod texts;
mod tray;
mod trouble;
mod typed;
mod undo;
pub mod view;
mod visit;

pub use act::{
    Act, Answer, EngagementChange, Entering, Evidence, FindingChange, FindingWritten, MemoSpoken,
    PhotoPlaced, PhotoTaken,
};
pub use bell::{Bell, Due, WaitClock};
pub use camera::{CAMERA_NOTES_WITHIN, CameraNotes, camera_notes};
pub use day::Day;
pub use fee::{FeeSums, FeeTyped, LineTyped, TaxSum, TaxTyped, amount_typed, fee_sums};
pub use find::{FoundJob, FoundPlace, JobTexts};
pub use findings::OtherJob;
pub use instruments::InstrumentTyped;
pub use judged::{Judged, Strip, Valued};
pub use limit::Verdict;
pub use memo::{MEMO_BYTES_MOST, MEMO_ENDS_AFTER_SECONDS, MEMO_SECONDS_MOST, media_type_of};
pub use new_job::{NewJob, Plans, new_job};
pub use now::Now;
pub use quantity::UnitSystem;
pub use said::Said;
pub use sentences::{Sentence, Sentences};
pub use texts::{Language, Texts};
pub use tray::{
    CameraClock, Exposure, Stack, Suggestion, Sure, Tray, TrayPhoto, TrayPoint, TrayRow,
};
pub use typed::Typed;
pub use visit::Visit;
