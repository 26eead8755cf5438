//! Plans and points, read from `data/`: which things to examine, how, and against which limits.
//!
//! A point is one TOML file that an inspector who does not program can read and write. Loading
//! reports every problem of every file at once, with file, line, column and a hint; a plan is only
//! given when there is none.

mod check;
mod embedded;
mod embedded_languages;
mod files;
mod library;
mod minutes;
mod order;
mod picture;
mod plan;
mod point;
mod problem;
mod read;
mod texts;

pub use files::Files;
pub use library::{Library, load, thaw};
pub use minutes::HalfMinutes;
pub use picture::{Picture, PictureKind, Role, ValueName};
pub use plan::{Named, Plan, SourceDocument, Stop, StopSide};
pub use point::{
    BoundFrom, Defect, Derivation, Example, InputFrom, PlannedLimit, PlannedWait, Point, Positions,
    ReadingForm, ReadingPlan,
};
pub use problem::Problem;
pub use texts::{
    LoadedTexts, MissingText, Phrases, TextName, Texts, load_texts, promises, write_texts,
};
