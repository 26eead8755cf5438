//! `[[example]]`: a worked example that is also a test.

use std::collections::BTreeMap;

use inspection::{DwellingKind, Use};
use jiff::civil::Date;

use super::Table;
use crate::{Example, Point};

/// Reads one `[[example]]` of a point that is otherwise read.
pub(crate) fn read(table: Table<'_>, point: &Point) -> Example {
    let example = Example {
        title: table.text_or_empty("title"),
        kind: kind(&table),
        built: day(&table, "built"),
        visited: day(&table, "visited"),
        given: texts(&table, "given"),
        dwelling: texts(&table, "dwelling"),
        found: table.texts("found").into_iter().map(|text| text.value).collect(),
        not_examined: table.text("not_examined").map(|text| text.value),
        values: texts(&table, "values"),
        verdicts: texts(&table, "verdicts"),
        stops: list(&table, "stops"),
        open: list(&table, "open"),
        drafts: drafts(&table),
    };
    check(&table, point, &example);
    table.finish();
    example
}

fn check(table: &Table<'_>, point: &Point, example: &Example) {
    let expects = !example.values.is_empty()
        || !example.verdicts.is_empty()
        || example.stops.is_some()
        || example.open.is_some()
        || example.drafts.is_some();
    if !expects {
        table.problem(
            "the example expects nothing",
            "write verdicts, values, drafts, stops or open",
        );
    }
    for key in example.given.keys() {
        let name = key.split('@').next().unwrap_or(key);
        if !name.contains('.') && point.reading(name).is_none() {
            table.problem(format!("the example gives `{name}`, which is not read here"), "");
        }
    }
    for key in example.verdicts.keys() {
        let id = key.split('@').next().unwrap_or(key);
        if !point.limits.iter().any(|planned| planned.limit.id == id) {
            table.problem(
                format!("the example expects a verdict of `{id}`, which is no limit here"),
                "",
            );
        }
    }
    for found in &example.found {
        let id = found.split('@').next().unwrap_or(found);
        if point.defect(id).is_none() {
            table.problem(format!("the example finds `{id}`, which is no defect here"), "");
        }
    }
}

fn kind(table: &Table<'_>) -> Option<DwellingKind> {
    let text = table.text("kind")?;
    let kind = DwellingKind::from_word(&text.value);
    if kind.is_none() {
        let words = DwellingKind::ALL.map(DwellingKind::word).join(", ");
        table.problem_at(
            &text.spot,
            format!("no kind of unit is called `{}`", text.value),
            format!("write one of {words}"),
        );
    }
    kind
}

fn day(table: &Table<'_>, key: &'static str) -> Option<Date> {
    let text = table.text(key)?;
    let day = text.value.parse().ok();
    if day.is_none() {
        table.problem_at(
            &text.spot,
            format!("`{}` is no day", text.value),
            "write it like 2026-06-12",
        );
    }
    day
}

fn texts(table: &Table<'_>, key: &'static str) -> BTreeMap<String, String> {
    let inner = table.table(key);
    inner.map_or_else(BTreeMap::new, |inner| {
        inner.free_texts().into_iter().map(|(name, text)| (name, text.value)).collect()
    })
}

fn list(table: &Table<'_>, key: &'static str) -> Option<Vec<Use>> {
    let there = table.has(key);
    let uses = super::limits::uses(table, key);
    there.then_some(uses)
}

fn drafts(table: &Table<'_>) -> Option<Vec<String>> {
    let there = table.has("drafts");
    let ids = table.texts("drafts").into_iter().map(|text| text.value).collect();
    there.then_some(ids)
}
