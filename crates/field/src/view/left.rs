//! What is left before leaving: what keeps a use open first, then the other gaps.

use findings::{About, Finding, Gap, Missing, UseState};
use inspection::{PointId, Use};
use quantity::UnitSystem;

use super::Target;
use super::missing::target;
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
    /// Where it is closed.
    pub target: Target,
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
            let keeps_open: Vec<Use> = assessment
                .uses
                .iter()
                .filter(|one| missing.point.as_ref().is_some_and(|id| one.open_for.contains(id)))
                .map(|one| one.which)
                .collect();
            let (title, what) = self.missing_in_words(missing, &assessment.findings);
            let row = LeftRow {
                point: missing.point.clone(),
                title,
                what,
                gap: missing.what,
                keeps_open,
                target: target(missing),
            };
            if row.keeps_open.is_empty() { left.other.push(row) } else { left.essential.push(row) }
        }
        left
    }
}

impl Visit {
    /// What a gap is about, and what is missing of it.
    pub(crate) fn missing_in_words(
        &self,
        missing: &Missing,
        findings: &[Finding],
    ) -> (String, Said) {
        let what = Said::new(key_of(missing.what));
        match &missing.about {
            About::Instrument(id) => {
                let known = self.inspection().instruments.get(id);
                let name = known.map(|one| one.name.clone()).filter(|name| !name.is_empty());
                let said = match known.and_then(|one| one.calibration_due) {
                    Some(due) => Said::new("gap-calibration-ran-out").with("day", due.to_string()),
                    None => Said::new("gap-calibration-none"),
                };
                (name.unwrap_or_else(|| words(id.as_str())), said)
            }
            About::Finding(key) => {
                let finding = findings.iter().find(|finding| finding.key == *key);
                let title = finding.map_or_else(String::new, |finding| finding.title.clone());
                // A carried finding is looked for by its own heading.
                if matches!(missing.what, Gap::NotRechecked | Gap::CorrectedButFound) {
                    return (title, what);
                }
                match self.title_of(missing.point.as_ref()) {
                    point if point.is_empty() => (title, what),
                    // At a point the heading is the point's: that is where the evidence is taken.
                    point => (point, what),
                }
            }
            About::Photo(id) => {
                let photo = self.inspection().photos.get(id);
                (photo.map_or_else(String::new, |photo| photo.file_name.clone()), what)
            }
            About::Agreement => (self.inspection().job.client.name.clone(), what),
            About::Point | About::Value { .. } | About::Wait(_) => {
                (self.title_of(missing.point.as_ref()), what)
            }
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
        Gap::PhotoNotPlaced => "gap-photo-not-placed",
        Gap::NotAgreed => "gap-not-agreed",
        Gap::AgreedOtherwise => "gap-agreed-otherwise",
        Gap::NotRechecked => "gap-not-rechecked",
        Gap::CorrectedButFound => "gap-corrected-but-found",
    }
}
