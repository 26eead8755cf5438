//! All jobs together: finding words in any of them, and how often what was found.
//!
//! The archive is worked out from the jobs' records and invoices and may be thrown away at any time: an index for searching and
//! tables for figures, both kept by the store beside the jobs. A job is worked out anew only when its log has grown,
//! or an invoice or payment was added.
//!
//! Figures are of one's own jobs alone. They count inspections, not units: a unit inspected twice counts twice.

mod age;
mod asked;
mod derive;
mod error;
mod export;
mod exported;
mod figures;
mod fold;
mod interval;
mod keep;
mod listed;
mod plot;
mod region;
mod rows;
mod search;
mod searched;
mod tables;

pub use age::AgeBand;
pub use asked::{Answered, Counted, FilterProblem, FilterWords};
pub use derive::{Derived, KnownPlan, derive};
pub use error::ArchiveError;
pub use export::{Sheets, data_package, readme};
pub use exported::{Form, Table};
pub use figures::{By, Counts, FEW, Figure, Filter, Group, Question, Share};
pub use interval::{Interval, wilson};
pub use keep::{Archive, Progress, Updated};
pub use listed::ListedJob;
pub use plot::plot;
pub use region::region;
pub use rows::{FindingSeen, Held, JobRow, PointOutcome, PointRow, WorstVerdict};
pub use search::{Hit, Place, PlaceKind, Searched, Snippet};
pub use tables::{Columns, TableFile, figures_of, table_files};
