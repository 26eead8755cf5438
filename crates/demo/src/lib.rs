//! The invented job that `nearside demo` makes: what was agreed, the sheet that was filled in at the visit,
//! and its pictures, drawn by the program itself.

pub mod exif;
mod job;
pub mod photos;
mod shots;
mod stop_work;

pub use job::{VISIT, consent, job, sheet};
pub use shots::shots;
pub use stop_work::{stop_work_sheet, stop_work_shots};
