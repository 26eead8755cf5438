//! The invented job that `nearside demo` makes: what was agreed, the sheet that was filled in at the visit,
//! and its pictures, drawn by the program itself.

pub mod exif;
mod job;
pub mod photos;
mod shots;

pub use job::{job, sheet};
pub use shots::shots;
