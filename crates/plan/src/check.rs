//! Checks over all files together: references resolve, kinds fit, nothing goes in circles.

use std::collections::{BTreeMap, BTreeSet};

use formulas::Takes;
use quantity::Kind;

use crate::read::{PlacedPicture, PlacedPoint, PlanFile, Spot, nearest};
use crate::{InputFrom, Point, Positions, Problem, ReadingForm};

/// All checks that need more than one file.
pub(crate) fn whole(
    points: &[PlacedPoint],
    plans: &[PlanFile],
    pictures: &[PlacedPicture],
    problems: &mut Vec<Problem>,
) {
    let mut by_id: BTreeMap<&str, &PlacedPoint> = BTreeMap::new();
    for placed in points {
        if let Some(other) = by_id.insert(&placed.point.id, placed) {
            problems.push(placed.spot.problem(
                format!("the id `{}` is also that of {}", placed.point.id, other.point.file),
                "ids are given once",
            ));
        }
    }
    for placed in points {
        for (id, spot) in &placed.after {
            if !by_id.contains_key(id.as_str()) {
                problems.push(spot.problem(format!("no point is called `{id}`"), near(id, &by_id)));
            }
        }
        inputs(placed, &by_id, problems);
        limits(placed, &by_id, problems);
    }
    circles(&by_id, problems);
    for plan in plans {
        check_plan(plan, points, &by_id, problems);
    }
    for picture in pictures {
        check_picture(picture, points, &by_id, problems);
    }
}

fn near(id: &str, by_id: &BTreeMap<&str, &PlacedPoint>) -> String {
    nearest(id, by_id.keys().copied()).map_or_else(String::new, |near| format!("write `{near}`"))
}

fn check_plan(
    plan: &PlanFile,
    points: &[PlacedPoint],
    by_id: &BTreeMap<&str, &PlacedPoint>,
    problems: &mut Vec<Problem>,
) {
    for (id, spot) in plan.points.iter().chain(&plan.without) {
        if !by_id.contains_key(id.as_str()) {
            problems.push(spot.problem(format!("no point is called `{id}`"), near(id, by_id)));
        }
    }
    for (system, spot) in &plan.systems {
        problems.extend(unknown_system(system, spot, points));
    }
}

fn unknown_system(system: &str, spot: &Spot, points: &[PlacedPoint]) -> Option<Problem> {
    let systems: BTreeSet<&str> =
        points.iter().map(|placed| placed.point.system.as_str()).collect();
    if systems.contains(system) {
        return None;
    }
    let hint = nearest(system, systems.iter().copied()).map_or_else(
        || format!("systems: {}", systems.iter().copied().collect::<Vec<_>>().join(", ")),
        |near| format!("write `{near}`"),
    );
    Some(spot.problem(format!("no system is called `{system}`"), hint))
}

fn check_picture(
    placed: &PlacedPicture,
    points: &[PlacedPoint],
    by_id: &BTreeMap<&str, &PlacedPoint>,
    problems: &mut Vec<Problem>,
) {
    problems.extend(unknown_system(&placed.picture.system, &placed.system, points));
    for (role, value) in &placed.picture.from {
        let spot = placed.from.get(role).unwrap_or(&placed.system);
        let Some(point) = by_id.get(value.point.as_str()) else {
            let message = format!("no point is called `{}`", value.point);
            problems.push(spot.problem(message, near(&value.point, by_id)));
            continue;
        };
        if let Err((message, hint)) =
            source(&point.point, &InputFrom::Own(value.name.clone()), by_id)
        {
            problems.push(spot.problem(message, hint));
        }
    }
}

/// What a name of a point is.
enum What {
    Quantity(Kind),
    Words,
}

fn what(point: &Point, name: &str) -> Option<What> {
    if let Some(reading) = point.reading(name) {
        return Some(match reading.form {
            ReadingForm::Quantity { kind, .. } => What::Quantity(kind),
            ReadingForm::Choice(_) | ReadingForm::Date | ReadingForm::Text => What::Words,
        });
    }
    let derived = point.derived.iter().find(|derived| derived.id == name)?;
    Some(derived.unit.map_or(What::Words, |unit| What::Quantity(unit.kind)))
}

