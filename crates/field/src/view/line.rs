//! The line of stops around the unit, with what is done and left at each.

use std::collections::BTreeMap;

use inspection::PointId;
use plan::HalfMinutes;
use quantity::{Kind, UnitSystem, parse_value};

use super::PointState;
use crate::Visit;

/// The line of stops.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The stops that have points, in walking order.
    pub stops: Vec<StopRow>,
    /// The unit from above.
    pub plan_view: PlanView,
    /// Points done.
    pub done: usize,
    /// Points left.
    pub left: usize,
    /// Findings that stand.
    pub findings: usize,
    /// Hands-on time of what is left, whole minutes.
    pub minutes_left: u32,
    /// The next point in walking order that is not done and whose forerunners are.
    pub next: Option<PointId>,
}

/// One stop.
#[derive(Clone, Debug, PartialEq)]
pub struct StopRow {
    /// The stop.
    pub id: String,
    /// What people call it.
    pub title: String,
    /// Fraction of the unit's length from the front; below 0 before it, above 1 behind it.
    pub along: f64,
    /// Fraction of the unit's width from the left side.
    pub across: f64,
    /// Points done.
    pub done: usize,
    /// Points left.
    pub left: usize,
    /// Findings that stand there.
    pub findings: usize,
    /// One of them stops a use.
    pub holds: bool,
    /// A wait runs there.
    pub waiting: bool,
}

/// The unit from above: how long for its width, where its door is, how many axles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanView {
    /// Length in widths.
    pub length_in_widths: f64,
    /// The door is on the left side.
    pub door_left: bool,
    /// Number of axles.
    pub axles: u8,
    /// It is towed by a coupling in front of it.
    pub has_tongue: bool,
}

impl Visit {
    /// The line of stops.
    #[must_use]
    pub fn line(&self, units: UnitSystem) -> Line {
        let assessment = self.assessment(units);
        let mut at_point: BTreeMap<&PointId, (usize, bool)> = BTreeMap::new();
        for finding in &assessment.findings {
            if let Some(point) = &finding.point {
                let (count, holds) = at_point.entry(point).or_default();
                *count += 1;
                *holds |= !finding.stops.is_empty();
            }
        }
        let rows = self.point_rows();
        let mut stops: Vec<StopRow> = Vec::new();
        for stop in &self.plan().stops {
            let mut row = StopRow {
                id: stop.id.clone(),
                title: stop.title.clone(),
                along: stop.place.0,
                across: stop.place.1,
                done: 0,
                left: 0,
                findings: 0,
                holds: false,
                waiting: false,
            };
            for (_, point) in rows.iter().filter(|(at, _)| *at == stop.id) {
                if point.state.is_done() {
                    row.done += 1;
                } else {
                    row.left += 1;
                }
                let (count, holds) = at_point.get(&point.id).copied().unwrap_or_default();
                row.findings += count;
                row.holds |= holds;
                row.waiting |= point.waiting;
            }
            if row.done + row.left > 0 {
                stops.push(row);
            }
        }
        let left = rows.iter().filter(|(_, row)| !row.state.is_done());
        Line {
            done: rows.iter().filter(|(_, row)| row.state.is_done()).count(),
            left: left.clone().count(),
            findings: assessment.findings.len(),
            minutes_left: left.map(|(_, row)| row.minutes).sum::<HalfMinutes>().whole_minutes(),
            next: self.next_of(rows.iter().map(|(_, row)| (&row.id, row.state, row.waiting))),
            stops,
            plan_view: self.plan_view(),
        }
    }

    /// The next point to go to: behind this one in walking order, then from the beginning.
    #[must_use]
    pub fn next_after(&self, point: &PointId) -> Option<PointId> {
        let rows = self.point_rows();
        let at = rows.iter().position(|(_, row)| row.id == *point).map_or(0, |at| at + 1);
        let (before, after) = rows.split_at(at.min(rows.len()));
        let others = after.iter().chain(before).filter(|(_, row)| row.id != *point);
        self.next_of(others.map(|(_, row)| (&row.id, row.state, row.waiting)))
    }

    /// The first that is not done, does not wait, and comes after nothing that is not done; else the first that is
    /// not done.
    fn next_of<'r>(
        &self,
        rows: impl Iterator<Item = (&'r PointId, PointState, bool)>,
    ) -> Option<PointId> {
        let rows: Vec<_> = rows.filter(|(_, state, _)| !state.is_done()).collect();
        let open = |id: &str| rows.iter().any(|(other, _, _)| other.as_str() == id);
        let free = rows.iter().find(|(id, _, waiting)| {
            let after = self.plan().point(id.as_str()).map_or(&[][..], |point| &point.after);
            !waiting && !after.iter().any(|id| open(id))
        });
        free.or_else(|| rows.first()).map(|(id, _, _)| (*id).clone())
    }

    fn plan_view(&self) -> PlanView {
        let dwelling = &self.inspection().dwelling;
        let metres = |text: &str| {
            parse_value(text, Kind::Length).ok().map(|value| value.base).filter(|it| *it > 0.1)
        };
        let ratio = match (metres(&dwelling.outline.length), metres(&dwelling.outline.width)) {
            (Some(length), Some(width)) => length / width,
            // About that of most trailers, where the sizes are not recorded.
            _ => 3.2,
        };
        PlanView {
            length_in_widths: ratio.clamp(1.5, 8.0),
            door_left: dwelling.outline.door_side == "left",
            axles: dwelling.outline.axles,
            has_tongue: dwelling.equipment.contains("coupling"),
        }
    }
}
