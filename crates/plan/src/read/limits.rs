//! `[[limit]]` and `[[defect]]`: what values are held to, and what can be wrong.

use std::collections::BTreeSet;

use inspection::{DwellingKind, TimeToAct, Use};
use jiff::civil::Date;
use limit::{Applies, Basis, Bound, Footing, Limit, SectionRead, SourceReference};
use quantity::{Kind, Value, parse_value};

use super::table::At;
use super::{Spot, Table, Words, nearest, parse_input_from, words::check_id};
use crate::{BoundFrom, Defect, PlannedLimit};

/// A limit with its place, for checks that need the whole point.
pub(crate) struct PlacedLimit {
    pub planned: PlannedLimit,
    pub spot: Spot,
    pub defect: Option<Spot>,
}

/// Reads one `[[limit]]`; `kind_of` tells the kind of the value it is on: none for words, an error if
/// there is no such value.
pub(crate) fn read_limit(
    table: Table<'_>,
    words: &Words,
    seen: &mut BTreeSet<String>,
    kind_of: &dyn Fn(&str) -> Result<Option<Kind>, String>,
) -> Option<PlacedLimit> {
    let id = table.required("id");
    let on = table.required("on");
    if let Some(id) = &id {
        check_id(&table, &id.value, seen);
    }
    let kind = on.as_ref().and_then(|on| match kind_of(&on.value) {
        Ok(kind) => Some(kind),
        Err(hint) => {
            table.problem_at(
                &on.spot,
                format!("no reading or derived value is called `{}`", on.value),
                hint,
            );
            None
        }
    });
    let bound = bound(&table, kind);
    let basis = choice(&table, "basis", &Basis::ALL.map(Basis::word), Basis::from_word);
    let footing = choice(&table, "footing", &Footing::ALL.map(Footing::word), Footing::from_word);
    let read = section_read(&table);
    let source = source(&table, words, basis);
    let applies = applies(&table, words);
    let defect = table.text("defect");
    if defect.is_none() {
        table.problem(
            "the limit drafts no defect",
            "write defect = \"…\" with the id of a [[defect]]",
        );
    }
    let spot = table.spot();
    table.finish();
    let (bound, bound_from) = bound?;
    let on = on?;
    Some(PlacedLimit {
        planned: PlannedLimit {
            limit: Limit {
                id: id?.value,
                on: on.value,
                bound,
                source: source?,
                basis: basis?,
                footing: footing?,
                read: read?,
                applies,
            },
            defect: defect.as_ref().map_or_else(String::new, |defect| defect.value.clone()),
            bound_from,
        },
        spot,
        defect: defect.map(|defect| defect.spot),
    })
}

