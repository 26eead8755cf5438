//! A verdict explained: from the text that was typed to the sentence in the report, every step with its numbers.
//!
//! The steps are the engine's own: what reads an entry, computes a formula, picks the limits and drafts a finding for
//! [`crate::assess()`] does it here too, and says what it did.

pub(crate) mod came;
mod consequence;
mod words;

use inspection::{Inspection, PointId};
use limit::{Judgement, Limit, NotApplicable};
use plan::{Plan, PlannedLimit, Point};
use quantity::UnitSystem;

pub use came::{Budget, BudgetPart, Came, Computation, Entered, How, InputStep};
pub use consequence::{Consequence, Standing};
pub use words::explanation_in_words;

use crate::limits::{self, Held};
use crate::sentence::Voice;
use crate::values::{Values, words};
use crate::{Assessment, LimitResult, PointResult, ValueResult, assess_in};

/// One value: how it came about, what it was held to, and what followed.
#[derive(Clone, Debug)]
pub struct Explanation {
    /// The point.
    pub point: PointId,
    /// The point's heading.
    pub point_title: String,
    /// The value, with every step to it.
    pub value: Came,
    /// Every limit of the plan on this value, in the plan's order: those that it was held to, and why not to others.
    pub limits: Vec<LimitStep>,
}

/// One limit beside the value.
#[derive(Clone, Debug)]
pub struct LimitStep {
    /// The limit; its bound as it was applied, or as planned where it was not.
    pub limit: Limit,
    /// Whether its bound comes from the record instead of a fixed number.
    pub bound_from_record: bool,
    /// What became of it.
    pub fate: Fate,
    /// What the verdict drafted; none where it drafts nothing.
    pub consequence: Option<Consequence>,
}

/// What became of a limit.
#[derive(Clone, Debug)]
pub enum Fate {
    /// The value was held to it.
    Judged(Judgement),
    /// It was not, and why, in a sentence.
    NotHeld(String),
}

/// Why there is nothing to explain; the names that would do are given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoExplanation {
    /// The plan has no such point.
    Point {
        /// The points that the unit has.
        known: Vec<String>,
    },
    /// The unit has no such point, by its kind and equipment.
    NotOnUnit {
        /// The point's heading.
        title: String,
    },
    /// The point has no such reading or derived value.
    Value {
        /// The names that it has.
        known: Vec<String>,
    },
    /// Nothing of it was entered, or what was entered cannot be read.
    NotRead {
        /// What the value is, in words.
        title: String,
        /// What was wrong with the entries, in sentences; empty where there are none.
        problems: Vec<String>,
    },
    /// It has no value at that position, or several and none is named.
    Position {
        /// The positions that it has.
        known: Vec<String>,
    },
}

/// Explains a value of a point, with sentences in the units of a system. A position need only be named where there are several.
///
/// # Errors
/// [`NoExplanation`], if the names do not lead to one value.
pub fn explain(
    plan: &Plan,
    inspection: &Inspection,
    point: &str,
    name: &str,
    position: Option<&str>,
    units: UnitSystem,
) -> Result<Explanation, NoExplanation> {
    let assessment = assess_in(plan, inspection, units);
    explain_assessed(plan, inspection, &assessment, point, name, position, units)
}

