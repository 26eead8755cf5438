//! The one way from a plan and an inspection to an assessment.

use std::collections::BTreeMap;
use std::rc::Rc;

use inspection::{Inspection, PhotoId, PointId};
use plan::{Plan, Point};
use quantity::UnitSystem;

use crate::index::Index;
use crate::sentence::Voice;
use crate::values::{ByPosition, Known, Values};
use crate::{
    Assessment, LimitResult, PointResult, ValueResult, carried, drafts, gaps, limits, uses,
};

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
    let mut judged = Vec::with_capacity(plan.points.len());
    for point in plan.points_for(dwelling.kind, &dwelling.equipment) {
        judged.push((point, judged_values(&mut values, inspection, point)));
    }
    let mut problems = std::mem::take(&mut values.problems);
    // Nobody asks for a value any more: each can become its result instead of being copied.
    drop(values);
    let photos = drafts::photos_by_point(inspection);
    let points: Vec<(&Point, PointResult)> = judged
        .into_iter()
        .map(|(point, judged)| (point, point_result(inspection, point, judged, &photos)))
        .collect();
    let findings = drafts::findings(inspection, &points, Voice { plan, units });
    let carried = carried::results(inspection, &findings, &photos, Voice { plan, units });
    let plan = &Index::of(plan);
    problems.extend(strays(plan, inspection, &points));
    let uses = uses::uses(&points, &findings);
    let missing = gaps::gaps(plan, inspection, &points, &findings, &carried);
    let points = points.into_iter().map(|(_, result)| result).collect();
    Assessment { points, findings, uses, carried, missing, problems }
}

/// A name of a point with its title, its values by position, and what the limits say of each with their notes.
pub(crate) struct Judged<'a> {
    name: &'a str,
    title: &'a str,
    values: ByPosition,
    limits: Vec<(Vec<LimitResult>, Vec<String>)>,
}

/// Every name of a point, read or computed, and held to its limits.
pub(crate) fn judged_values<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
) -> Vec<Judged<'a>> {
    let readings = point.readings.iter().map(|reading| (&reading.id, &reading.title));
    let derived = point.derived.iter().map(|derived| (&derived.id, &derived.title));
    let mut judged = Vec::with_capacity(point.readings.len() + point.derived.len());
    for (name, title) in readings.chain(derived) {
        let known = values.of(point, name);
        let limits = known
            .iter()
            .map(|(position, known)| {
                limits::judgements(values, inspection, point, name, position, known)
            })
            .collect();
        judged.push(Judged { name, title, values: known, limits });
    }
    judged
}

/// The point's part of an assessment. Values that nobody else holds are moved.
pub(crate) fn point_result(
    inspection: &Inspection,
    point: &Point,
    judged: Vec<Judged<'_>>,
    photos: &BTreeMap<&PointId, Vec<PhotoId>>,
) -> PointResult {
    let id = PointId::from(point.id.as_str());
    let mut results = Vec::with_capacity(judged.iter().map(|one| one.values.len()).sum());
    for Judged { name, title, values, limits } in judged {
        let unit = point.unit_of(name);
        let values = Rc::try_unwrap(values).unwrap_or_else(|shared| (*shared).clone());
        for ((position, known), (judgements, more)) in values.into_iter().zip(limits) {
            let Known { content, origin, mut notes } = known;
            notes.extend(more);
            results.push(ValueResult {
                name: name.to_owned(),
                title: title.to_owned(),
                position,
                content,
                unit,
                origin,
                judgements,
                notes,
            });
        }
    }
    let entry = inspection.points.get(&id);
    PointResult {
        outcome: entry.map(|entry| entry.outcome.clone()),
        notes: entry.map_or_else(String::new, |entry| entry.notes.clone()),
        values: results,
        photos: photos.get(&id).cloned().unwrap_or_default(),
        point: id,
    }
}

/// Entries about points that the unit does not have or the plan does not know.
fn strays(
    plan: &Index<'_>,
    inspection: &Inspection,
    points: &[(&Point, PointResult)],
) -> Vec<String> {
    let ids: BTreeMap<&PointId, &Point> =
        points.iter().map(|(point, result)| (&result.point, *point)).collect();
    let known = |id: &PointId| ids.contains_key(id);
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
    // Readings come mostly point by point.
    let mut last: Option<(&PointId, Option<&Point>)> = None;
    for reading in inspection.readings.values().filter(|reading| reading.struck_out.is_none()) {
        let (_, point) = *match &mut last {
            Some(last) if *last.0 == reading.point => last,
            last => last.insert((&reading.point, ids.get(&reading.point).copied())),
        };
        let Some(point) = point else {
            sentences.push(format!(
                "{}; the reading `{}` is kept and not assessed",
                describe(&reading.point),
                reading.entry
            ));
            continue;
        };
        if point.reading(&reading.name).is_none() {
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