fn bound(table: &Table<'_>, kind: Option<Option<Kind>>) -> Option<(Bound, Option<BoundFrom>)> {
    let most = table.text("at_most");
    let least = table.text("at_least");
    let between = table.texts("between");
    let one_of = table.texts("one_of");
    let given = [most.is_some(), least.is_some(), !between.is_empty(), !one_of.is_empty()];
    if given.iter().filter(|given| **given).count() != 1 {
        table.problem(
            "a limit needs exactly one bound",
            "write one of at_most, at_least, between, one_of",
        );
        return None;
    }
    if !one_of.is_empty() {
        if let Some(Some(kind)) = kind {
            table.problem_at(
                &one_of[0].spot,
                format!("words cannot bound a {}", kind.word()),
                "write at_most, at_least or between",
            );
            return None;
        }
        return Some((Bound::OneOf(one_of.into_iter().map(|text| text.value).collect()), None));
    }
    let first = most.as_ref().or(least.as_ref()).or(between.first())?;
    let Some(kind) = kind? else {
        table.problem_at(&first.spot, "a quantity cannot bound words", "write one_of = [\"…\"]");
        return None;
    };
    if between.len() != 2 && !between.is_empty() {
        table.problem_at(
            &first.spot,
            "`between` needs two bounds",
            "write between = [\"…\", \"…\"]",
        );
        return None;
    }
    let texts: Vec<&At<String>> =
        if between.is_empty() { vec![first] } else { between.iter().collect() };
    let from: Vec<Option<crate::InputFrom>> =
        texts.iter().map(|text| text.value.strip_prefix("from ").map(parse_input_from)).collect();
    if from.iter().any(Option::is_some) && from.iter().any(Option::is_none) {
        table.problem_at(
            &first.spot,
            "one bound is fixed and the other from the record",
            "write both as \"from …\", a fixed one as \"from = 12 V\"",
        );
        return None;
    }
    let mut from = from.into_iter().flatten();
    if let Some(one) = from.next() {
        let bound_from = match (most.is_some(), from.next()) {
            (true, _) => BoundFrom::AtMost(one),
            (false, None) => BoundFrom::AtLeast(one),
            (false, Some(other)) => BoundFrom::Between(one, other),
        };
        // Stands until the record's own figure replaces it; never judged by itself.
        return Some((Bound::AtMost(Value::new(kind, f64::INFINITY)), Some(bound_from)));
    }
    let values = texts
        .iter()
        .map(|text| {
            parse_value(&text.value, kind)
                .map_err(|error| table.problem_at(&text.spot, error.message, error.hint))
                .ok()
        })
        .collect::<Option<Vec<Value>>>()?;
    Some(match (most.is_some(), values.as_slice()) {
        (true, [most, ..]) => (Bound::AtMost(*most), None),
        (false, [least, most]) if least.base <= most.base => (Bound::Between(*least, *most), None),
        (false, [_, _]) => {
            table.problem_at(
                &first.spot,
                "the lower bound is above the upper",
                "write the lower first",
            );
            return None;
        }
        (false, [least, ..]) => (Bound::AtLeast(*least), None),
        (_, []) => return None,
    })
}

fn choice<T>(
    table: &Table<'_>,
    key: &'static str,
    words: &[&'static str],
    from_word: fn(&str) -> Option<T>,
) -> Option<T> {
    let text = table.required(key)?;
    let found = from_word(&text.value);
    if found.is_none() {
        table.problem_at(
            &text.spot,
            format!("`{}` is no {key}", text.value),
            format!("write one of {}", words.join(", ")),
        );
    }
    found
}

fn section_read(table: &Table<'_>) -> Option<SectionRead> {
    let text = table.required("read")?;
    if text.value == "no" {
        return Some(SectionRead::No);
    }
    let (quoted, day) = match text.value.strip_prefix("quoted ") {
        Some(day) => (true, day),
        None => (false, text.value.as_str()),
    };
    match day.parse::<Date>() {
        Ok(day) if quoted => Some(SectionRead::Quoted(day)),
        Ok(day) => Some(SectionRead::On(day)),
        Err(_) => {
            table.problem_at(
                &text.spot,
                format!("`{}` does not say when the section was read", text.value),
                "write the day, such as \"2026-11-25\", or \"quoted 2026-11-25\", or \"no\"",
            );
            None
        }
    }
}

fn source(table: &Table<'_>, words: &Words, basis: Option<Basis>) -> Option<SourceReference> {
    let key = table.required("source")?;
    let section = table.text_or_empty("section");
    if section.is_empty() && basis != Some(Basis::Practice) {
        table.problem("the limit names no `section`", "write where in the document it stands");
    }
    if !words.sources.iter().any(|source| source.key == key.value) {
        let hint = nearest(&key.value, words.sources.iter().map(|source| source.key.as_str()))
            .map_or_else(
                || "add it to sources.toml".to_owned(),
                |near| format!("write `{near}`, or add it to sources.toml"),
            );
        table.problem_at(&key.spot, format!("no source is called `{}`", key.value), hint);
        return None;
    }
    Some(SourceReference { key: key.value, section, edition: table.text_or_empty("edition") })
}

fn applies(table: &Table<'_>, words: &Words) -> Applies {
    let day = |key: &'static str| {
        let text = table.text(key)?;
        let day = text.value.parse::<Date>().ok();
        if day.is_none() {
            table.problem_at(
                &text.spot,
                format!("`{}` is no day", text.value),
                "write it like 1976-06-15",
            );
        }
        day
    };
    Applies {
        kinds: kinds(table).into_iter().map(|kind| kind.word().to_owned()).collect(),
        built_from: day("built_from"),
        built_before: day("built_before"),
        fitted: equipment(table, "fitted", words),
    }
}

