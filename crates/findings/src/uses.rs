//! The five uses: clear, held or open, on that day, as far as examined.

use inspection::{Outcome, PointId, Use};
use plan::{Point, ReadingPlan};

use crate::{Finding, PointResult, UseResult, UseState};

/// The state of every use.
pub(crate) fn uses(points: &[(&Point, PointResult)], findings: &[Finding]) -> Vec<UseResult> {
    Use::ALL
        .into_iter()
        .map(|which| {
            let held_by: Vec<usize> = findings
                .iter()
                .filter(|finding| finding.stops.contains(&which))
                .map(|finding| finding.number)
                .collect();
            let essential: Vec<&(&Point, PointResult)> =
                points.iter().filter(|(point, _)| point.essential.contains(&which)).collect();
            let open_for: Vec<PointId> = essential
                .iter()
                .filter(|(point, result)| !settled(point, result))
                .map(|(_, result)| result.point.clone())
                .collect();
            let fitted =
                essential.iter().any(|(_, result)| result.outcome != Some(Outcome::NotFitted));
            let state = if !held_by.is_empty() {
                UseState::Held
            } else if !fitted {
                UseState::NotFitted
            } else if open_for.is_empty() {
                UseState::Clear
            } else {
                UseState::Open
            };
            UseResult { which, state, held_by, open_for }
        })
        .collect()
}

/// Examined with all that it must have read, or not fitted.
pub(crate) fn settled(point: &Point, result: &PointResult) -> bool {
    match &result.outcome {
        Some(Outcome::NotFitted) => true,
        Some(Outcome::Examined) => missing_readings(point, result).next().is_none(),
        Some(Outcome::NotExamined { .. }) | None => false,
    }
}

/// Required readings that were not taken.
pub(crate) fn missing_readings<'a>(
    point: &'a Point,
    result: &'a PointResult,
) -> impl Iterator<Item = &'a ReadingPlan> {
    point
        .readings
        .iter()
        .filter(|reading| !reading.optional)
        .filter(|reading| !result.values.iter().any(|value| value.name == reading.id))
}
