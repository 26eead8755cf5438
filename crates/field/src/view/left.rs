//! What is left before leaving: what keeps a use open first, then the other gaps.

use findings::{Gap, UseState};
use inspection::{PointId, Use};
use quantity::UnitSystem;

use crate::{Said, Visit};

/// What is left.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// The five uses as they stand now, with what keeps each open.
    pub uses: Vec<(Use, UseState, Vec<PointId>)>,
    /// Gaps at points that keep a use open.
    pub essential: Vec<LeftRow>,
    /// All other gaps.
    pub other: Vec<LeftRow>,
}

/// One thing that is left.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftRow {
    /// The point, where it belongs to one.
    pub point: Option<PointId>,
    /// Its heading; else what it is about.
    pub title: String,
    /// What is missing.
    pub what: Said,
    /// The kind of gap.
    pub gap: Gap,
    /// Uses that it keeps open.
    pub keeps_open: Vec<Use>,
    /// The whole sentence, in the plan's language.
    pub sentence: String,
}

impl Visit {
    /// What is left before leaving.
    #[must_use]
    pub fn left(&self, units: UnitSystem) -> Left {
        let assessment = self.assessment(units);
        let mut left = Left {
            uses: assessment
                .uses
                .iter()
                .map(|one| (one.which, one.state, one.open_for.clone()))
                .collect(),
            essential: Vec::new(),
            other: Vec::new(),
        };
        for missing in &assessment.missing {
            let planned =
                missing.point.as_ref().and_then(|point| self.plan().point(point.as_str()));
            let keeps_open: Vec<Use> = assessment
                .uses
                .iter()
                .filter(|one| missing.point.as_ref().is_some_and(|id| one.open_for.contains(id)))
                .map(|one| one.which)
                .collect();
            let begun = planned.map_or("", |point| point.title.as_str());
            let row = LeftRow {
                point: missing.point.clone(),
                title: begun.to_owned(),
                what: Said::new(key_of(missing.what)),
                gap: missing.what,
                keeps_open,
                sentence: missing.sentence.clone(),
            };
            if row.keeps_open.is_empty() { left.other.push(row) } else { left.essential.push(row) }
        }
        left
    }
}

fn key_of(gap: Gap) -> &'static str {
    match gap {
        Gap::NotSettled => "gap-not-settled",
        Gap::NoReason => "gap-no-reason",
        Gap::NoReading => "gap-no-reading",
        Gap::NoPhoto => "gap-no-photo",
        Gap::Undecided => "gap-undecided",
        Gap::NoEvidence => "gap-no-evidence",
        Gap::Calibration => "gap-calibration",
        Gap::WaitRunning => "gap-wait-running",
    }
}
