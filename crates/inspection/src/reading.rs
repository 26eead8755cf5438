//! One reading: what an instrument or a plate said.

use crate::{InstrumentId, Moment, PointId};

/// One reading, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The point it belongs to.
    pub point: PointId,
    /// Which of the point's readings it is, such as `loaded`.
    pub name: String,
    /// What was read, as written, with its unit: `117.3 V`, `2319`, `correct`.
    pub entry: String,
    /// Which of several: a tyre (`left_front`), an outlet (`galley`); empty where there is only one.
    pub position: String,
    /// The instrument, where one was used.
    pub instrument: Option<InstrumentId>,
    /// When it was read.
    pub at: Option<Moment>,
    /// Who read it.
    pub by: String,
    /// Present when the reading was struck out; it stays in the record.
    pub struck_out: Option<StruckOut>,
}

/// Why a reading no longer counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StruckOut {
    /// The reason in words.
    pub reason: String,
    /// Who struck it out.
    pub by: String,
}