/// `kinds = [...]`.
pub(crate) fn kinds(table: &Table<'_>) -> BTreeSet<DwellingKind> {
    let mut kinds = BTreeSet::new();
    for text in table.texts("kinds") {
        match DwellingKind::from_word(&text.value) {
            Some(kind) => {
                kinds.insert(kind);
            }
            None => table.problem_at(
                &text.spot,
                format!("no kind of unit is called `{}`", text.value),
                format!("write one of {}", DwellingKind::ALL.map(DwellingKind::word).join(", ")),
            ),
        }
    }
    kinds
}

/// A list of equipment words.
pub(crate) fn equipment(table: &Table<'_>, key: &'static str, words: &Words) -> BTreeSet<String> {
    let mut fitted = BTreeSet::new();
    for text in table.texts(key) {
        if !words.equipment.iter().any(|known| known.id == text.value) {
            let hint = nearest(&text.value, words.equipment.iter().map(|known| known.id.as_str()))
                .map_or_else(
                    || "add it to equipment.toml".to_owned(),
                    |near| format!("write `{near}`"),
                );
            table.problem_at(&text.spot, format!("no equipment is called `{}`", text.value), hint);
        }
        fitted.insert(text.value);
    }
    fitted
}

/// A list of uses.
pub(crate) fn uses(table: &Table<'_>, key: &'static str) -> Vec<Use> {
    let mut uses = Vec::new();
    for text in table.texts(key) {
        match Use::from_word(&text.value) {
            Some(one) => uses.push(one),
            None => table.problem_at(
                &text.spot,
                format!("no use is called `{}`", text.value),
                format!("write one of {}", Use::ALL.map(Use::word).join(", ")),
            ),
        }
    }
    uses
}

/// Reads one `[[defect]]`; `names` are what its statement may refer to.
pub(crate) fn read_defect(
    table: Table<'_>,
    seen: &mut BTreeSet<String>,
    names: &[&str],
) -> Option<Defect> {
    let id = table.required("id");
    if let Some(id) = &id {
        check_id(&table, &id.value, seen);
    }
    let title = table.required("title");
    let statement = table.required("statement");
    if let Some(statement) = &statement {
        for name in placeholders(&statement.value) {
            if !names.contains(&name) && !["position", "limit"].contains(&name) {
                let hint = nearest(name, names.iter().copied()).map_or_else(
                    || format!("known: {}", names.join(", ")),
                    |near| format!("write {{{near}}}"),
                );
                table.problem_at(
                    &statement.spot,
                    format!("the statement refers to `{name}`, which is not read here"),
                    hint,
                );
            }
        }
    }
    let stops = uses(&table, "stops");
    let when = choice(&table, "when", &TimeToAct::ALL.map(TimeToAct::words), TimeToAct::from_words);
    let who = table.required("who");
    let stop_work = table.text_or_empty("stop_work");
    table.finish();
    Some(Defect {
        id: id?.value,
        title: title?.value,
        statement: statement?.value,
        stops,
        when: when?,
        who: who?.value,
        stop_work,
    })
}

/// The names in braces in a sentence.
pub(crate) fn placeholders(text: &str) -> Vec<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}').map(|(name, _)| name)).collect()
}
