//! The sheet of a job: printed to be filled in, read back with every problem at once, applied.

pub(crate) mod apply;
mod photo_names;
pub(crate) mod read;
mod read_findings;
pub(crate) mod read_points;
mod toml;
pub(crate) mod write;
mod write_points;

pub(crate) use photo_names::{PhotoShelf, photo_label};

use std::collections::BTreeMap;

use inspection::{Dwelling, FindingId, Instrument, InstrumentId, Job, Moment, PointId};
use inspection::{TimeToAct, Use};

use toml::At;

/// A sheet as it was filled in, without problems.
#[derive(Clone, Debug, Default)]
pub(crate) struct Filled {
    pub(crate) job: Job,
    pub(crate) dwelling: Dwelling,
    pub(crate) instruments: BTreeMap<InstrumentId, Instrument>,
    pub(crate) points: Vec<FilledPoint>,
    pub(crate) findings: Vec<FilledFinding>,
    pub(crate) decisions: Vec<Decision>,
    /// What was emptied in the sheet and stays in the record, in sentences.
    pub(crate) left_alone: Vec<String>,
}

/// One point of a filled sheet.
#[derive(Clone, Debug, Default)]
pub(crate) struct FilledPoint {
    pub(crate) id: PointId,
    pub(crate) title: String,
    pub(crate) readings: Vec<FilledReading>,
    /// Defects, each with the positions it was seen at.
    pub(crate) found: Vec<(String, Vec<String>)>,
    pub(crate) examined: bool,
    pub(crate) not_examined: String,
    pub(crate) not_fitted: bool,
    pub(crate) notes: String,
    pub(crate) photos: Vec<NamedPhoto>,
    pub(crate) at: Option<Moment>,
    pub(crate) wait: Option<FilledWait>,
}

/// When something at a point began to run unattended, and when that ended; none while it runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct FilledWait {
    pub(crate) started: Moment,
    pub(crate) ended: Option<Moment>,
}

/// One reading of a filled sheet.
#[derive(Clone, Debug)]
pub(crate) struct FilledReading {
    pub(crate) name: String,
    pub(crate) position: String,
    pub(crate) entry: String,
    /// What it was measured with, where the sheet says so and an instrument's accuracy bears on it.
    pub(crate) instrument: Option<InstrumentId>,
}

/// A photo by its file's name, with its caption if one was given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct NamedPhoto {
    pub(crate) name: String,
    pub(crate) caption: Option<String>,
}

/// A finding that a person wrote into the sheet.
#[derive(Clone, Debug)]
pub(crate) struct FilledFinding {
    /// The record's id, where the sheet was printed with it.
    pub(crate) id: Option<FindingId>,
    pub(crate) point: Option<PointId>,
    pub(crate) title: String,
    pub(crate) statement: String,
    pub(crate) stops: Vec<Use>,
    pub(crate) when: TimeToAct,
    pub(crate) who: String,
    pub(crate) photos: Vec<NamedPhoto>,
}

/// A decision on a drafted finding.
#[derive(Clone, Debug)]
pub(crate) struct Decision {
    pub(crate) key: At<String>,
    /// The reason for withdrawing; none confirms.
    pub(crate) withdraw: Option<String>,
}
