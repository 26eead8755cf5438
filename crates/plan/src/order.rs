//! Walking order: by stop, then what must come first, then as the plan lists systems.

use crate::read::Spot;
use crate::{Point, Stop};

/// Sorts points into walking order. Precedence across stops is the schedule's matter: here a point
/// comes after those of the same stop that it must follow.
pub(crate) fn walking(points: &mut Vec<Point>, stops: &[Stop], systems: &[(String, Spot)]) {
    let stop_of = |point: &Point| stops.iter().position(|stop| stop.id == point.stop);
    let system_of = |point: &Point| systems.iter().position(|(system, _)| *system == point.system);
    points.sort_by_key(|point| (stop_of(point), system_of(point), point.id.clone()));
    let mut waiting = std::mem::take(points);
    while !waiting.is_empty() {
        let next = waiting
            .iter()
            .position(|point| {
                !waiting
                    .iter()
                    .any(|other| other.stop == point.stop && point.after.contains(&other.id))
            })
            // A circle is refused when the data loads; in any other case the first one is free.
            .unwrap_or(0);
        points.push(waiting.remove(next));
    }
}