/// The source of an input; a sentence and a hint if there is none.
fn source<'a>(
    point: &'a Point,
    from: &InputFrom,
    by_id: &BTreeMap<&str, &'a PlacedPoint>,
) -> Result<Option<What>, (String, String)> {
    let names = |point: &Point| {
        let readings = point.readings.iter().map(|reading| reading.id.clone());
        readings.chain(point.derived.iter().map(|derived| derived.id.clone())).collect::<Vec<_>>()
    };
    let find = |point: &Point, name: &str| {
        what(point, name).map(Some).ok_or_else(|| {
            let known = names(point);
            let hint = nearest(name, known.iter().map(String::as_str)).map_or_else(
                || format!("known: {}", known.join(", ")),
                |near| format!("write `{near}`"),
            );
            (format!("{} has no reading or derived value `{name}`", point.id), hint)
        })
    };
    match from {
        InputFrom::Own(name) | InputFrom::AllOwn(name) => find(point, name),
        InputFrom::OwnAt { name, position } => {
            match point.reading(name).map(|one| &one.positions) {
                Some(Positions::Named(places)) if !places.contains(position) => Err((
                    format!("`{name}` is not read at `{position}`"),
                    format!("its positions: {}", places.join(", ")),
                )),
                Some(Positions::One) => {
                    Err((format!("`{name}` is read in one place only"), format!("write `{name}`")))
                }
                _ => find(point, name),
            }
        }
        InputFrom::Other { point: id, name } => match by_id.get(id.as_str()) {
            Some(other) => find(&other.point, name),
            None => Err((format!("no point is called `{id}`"), near(id, by_id))),
        },
        InputFrom::Dwelling(_) | InputFrom::VisitDay | InputFrom::Fixed(_) => Ok(None),
    }
}

fn inputs(placed: &PlacedPoint, by_id: &BTreeMap<&str, &PlacedPoint>, problems: &mut Vec<Problem>) {
    let point = &placed.point;
    for (derived, (place, spots)) in point.derived.iter().zip(&placed.derived) {
        let Some(formula) = formulas::find(&derived.formula) else { continue };
        for (name, from) in &derived.from {
            let spot = spots.get(name).unwrap_or(place);
            let Some(input) = formula.input(name) else { continue };
            match source(point, from, by_id) {
                Err((message, hint)) => problems.push(spot.problem(message, hint)),
                Ok(None) => {}
                Ok(Some(what)) => problems.extend(misfit(spot, formula.name, input, &what)),
            }
            // A text holds several as well, each with its place.
            let list =
                matches!(input.takes, Takes::Quantities(_) | Takes::AnyQuantities | Takes::Text);
            if matches!(from, InputFrom::AllOwn(_)) && !list {
                problems.push(spot.problem(
                    format!("{} takes one value for `{name}`, not a list", formula.name),
                    "leave `all` out",
                ));
            }
            if let (InputFrom::AllOwn(own), true) = (from, list)
                && point.reading(own).is_some_and(|reading| reading.positions == Positions::One)
            {
                problems.push(spot.problem(
                    format!("`{own}` is read in one place only, and a list is wanted"),
                    "write positions = \"any\" at the reading",
                ));
            }
        }
    }
}

