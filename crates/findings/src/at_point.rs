//! One point alone: what it says as it stands, or would say with one more reading. Fast enough for every
//! key that is pressed.

use inspection::{FindingState, Inspection, Reading, ReadingId};
use plan::Plan;
use quantity::UnitSystem;

use crate::assess::{judged_values, point_result};
use crate::sentence::Voice;
use crate::values::Values;
use crate::{Finding, PointResult, drafts};

/// What one point says.
#[derive(Clone, Debug)]
pub struct PointAssessment {
    /// The point's part of the assessment.
    pub result: PointResult,
    /// Findings at it that stand; their numbers mean nothing here.
    pub findings: Vec<Finding>,
    /// Entries of it that could not be read, in sentences.
    pub problems: Vec<String>,
}

/// What a point says as it stands; none if the plan has no such point.
#[must_use]
pub fn assess_point(
    plan: &Plan,
    inspection: &Inspection,
    point: &str,
    units: UnitSystem,
) -> Option<PointAssessment> {
    of(plan, inspection, Values::new(plan, inspection), point, units)
}

/// What the reading's point would say if the reading were in the inspection; none if the plan has no such
/// point. Nothing is stored.
#[must_use]
pub fn suppose(
    plan: &Plan,
    inspection: &Inspection,
    (id, reading): (&ReadingId, &Reading),
    units: UnitSystem,
) -> Option<PointAssessment> {
    let mut values = Values::new(plan, inspection);
    values.suppose(id, reading);
    of(plan, inspection, values, reading.point.as_str(), units)
}

fn of<'a>(
    plan: &'a Plan,
    inspection: &'a Inspection,
    mut values: Values<'a>,
    point: &str,
    units: UnitSystem,
) -> Option<PointAssessment> {
    let point = plan.point(point)?;
    let judged = judged_values(&mut values, inspection, point);
    let problems = std::mem::take(&mut values.problems);
    drop(values);
    let result = point_result(inspection, point, judged, &drafts::photos_by_point(inspection));
    let results = [(point, result)];
    let mut findings = drafts::findings(inspection, &results, Voice { plan, units });
    let [(_, result)] = results;
    findings.retain(|finding| {
        finding.point.as_ref() == Some(&result.point) && !elsewhere(finding, inspection)
    });
    Some(PointAssessment { result, findings, problems })
}

/// Whether it was merged into a finding of another point, of which nothing is known here.
fn elsewhere(finding: &Finding, inspection: &Inspection) -> bool {
    let recorded = finding.recorded.as_ref().and_then(|id| inspection.findings.get(id));
    let Some(FindingState::Merged { into }) = recorded.map(|recorded| &recorded.state) else {
        return false;
    };
    let other = into.split_once('/').map(|(point, _)| point);
    other.is_some_and(|other| finding.point.as_ref().is_none_or(|own| own.as_str() != other))
}