/// The same beside an assessment that is there already, of the same plan, inspection and units.
///
/// # Errors
/// [`NoExplanation`], if the names do not lead to one value.
pub fn explain_assessed(
    plan: &Plan,
    inspection: &Inspection,
    assessment: &Assessment,
    point: &str,
    name: &str,
    position: Option<&str>,
    units: UnitSystem,
) -> Result<Explanation, NoExplanation> {
    let dwelling = &inspection.dwelling;
    let Some(point) = plan.point(point) else {
        let points = plan.points_for(dwelling.kind, &dwelling.equipment);
        return Err(NoExplanation::Point { known: points.map(|point| point.id.clone()).collect() });
    };
    if !point.exists_on(dwelling.kind, &dwelling.equipment) {
        return Err(NoExplanation::NotOnUnit { title: point.title.clone() });
    }
    let Some(title) = title_of(point, name) else {
        let readings = point.readings.iter().map(|reading| reading.id.clone());
        let derived = point.derived.iter().map(|derived| derived.id.clone());
        return Err(NoExplanation::Value { known: readings.chain(derived).collect() });
    };
    let mut values = Values::new(plan, inspection);
    let known = values.of(point, name);
    if known.is_empty() {
        let problems = std::mem::take(&mut values.problems);
        return Err(NoExplanation::NotRead { title: title.to_owned(), problems });
    }
    let chosen = match position {
        Some(position) => known.iter().find(|(place, _)| place == position),
        None if known.len() == 1 => known.first(),
        None => None,
    };
    let Some((position, known)) = chosen else {
        let known = known.iter().map(|(place, _)| place.clone()).collect();
        return Err(NoExplanation::Position { known });
    };
    let result = assessment.points.iter().find(|result| result.point.as_str() == point.id);
    let judged = result.and_then(|result| {
        let own = |value: &&ValueResult| value.name == name && value.position == *position;
        Some((result, result.values.iter().find(own)?))
    });
    let voice = Voice { plan, units };
    let limits = point
        .limits
        .iter()
        .filter(|planned| planned.limit.on == name)
        .map(|planned| {
            let held = limits::held(&mut values, inspection, point, planned, position, known);
            let follows = |limit: &LimitResult| {
                let (result, value): (&PointResult, &ValueResult) = judged?;
                consequence::of(point, result, value, limit, inspection, assessment, voice)
            };
            step(inspection, planned, held, follows)
        })
        .collect();
    Ok(Explanation {
        point: PointId::from(point.id.as_str()),
        point_title: point.title.clone(),
        value: came::about(&mut values, inspection, point, name, position, known),
        limits,
    })
}

fn title_of<'a>(point: &'a Point, name: &str) -> Option<&'a str> {
    let derived = || point.derived.iter().find(|derived| derived.id == name);
    point
        .reading(name)
        .map(|reading| reading.title.as_str())
        .or_else(|| derived().map(|derived| derived.title.as_str()))
}

fn step(
    inspection: &Inspection,
    planned: &PlannedLimit,
    held: Held,
    follows: impl FnOnce(&LimitResult) -> Option<Consequence>,
) -> LimitStep {
    let planned_limit = planned.limit.clone();
    let (limit, fate, consequence) = match held {
        Held::To(result) => {
            let consequence = follows(&result);
            (result.limit, Fate::Judged(result.judgement), consequence)
        }
        Held::NotFor(why) => {
            let sentence = not_for(inspection, &planned.limit, why);
            (planned_limit, Fate::NotHeld(sentence), None)
        }
        Held::NoValue => {
            (planned_limit, Fate::NotHeld("there is no value to hold to it".to_owned()), None)
        }
        Held::NoBound(note) => (planned_limit, Fate::NotHeld(note), None),
    };
    LimitStep { limit, bound_from_record: planned.bound_from.is_some(), fate, consequence }
}

/// Why a limit is not for this unit, with what both say.
fn not_for(inspection: &Inspection, limit: &Limit, why: NotApplicable) -> String {
    let (dwelling, applies) = (&inspection.dwelling, &limit.applies);
    match why {
        NotApplicable::OtherKind => {
            let kinds: Vec<String> = applies.kinds.iter().map(|kind| words(kind)).collect();
            format!("it is for a {}; this unit is a {}", kinds.join(" or "), dwelling.kind.title())
        }
        NotApplicable::NotFitted => {
            let lacking: Vec<String> =
                applies.fitted.difference(&dwelling.equipment).map(|one| words(one)).collect();
            format!("it is for units with {}, which this one has not", lacking.join(" and "))
        }
        NotApplicable::OtherEra | NotApplicable::BuildDateUnknown => {
            let from = applies.built_from.map(|day| format!(" from {day} on"));
            let before = applies.built_before.map(|day| format!(" before {day}"));
            let era: String = from.into_iter().chain(before).collect();
            let built = dwelling.built.map_or_else(
                || "the day when this one was built is not recorded".to_owned(),
                |day| format!("this one was built on {day}"),
            );
            format!("it is for units built{era}; {built}")
        }
    }
}
