//! The kit list: which instruments the planned readings take, from their kinds of quantity.

use plan::{Plan, ReadingForm};
use quantity::Kind;

use super::Visit;

/// An instrument to bring.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instrument {
    /// What it is.
    pub name: &'static str,
    /// The points that it is for, by id, in walking order.
    pub points: Vec<String>,
}

/// Instruments for the points that are still to be done, those for most points first.
#[must_use]
pub fn kit(plan: &Plan, visit: &Visit) -> Vec<Instrument> {
    let mut kit: Vec<Instrument> = Vec::new();
    for point in &plan.points {
        let id = point.id.as_str();
        let left = visit.problem.act(id).is_some()
            && !visit.progress.done.contains_key(id)
            && !visit.progress.skipped.contains_key(id);
        if !left {
            continue;
        }
        let quantities = point.readings.iter().filter_map(|reading| match reading.form {
            ReadingForm::Quantity { kind, .. } => instrument(kind, &point.system),
            ReadingForm::Choice(_) | ReadingForm::Date | ReadingForm::Text => None,
        });
        for name in quantities {
            let index = kit.iter().position(|one| one.name == name).unwrap_or_else(|| {
                kit.push(Instrument { name, points: Vec::new() });
                kit.len() - 1
            });
            let points = &mut kit[index].points;
            if points.last().is_none_or(|last| last != id) {
                points.push(point.id.clone());
            }
        }
    }
    kit.sort_by_key(|one| std::cmp::Reverse(one.points.len()));
    kit
}

/// What reads this kind of quantity, where something has to be brought for it.
fn instrument(kind: Kind, system: &str) -> Option<&'static str> {
    Some(match (kind, system) {
        (Kind::Pressure, "gas") => "manometer for gas, inches of water",
        (Kind::Pressure, "running_gear") => "tyre gauge",
        (Kind::Pressure, _) => "water pressure gauge",
        (Kind::Length, "running_gear") => "tread-depth gauge and tape",
        (Kind::Length, _) => "tape measure",
        (Kind::Temperature | Kind::TemperatureDifference, _) => "thermometer",
        (Kind::Mass | Kind::Force, _) => "scale for tongue and wheels",
        (Kind::Torque, _) => "torque wrench",
        (Kind::Angle, _) => "level",
        (Kind::Volume | Kind::VolumeFlow, _) => "measuring jug and stop-watch",
        (Kind::Voltage | Kind::Resistance | Kind::Frequency, _) => "multimeter",
        (Kind::Current, _) => "clamp meter",
        _ => return None,
    })
}
