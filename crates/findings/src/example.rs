//! Checking a point's worked examples: each builds a small inspection and compares what follows.

use inspection::{
    Dwelling, DwellingKind, Inspection, Outcome, PointEntry, PointId, Reading, ReadingId, Use,
};
use jiff::civil::date;
use plan::{Example, Plan, Point};
use quantity::{parse_value, units};

use crate::{Assessment, Content, PointResult, UseState, ValueResult, assess};

/// Runs one example of a point; what differs from what it expects, in sentences. Empty if it holds.
#[must_use]
pub fn check_example(plan: &Plan, point: &Point, example: &Example) -> Vec<String> {
    let inspection = inspection_of_example(point, example);
    let assessment = assess(plan, &inspection);
    let Some(result) = assessment.points.iter().find(|result| result.point.as_str() == point.id)
    else {
        return vec!["the example's unit does not have this point".to_owned()];
    };
    let mut wrong: Vec<String> = assessment.problems.clone();
    for (name, expected) in &example.verdicts {
        let got = verdict_of(result, name).unwrap_or("not judged");
        if got != expected {
            wrong.push(format!(
                "limit {name}: {got}, expected {expected}{}",
                values_in_words(result)
            ));
        }
    }
    for (name, expected) in &example.values {
        wrong.extend(value_differs(result, name, expected));
    }
    if let Some(expected) = &example.drafts {
        let mut got: Vec<&str> = drafted(&assessment, point);
        let mut expected: Vec<&str> = expected.iter().map(String::as_str).collect();
        got.sort_unstable();
        expected.sort_unstable();
        if got != expected {
            wrong.push(format!("drafts {got:?}, expected {expected:?}"));
        }
    }
    if let Some(expected) = &example.stops {
        let got: Vec<Use> = uses_in(&assessment, UseState::Held);
        if got != sorted(expected) {
            wrong.push(format!("stops {}, expected {}", in_words(&got), in_words(expected)));
        }
    }
    if let Some(expected) = &example.open {
        // Other points of the plan are not entered here: only this one is asked about.
        let got: Vec<Use> = assessment
            .uses
            .iter()
            .filter(|one| one.open_for.iter().any(|id| id.as_str() == point.id))
            .map(|one| one.which)
            .collect();
        if got != sorted(expected) {
            wrong.push(format!("leaves open {}, expected {}", in_words(&got), in_words(expected)));
        }
    }
    wrong
}

/// The small inspection that an example of a point describes.
#[must_use]
pub fn inspection_of_example(point: &Point, example: &Example) -> Inspection {
    let kind = example
        .kind
        .or_else(|| point.kinds.iter().next().copied())
        .unwrap_or(DwellingKind::TravelTrailer);
    let mut inspection = Inspection {
        dwelling: Dwelling {
            kind,
            built: example.built,
            equipment: point.fitted.clone(),
            ..Dwelling::default()
        },
        ..Inspection::default()
    };
    for limit in &point.limits {
        if example.verdicts.keys().any(|key| key.split('@').next() == Some(&limit.limit.id)) {
            inspection.dwelling.equipment.extend(limit.limit.applies.fitted.iter().cloned());
        }
    }
    inspection.job.visits = vec![example.visited.unwrap_or(date(2026, 6, 12))];
    for (fact, text) in &example.dwelling {
        match fact.as_str() {
            "identification" => inspection.dwelling.identification = text.clone(),
            "model_year" => inspection.dwelling.model_year = text.parse().ok(),
            "length" => inspection.dwelling.outline.length = text.clone(),
            "width" => inspection.dwelling.outline.width = text.clone(),
            "altitude" => {
                inspection.job.site.altitude_metres =
                    parse_value(text, quantity::Kind::Length).ok().map(|value| value.base);
            }
            "latitude" | "longitude" => {
                if let Ok(angle) = parse_value(text, quantity::Kind::Angle) {
                    let degrees = angle.base.to_degrees();
                    let (latitude, longitude) = inspection.job.site.position.unwrap_or((0.0, 0.0));
                    inspection.job.site.position = Some(if fact == "latitude" {
                        (degrees, longitude)
                    } else {
                        (latitude, degrees)
                    });
                }
            }
            _ => {
                inspection.dwelling.ratings.insert(fact.clone(), text.clone());
            }
        }
    }
    for (at, (key, entry)) in example.given.iter().enumerate() {
        let (name, position) = key.split_once('@').unwrap_or((key, ""));
        let (owner, name) = name.split_once('.').unwrap_or((&point.id, name));
        let reading = Reading {
            point: owner.into(),
            name: name.to_owned(),
            entry: entry.clone(),
            position: position.to_owned(),
            instrument: None,
            at: None,
            by: String::new(),
            struck_out: None,
        };
        inspection.readings.insert(ReadingId(format!("{at:04}")), reading);
    }
    let outcome = match &example.not_examined {
        Some(reason) => Outcome::NotExamined { reason: reason.clone() },
        None => Outcome::Examined,
    };
    let defects = example.found.iter().map(|found| {
        let (id, position) = found.split_once('@').unwrap_or((found, ""));
        let positions = if position.is_empty() { Vec::new() } else { vec![position.to_owned()] };
        (id.to_owned(), positions)
    });
    inspection.points.insert(
        PointId::from(point.id.as_str()),
        PointEntry {
            outcome,
            defects: defects.collect(),
            notes: String::new(),
            by: String::new(),
            at: None,
        },
    );
    inspection
}

