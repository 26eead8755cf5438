//! `[[reading]]`: what is read at a point.

use std::collections::{BTreeMap, BTreeSet};

use quantity::{Kind, Unit, units};

use super::{Table, nearest, words::check_id};
use crate::{Positions, ReadingForm, ReadingPlan};

/// Reads one `[[reading]]`.
pub(crate) fn read(table: Table<'_>, seen: &mut BTreeSet<String>) -> Option<ReadingPlan> {
    let id = table.required("id");
    let title = table.required("title");
    let form = form(&table);
    let positions = positions(&table);
    let optional = table.flag("optional");
    if let Some(id) = &id {
        check_id(&table, &id.value, seen);
    }
    table.finish();
    let (id, title) = (id?.value, title?.value);
    Some(ReadingPlan { id, title, form: form?, positions, optional, shown: BTreeMap::new() })
}

fn form(table: &Table<'_>) -> Option<ReadingForm> {
    let kind = table.required("kind")?;
    let choices = table.texts("choices");
    let (unit, usual) = (table.text("unit"), table.text("u"));
    match kind.value.as_str() {
        "choice" if choices.is_empty() => {
            table.problem("a choice has no `choices`", "write choices = [\"…\", \"…\"]");
            return None;
        }
        "choice" => {
            return Some(ReadingForm::Choice(choices.into_iter().map(|it| it.value).collect()));
        }
        "date" => return Some(ReadingForm::Date),
        "text" => return Some(ReadingForm::Text),
        _ => {}
    }
    let Some(quantity) = Kind::from_word(&kind.value) else {
        let words = Kind::ALL.iter().map(|kind| kind.word()).chain(["choice", "date", "text"]);
        let hint = nearest(&kind.value, words.clone()).map_or_else(
            || format!("kinds: {}", words.collect::<Vec<_>>().join(", ")),
            |near| format!("write `{near}`"),
        );
        table.problem_at(&kind.spot, format!("no kind is called `{}`", kind.value), hint);
        return None;
    };
    let spelling = unit.as_ref().map_or("", |unit| unit.value.as_str());
    let spot = unit.as_ref().map_or_else(|| table.spot(), |unit| unit.spot.clone());
    let Some(unit) = units::find_of(quantity, spelling) else {
        table.problem_at(&spot, no_unit(quantity, spelling), unit_hint(quantity));
        return None;
    };
    let usual = usual.and_then(|text| match step(&text.value, quantity) {
        Some(step) => Some(step),
        None => {
            table.problem_at(
                &text.spot,
                format!("`{}` is no uncertainty of a {}", text.value, quantity.word()),
                format!(
                    "write the standard uncertainty with its unit, such as \"0.1 {}\"",
                    unit.spelling
                ),
            );
            None
        }
    });
    Some(ReadingForm::Quantity { kind: quantity, unit, usual })
}

pub(crate) fn no_unit(kind: Kind, spelling: &str) -> String {
    if spelling.is_empty() {
        format!("a {} needs its `unit`", kind.word())
    } else {
        format!("`{spelling}` is no unit of {}", kind.word())
    }
}

pub(crate) fn unit_hint(kind: Kind) -> String {
    let spellings: Vec<&str> = units::of_kind(kind).map(|unit| unit.spelling).collect();
    format!("units: {}", spellings.join(", "))
}

/// `0.5 degF` as the size of a step in SI base units: offsets do not count.
fn step(text: &str, kind: Kind) -> Option<f64> {
    let digits = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, spelling) = text.split_at(digits);
    let difference = (kind == Kind::Temperature).then_some(Kind::TemperatureDifference);
    let unit = units::find_of(kind, spelling)
        .or_else(|| difference.and_then(|kind| units::find_of(kind, spelling)))?;
    let number: f64 = number.parse().ok()?;
    (number.is_finite() && number >= 0.0).then(|| number * Unit::step(unit))
}

fn positions(table: &Table<'_>) -> Positions {
    let texts = table.texts("positions");
    match texts.as_slice() {
        [] => Positions::One,
        [any] if any.value == "any" => Positions::Any,
        named => Positions::Named(named.iter().map(|text| text.value.clone()).collect()),
    }
}
