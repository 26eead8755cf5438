//! The one way from a plan and an inspection to an assessment.

use std::collections::BTreeSet;

use inspection::{Inspection, PointId};
use plan::{Plan, Point};
use quantity::UnitSystem;

use crate::index::Index;
use crate::values::Values;
use crate::{Assessment, PointResult, ValueResult, drafts, gaps, limits, uses};

/// Assesses an inspection by a plan, with sentences in the plan's own units.
///
/// Pure, and never fails: what cannot be read or computed becomes a sentence in `problems`.
#[must_use]
pub fn assess(plan: &Plan, inspection: &Inspection) -> Assessment {
    assess_in(plan, inspection, UnitSystem::Us)
}

/// Assesses an inspection by a plan, with sentences in the units of a system.
#[must_use]
pub fn assess_in(plan: &Plan, inspection: &Inspection, units: UnitSystem) -> Assessment {
    let dwelling = &inspection.dwelling;
    let mut values = Values::new(plan, inspection);
    let mut points = Vec::new();
    for point in plan.points_for(dwelling.kind, &dwelling.equipment) {
        points.push(point_result(&mut values, inspection, point));
    }
    let plan = &Index::of(plan);
    let mut problems = std::mem::take(&mut values.problems);
    problems.extend(strays(plan, inspection, &points));
    let findings = drafts::findings(plan, inspection, &points, units);
    let uses = uses::uses(plan, &points, &findings);
    let missing = gaps::gaps(plan, inspection, &points, &findings);
    Assessment { points, findings, uses, missing, problems }
}

pub(crate) fn point_result<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
) -> PointResult {
    let id = PointId::from(point.id.as_str());
    let names =
        point.readings.iter().map(|reading| (reading.id.as_str(), reading.title.as_str())).chain(
            point.derived.iter().map(|derived| (derived.id.as_str(), derived.title.as_str())),
        );
    let mut results = Vec::new();
    for (name, title) in names {
        for (position, known) in values.of(point, name).iter() {
            let (judgements, notes) =
                limits::judgements(values, inspection, point, name, position, known);
            results.push(ValueResult {
                name: name.to_owned(),
                title: title.to_owned(),
                position: position.clone(),
                unit: point.unit_of(name),
                judgements,
                notes: known.notes.iter().cloned().chain(notes).collect(),
                content: known.content.clone(),
                origin: known.origin.clone(),
            });
        }
    }
    let entry = inspection.points.get(&id);
    PointResult {
        outcome: entry.map(|entry| entry.outcome.clone()),
        notes: entry.map_or_else(String::new, |entry| entry.notes.clone()),
        values: results,
        photos: drafts::photos_of(inspection, &point.id),
        point: id,
    }
}

/// Entries about points that the unit does not have or the plan does not know.
fn strays(plan: &Index<'_>, inspection: &Inspection, points: &[PointResult]) -> Vec<String> {
    let ids: BTreeSet<&PointId> = points.iter().map(|result| &result.point).collect();
    let known = |id: &PointId| ids.contains(id);
    let describe = |id: &PointId| match plan.point(id.as_str()) {
        Some(point) => {
            format!("{} does not belong to this unit by its kind and equipment", point.title)
        }
        None => format!("the plan has no point `{id}`"),
    };
    let mut sentences: Vec<String> = Vec::new();
    for id in inspection.points.keys().filter(|id| !known(id)) {
        sentences.push(format!("{}; its entry is kept and not assessed", describe(id)));
    }
    for reading in inspection.readings.values().filter(|reading| reading.struck_out.is_none()) {
        let unknown_name = plan
            .point(reading.point.as_str())
            .is_some_and(|point| point.reading(&reading.name).is_none());
        if !known(&reading.point) {
            sentences.push(format!(
                "{}; the reading `{}` is kept and not assessed",
                describe(&reading.point),
                reading.entry
            ));
        } else if unknown_name {
            sentences.push(format!(
                "{} has no reading `{}`; `{}` is kept and not assessed",
                reading.point, reading.name, reading.entry
            ));
        }
    }
    for (id, entry) in &inspection.points {
        if let Some(point) = plan.point(id.as_str()) {
            for (defect, _) in
                entry.defects.iter().filter(|(defect, _)| point.defect(defect).is_none())
            {
                sentences.push(format!(
                    "{} has no defect `{defect}` in its list; it is kept and not reported",
                    point.title
                ));
            }
        }
    }
    sentences.sort();
    sentences.dedup();
    sentences
}