fn misfit(spot: &Spot, formula: &str, input: &formulas::Input, what: &What) -> Option<Problem> {
    let fits = match (input.takes, what) {
        (Takes::Quantity(wanted) | Takes::Quantities(wanted), What::Quantity(given)) => {
            wanted == *given
                || matches!((wanted, given), (Kind::Mass, Kind::Force) | (Kind::Force, Kind::Mass))
        }
        (Takes::AnyQuantity | Takes::AnyQuantities | Takes::AnyDifference, What::Quantity(_))
        | (Takes::Word(_) | Takes::Date | Takes::Instant | Takes::Text, What::Words) => true,
        (
            Takes::Quantity(_)
            | Takes::Quantities(_)
            | Takes::AnyQuantity
            | Takes::AnyQuantities
            | Takes::AnyDifference,
            What::Words,
        )
        | (Takes::Word(_) | Takes::Date | Takes::Instant | Takes::Text, What::Quantity(_)) => false,
    };
    if fits {
        return None;
    }
    let wanted = match input.takes {
        Takes::Quantity(kind) | Takes::Quantities(kind) => kind.word().replace('_', " "),
        Takes::AnyQuantity | Takes::AnyQuantities | Takes::AnyDifference => "a quantity".to_owned(),
        Takes::Word(words) => format!("one of {}", words.join(", ")),
        Takes::Date => "date".to_owned(),
        Takes::Instant => "time".to_owned(),
        Takes::Text => "text".to_owned(),
    };
    let given = match what {
        What::Quantity(kind) => kind.word().replace('_', " "),
        What::Words => "words".to_owned(),
    };
    Some(spot.problem(
        format!("{formula} takes {wanted} for `{}`, given {given}", input.name),
        "name another reading, or change its kind",
    ))
}

fn limits(placed: &PlacedPoint, by_id: &BTreeMap<&str, &PlacedPoint>, problems: &mut Vec<Problem>) {
    let point = &placed.point;
    for planned in &point.limits {
        let from = match &planned.bound_from {
            None => continue,
            Some(crate::BoundFrom::AtMost(one) | crate::BoundFrom::AtLeast(one)) => vec![one],
            Some(crate::BoundFrom::Between(one, other)) => vec![one, other],
        };
        for one in from {
            if let Err((message, hint)) = source(point, one, by_id) {
                let message = format!("limit {}: {message}", planned.limit.id);
                problems.push(placed.spot.problem(message, hint));
            }
        }
    }
}

/// Circles among derived values, and among what must come first.
fn circles(by_id: &BTreeMap<&str, &PlacedPoint>, problems: &mut Vec<Problem>) {
    let mut first: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut values: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (id, placed) in by_id {
        first.insert((*id).to_owned(), placed.point.after.clone());
        for derived in &placed.point.derived {
            let inputs = derived.from.values().filter_map(|from| match from {
                InputFrom::Own(name) | InputFrom::AllOwn(name) | InputFrom::OwnAt { name, .. } => {
                    Some(format!("{id}.{name}"))
                }
                InputFrom::Other { point, name } => Some(format!("{point}.{name}")),
                InputFrom::Dwelling(_) | InputFrom::VisitDay | InputFrom::Fixed(_) => None,
            });
            values.insert(format!("{id}.{}", derived.id), inputs.collect());
        }
    }
    let at = |name: &str| {
        let id = name.split('.').next().unwrap_or(name);
        by_id.get(id).map(|placed| placed.spot.clone()).unwrap_or_default()
    };
    if let Some(circle) = circle(&first) {
        problems.push(at(&circle[0]).problem(
            format!("points must come after each other in a circle: {}", circle.join(", ")),
            "take one of them out of `after`",
        ));
    }
    if let Some(circle) = circle(&values) {
        problems.push(at(&circle[0]).problem(
            format!("values are computed from each other in a circle: {}", circle.join(", ")),
            "compute one of them from readings",
        ));
    }
}

/// A circle in a graph, if there is one.
fn circle(graph: &BTreeMap<String, Vec<String>>) -> Option<Vec<String>> {
    let mut done = BTreeSet::new();
    for start in graph.keys() {
        let mut path = Vec::new();
        if let Some(circle) = walk(graph, start, &mut path, &mut done) {
            return Some(circle);
        }
    }
    None
}

fn walk(
    graph: &BTreeMap<String, Vec<String>>,
    node: &str,
    path: &mut Vec<String>,
    done: &mut BTreeSet<String>,
) -> Option<Vec<String>> {
    if let Some(at) = path.iter().position(|one| one == node) {
        return Some(path[at..].to_vec());
    }
    if done.contains(node) {
        return None;
    }
    path.push(node.to_owned());
    for next in graph.get(node).into_iter().flatten() {
        if let Some(circle) = walk(graph, next, path, done) {
            return Some(circle);
        }
    }
    path.pop();
    done.insert(node.to_owned());
    None
}
