//! What is left before leaving: what keeps a use open first, then the other gaps.

use findings::{Gap, UseState};
use inspection::{PointId, Use};
use quantity::UnitSystem;

use crate::entry::words;
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
    /// Its heading; else what it is about: an instrument, a finding.
    pub title: String,
    /// What is missing.
    pub what: Said,
    /// The kind of gap.
    pub gap: Gap,
    /// Uses that it keeps open.
    pub keeps_open: Vec<Use>,
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
        // Gaps of no point come in the order of what they are about.
        let mut findings = assessment.findings.iter().filter(|finding| {
            finding.point.is_none() && finding.readings.is_empty() && finding.photos.is_empty()
        });
        for missing in &assessment.missing {
            let planned =
                missing.point.as_ref().and_then(|point| self.plan().point(point.as_str()));
            let keeps_open: Vec<Use> = assessment
                .uses
                .iter()
                .filter(|one| missing.point.as_ref().is_some_and(|id| one.open_for.contains(id)))
                .map(|one| one.which)
                .collect();
            let mut what = Said::new(key_of(missing.what));
            let title = match planned {
                Some(point) => point.title.clone(),
                None if missing.what == Gap::Calibration => {
                    let (name, said) = self.calibration(&missing.sentence);
                    what = said.unwrap_or(what);
                    name
                }
                None if missing.what == Gap::NoEvidence => {
                    findings.next().map_or_else(String::new, |finding| finding.title.clone())
                }
                None => String::new(),
            };
            let row = LeftRow {
                point: missing.point.clone(),
                title,
                what,
                gap: missing.what,
                keeps_open,
            };
            if row.keeps_open.is_empty() { left.other.push(row) } else { left.essential.push(row) }
        }
        left
    }
}

impl Visit {
    /// The instrument that a gap's sentence begins with, and what is the matter with its calibration.
    fn calibration(&self, sentence: &str) -> (String, Option<Said>) {
        let instruments = self.inspection().instruments.iter();
        let mut named = instruments.map(|(id, one)| {
            let name = if one.name.is_empty() { words(id.as_str()) } else { one.name.clone() };
            (name, one.calibration_due)
        });
        let about = |name: &str| sentence.strip_prefix(name).is_some_and(|it| it.starts_with(": "));
        match named.find(|(name, _)| about(name)) {
            Some((name, Some(due))) => {
                let said = Said::new("gap-calibration-ran-out").with("day", due.to_string());
                (name, Some(said))
            }
            Some((name, None)) => (name, Some(Said::new("gap-calibration-none"))),
            None => (String::new(), None),
        }
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
