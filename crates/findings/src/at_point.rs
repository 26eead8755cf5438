//! One point alone: what it says as it stands, or would say with one more reading. Fast enough for every
//! key that is pressed.

use inspection::{Inspection, Reading, ReadingId};
use plan::Plan;
use quantity::UnitSystem;

use crate::assess::point_result;
use crate::index::Index;
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
    let result = point_result(&mut values, inspection, point);
    let results = [result];
    let mut findings = drafts::findings(&Index::of(plan), inspection, &results, units);
    findings.retain(|finding| finding.point.as_ref() == Some(&results[0].point));
    let [result] = results;
    Some(PointAssessment { result, findings, problems: values.problems })
}
