//! The tables for figures, column by column, in files that general tools read: Apache Parquet.
//!
//! A part of the archive is two files, sorted by the job's number: `jobs.parquet` with a row a job, `points.parquet` with
//! a row for each of their points. Every word stands in a dictionary, so counting works on small numbers and touches no text.

mod figures;
mod file;
mod read;
mod tally;
mod write;

pub(crate) use read::Rows;
pub use tally::{TableFile, figures_of};
pub use write::{Columns, table_files};

/// The file with a row a job.
pub(crate) const JOBS: &str = "jobs.parquet";
/// The file with a row for each point.
pub(crate) const POINTS: &str = "points.parquet";

/// What a table is made of.
pub(crate) struct Layout {
    pub(crate) name: &'static str,
    pub(crate) columns: &'static [Column],
}

pub(crate) const JOB_TABLE: Layout = Layout { name: "jobs", columns: &JOB_COLUMNS };
pub(crate) const POINT_TABLE: Layout = Layout { name: "points", columns: &POINT_COLUMNS };

/// A column of a table: its name, what kind of values it has, and what it says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Column {
    pub(crate) name: &'static str,
    pub(crate) kind: Kind,
    /// Whether a value may be missing.
    pub(crate) optional: bool,
    pub(crate) what: &'static str,
}

/// What kind of values a column has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Words,
    Number,
    Day,
    /// From 0 to 1.
    Share,
}

const fn words(name: &'static str, what: &'static str) -> Column {
    Column { name, kind: Kind::Words, optional: false, what }
}

const fn number(name: &'static str, what: &'static str) -> Column {
    Column { name, kind: Kind::Number, optional: false, what }
}

const fn optional(name: &'static str, kind: Kind, what: &'static str) -> Column {
    Column { name, kind, optional: true, what }
}

/// The columns of `jobs.parquet`.
pub(crate) const JOB_COLUMNS: [Column; 14] = [
    words("job", "The job's number"),
    words("kind", "Kind of unit: travel_trailer, fifth_wheel, park_trailer or manufactured_home"),
    words("maker", "Maker, as on the plate; empty if not recorded"),
    words("model", "Model, as on the plate; empty if not recorded"),
    optional("model_year", Kind::Number, "Model year"),
    optional("built", Kind::Day, "First day that the recorded build date can mean"),
    optional("visited", Kind::Day, "First day of the visits"),
    optional(
        "age",
        Kind::Number,
        "Whole years from the build date, else from the model year, to the first visit",
    ),
    words("age_band", "The band of that age: 0-4, 5-9, 10-14, 15-19, 20-29, 30+ or unknown"),
    words(
        "region",
        "State, province or country that the site's address ends with, as ISO 3166 codes it; else unknown",
    ),
    words("purpose", "What the inspection was for"),
    number("points", "How many points the unit has"),
    number("examined", "How many of them were examined"),
    number("findings", "How many findings a person confirmed"),
];

/// The columns of `points.parquet`.
pub(crate) const POINT_COLUMNS: [Column; 6] = [
    words("job", "The job's number"),
    words("point", "The point's id in the plan"),
    words("outcome", "What became of it: examined, not examined, not fitted or nothing entered"),
    words(
        "verdict",
        "The worst that the limits say of its values: does not conform, undecided, beyond guidance, within guidance, conforms, no limit or none",
    ),
    words(
        "finding",
        "The most that was found there: confirmed by a person, a draft that nobody confirmed, or none",
    ),
    words(
        "held",
        "Uses that its standing findings stop, apart by spaces: tow, power, gas, water, stay; empty for none",
    ),
];