/// The verdict of a limit, by its id or `id@position`.
fn verdict_of(result: &PointResult, key: &str) -> Option<&'static str> {
    let (id, position) = key.split_once('@').unwrap_or((key, ""));
    result
        .values
        .iter()
        .filter(|value| position.is_empty() || value.position == position)
        .flat_map(|value| &value.judgements)
        .find(|judged| judged.limit.id == id)
        .map(|judged| judged.judgement.verdict.words(Some(judged.limit.basis)))
}

fn find_value<'a>(result: &'a PointResult, key: &str) -> Option<&'a ValueResult> {
    let (name, position) = key.split_once('@').unwrap_or((key, ""));
    result
        .values
        .iter()
        .find(|value| value.name == name && (position.is_empty() || value.position == position))
}

/// Quantities agree within one unit of the last digit that the example writes; words are equal.
fn value_differs(result: &PointResult, key: &str, expected: &str) -> Option<String> {
    let Some(value) = find_value(result, key) else {
        return Some(format!("value {key}: none, expected {expected}"));
    };
    match &value.content {
        Content::Words(words) if words == expected => None,
        Content::Words(words) => Some(format!("value {key}: {words}, expected {expected}")),
        Content::None(why) => Some(format!("value {key}: {why}, expected {expected}")),
        Content::Quantity(got) => {
            let wanted = match parse_value(expected, got.kind) {
                Ok(wanted) => wanted,
                Err(error) => return Some(format!("value {key}: {error}")),
            };
            let digits = expected
                .find(|c: char| !c.is_ascii_digit() && !"-.,".contains(c))
                .unwrap_or(expected.len());
            let (number, spelling) = expected.split_at(digits);
            let unit = units::find_of(got.kind, spelling)?;
            let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
            let mut last_digit = unit.step();
            for _ in 0..decimals {
                last_digit /= 10.0;
            }
            ((got.base - wanted.base).abs() > last_digit)
                .then(|| format!("value {key}: {}, expected {expected}", unit.from_base(got.base)))
        }
    }
}

fn drafted<'a>(assessment: &'a Assessment, point: &Point) -> Vec<&'a str> {
    assessment
        .findings
        .iter()
        .filter_map(|finding| finding.key.strip_prefix(&point.id)?.strip_prefix('/'))
        .collect()
}

fn uses_in(assessment: &Assessment, state: UseState) -> Vec<Use> {
    assessment.uses.iter().filter(|one| one.state == state).map(|one| one.which).collect()
}

fn sorted(uses: &[Use]) -> Vec<Use> {
    let mut uses = uses.to_vec();
    uses.sort_unstable();
    uses
}

fn in_words(uses: &[Use]) -> String {
    let words: Vec<&str> = uses.iter().map(|one| one.word()).collect();
    format!("[{}]", words.join(", "))
}

/// What was computed, for the message of a verdict that differs.
fn values_in_words(result: &PointResult) -> String {
    let values: Vec<String> = result
        .values
        .iter()
        .map(|value| {
            format!("{} = {}", value.name, crate::write_content(value, quantity::UnitSystem::Us))
        })
        .collect();
    if values.is_empty() { String::new() } else { format!(" ({})", values.join(", ")) }
}
