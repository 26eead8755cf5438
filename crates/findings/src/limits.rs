//! Holding values to the limits that apply, with bounds from the record where a limit says so.

use inspection::Inspection;
use limit::{Bound, Limit, NotApplicable, Reading, judge};
use plan::{BoundFrom, InputFrom, PlannedLimit, Point};
use quantity::{Kind, Value, parse_value};

use crate::values::{Known, Values, words};
use crate::{Content, LimitResult, Origin};

/// What becomes of one limit beside one value.
pub(crate) enum Held {
    /// The value was held to it, with the bound as it was applied.
    To(Box<LimitResult>),
    /// It is for other units.
    NotFor(NotApplicable),
    /// The value could not be computed, so there is nothing to hold.
    NoValue,
    /// Its bound could not be told, and why.
    NoBound(String),
}

/// What every limit of a point says of one value, and notes on those that could not be applied.
pub(crate) fn judgements<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
    name: &str,
    position: &str,
    known: &Known,
) -> (Vec<LimitResult>, Vec<String>) {
    let own = || point.limits.iter().filter(|planned| planned.limit.on == name);
    let mut results = Vec::with_capacity(own().count());
    let mut notes = Vec::new();
    for planned in own() {
        match held(values, inspection, point, planned, position, known) {
            Held::To(result) => results.push(*result),
            Held::NotFor(NotApplicable::BuildDateUnknown) => notes.push(format!(
                "not held to {}: it depends on the day the unit was built, which is not recorded",
                planned.limit.source.section
            )),
            Held::NotFor(
                NotApplicable::OtherKind | NotApplicable::OtherEra | NotApplicable::NotFitted,
            )
            | Held::NoValue => {}
            Held::NoBound(note) => notes.push(note),
        }
    }
    (results, notes)
}

/// Holds a value to one limit, if the limit is for this unit and both can be told.
pub(crate) fn held<'a>(
    values: &mut Values<'a>,
    inspection: &Inspection,
    point: &'a Point,
    planned: &'a PlannedLimit,
    position: &str,
    known: &Known,
) -> Held {
    let dwelling = &inspection.dwelling;
    let applies = &planned.limit.applies;
    if let Err(why) = applies.to(dwelling.kind.word(), dwelling.built, &dwelling.equipment) {
        return Held::NotFor(why);
    }
    let (reading, kind) = match &known.content {
        Content::Quantity(value) => (Reading::Quantity(*value), Some(value.kind)),
        Content::Words(text) => (Reading::Words(text.clone()), None),
        Content::None(_) => return Held::NoValue,
    };
    match bound(values, point, planned, position, kind) {
        Ok(bound) => {
            let limit = Limit { bound, ..planned.limit.clone() };
            let judgement = judge(&reading, &limit);
            Held::To(Box::new(LimitResult { limit, judgement }))
        }
        Err(note) => Held::NoBound(note),
    }
}

fn bound<'a>(
    values: &mut Values<'a>,
    point: &'a Point,
    planned: &'a PlannedLimit,
    position: &str,
    kind: Option<Kind>,
) -> Result<Bound, String> {
    let Some(from) = &planned.bound_from else {
        return Ok(planned.limit.bound.clone());
    };
    let kind = kind.ok_or_else(|| "a bound from the record needs a quantity".to_owned())?;
    let mut value = |from: &'a InputFrom| value_from(values, point, from, position, kind);
    Ok(match from {
        BoundFrom::AtMost(most) => Bound::AtMost(value(most)?),
        BoundFrom::AtLeast(least) => Bound::AtLeast(value(least)?),
        BoundFrom::Between(least, most) => Bound::Between(value(least)?, value(most)?),
    })
}

fn value_from<'a>(
    values: &mut Values<'a>,
    point: &'a Point,
    from: &'a InputFrom,
    position: &str,
    kind: Kind,
) -> Result<Value, String> {
    let name = match from {
        InputFrom::Own(name) | InputFrom::AllOwn(name) | InputFrom::Dwelling(name) => words(name),
        InputFrom::OwnAt { name, position } => words(&format!("{name} at {position}")),
        InputFrom::Other { point, name } => words(&format!("{point}, {name}")),
        InputFrom::VisitDay => "day of the visit".to_owned(),
        InputFrom::Fixed(text) => text.clone(),
    };
    let missing = || format!("not held to the limit: {name} is not recorded");
    let found = values.input(point, from, position);
    let known = found.first().ok_or_else(missing)?;
    let value = match &known.content {
        Content::Quantity(value) => *value,
        Content::Words(text) => parse_value(text, kind)
            .map_err(|error| format!("not held to the limit: {name}: {error}"))?,
        Content::None(_) => return Err(missing()),
    };
    // A figure that a person read off a plate is a stated one: it has no error. What was computed is as uncertain as
    // what it was computed from.
    let uncertainty = match &known.origin {
        Origin::Computed { .. } => value.uncertainty,
        Origin::Read(_) => None,
    };
    (value.kind == kind)
        .then_some(Value { uncertainty, ..value })
        .ok_or_else(|| format!("not held to the limit: {name} is no {}", words(kind.word())))
}
