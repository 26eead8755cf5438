//! `[[derive]]`: what a formula computes from readings.

use std::collections::{BTreeMap, BTreeSet};

use formulas::{Form, Formula};
use quantity::{Unit, units};

use super::table::At;
use super::{Spot, Table, nearest, parse_input_from, words::check_id};
use crate::{Derivation, InputFrom};

/// A derivation with the places of its inputs, for checks that need the whole library.
pub(crate) struct PlacedDerivation {
    pub derivation: Derivation,
    pub spot: Spot,
    pub inputs: BTreeMap<String, Spot>,
}

/// Reads one `[[derive]]`.
pub(crate) fn read(table: Table<'_>, seen: &mut BTreeSet<String>) -> Option<PlacedDerivation> {
    let id = table.required("id");
    let title = table.required("title");
    let name = table.required("formula");
    let part = table.text("part");
    let unit = table.text("unit");
    let from = table.table("from");
    if let Some(id) = &id {
        check_id(&table, &id.value, seen);
    }
    let formula = name.as_ref().and_then(|name| find(&table, name));
    let mut inputs = BTreeMap::new();
    let mut sources = BTreeMap::new();
    if let Some(from) = from {
        for (input, text) in from.free_texts() {
            if let Some(formula) = formula {
                check_input(&table, formula, &input, &text);
            }
            sources.insert(input.clone(), parse_input_from(&text.value));
            inputs.insert(input, text.spot);
        }
    } else {
        table.problem("no `from`", "write from = { input = \"reading\" }");
    }
    let unit = formula.and_then(|formula| {
        check_required(&table, formula, &sources);
        unit_of(&table, formula, part.as_ref(), unit.as_ref())
    });
    let spot = table.spot();
    table.finish();
    let derivation = Derivation {
        id: id?.value,
        title: title?.value,
        formula: name?.value,
        part: part.map_or_else(String::new, |part| part.value),
        from: sources,
        unit,
    };
    Some(PlacedDerivation { derivation, spot, inputs })
}

fn find(table: &Table<'_>, name: &At<String>) -> Option<&'static Formula> {
    let formula = formulas::find(&name.value);
    if formula.is_none() {
        let names: Vec<&str> = formulas::all().map(|formula| formula.name).collect();
        let hint = nearest(&name.value, names).map_or_else(
            || "`nearside formula --list` lists them".to_owned(),
            |near| format!("write `{near}`"),
        );
        table.problem_at(&name.spot, format!("no formula is called `{}`", name.value), hint);
    }
    formula
}

fn check_input(table: &Table<'_>, formula: &Formula, input: &str, text: &At<String>) {
    if let Some(input) = formula.input(input) {
        if let InputFrom::Fixed(fixed) = parse_input_from(&text.value)
            && let Err(problem) = formulas::Arguments::default().read_one(input, &fixed)
        {
            table.problem_at(&text.spot, problem.to_string(), "");
        }
        return;
    }
    let names: Vec<&str> = formula.inputs.iter().map(|input| input.name).collect();
    let hint = format!("it takes {}", names.join(", "));
    table.problem_at(&text.spot, format!("{} has no input `{input}`", formula.name), hint);
}

fn check_required(table: &Table<'_>, formula: &Formula, from: &BTreeMap<String, InputFrom>) {
    for input in formula.inputs.iter().filter(|input| input.required) {
        if !from.contains_key(input.name) {
            table
                .problem(format!("{} needs the input `{}`", formula.name, input.name), input.about);
        }
    }
}

/// The unit that the value is written in: the stated one, or the formula's own.
fn unit_of(
    table: &Table<'_>,
    formula: &Formula,
    part: Option<&At<String>>,
    unit: Option<&At<String>>,
) -> Option<&'static Unit> {
    let gives = match part {
        None => &formula.result,
        Some(part) => match formula.parts.iter().find(|gives| gives.name == part.value) {
            Some(gives) => gives,
            None => {
                let names: Vec<&str> = formula.parts.iter().map(|gives| gives.name).collect();
                let hint = format!("parts: {}", names.join(", "));
                table.problem_at(
                    &part.spot,
                    format!("{} has no part `{}`", formula.name, part.value),
                    hint,
                );
                return None;
            }
        },
    };
    let own = match gives.form {
        Form::Quantity(own) | Form::QuantityOrWords(own) => own,
        // The input's kind is the result's: its unit is stated, or none is known.
        Form::LikeInput(_) => return unit.and_then(|unit| units::find(&unit.value)),
        Form::Words => {
            if let Some(unit) = unit {
                table.problem_at(&unit.spot, "words have no unit", "leave `unit` out");
            }
            return None;
        }
    };
    let own = units::find(own)?;
    let Some(unit) = unit else { return Some(own) };
    let found = units::find_of(own.kind, &unit.value);
    if found.is_none() {
        table.problem_at(
            &unit.spot,
            super::reading::no_unit(own.kind, &unit.value),
            super::reading::unit_hint(own.kind),
        );
    }
    found
}
