//! Reading a filled sheet: the job, the unit and the instruments; everything wrong is noted at once.

use std::collections::BTreeSet;

use inspection::{
    Client, Dwelling, DwellingKind, Engagement, Inspection, Instrument, InstrumentId, Job, Outline,
    Site,
};
use jiff::civil::Date;
use plan::{Plan, Problem};
use quantity::{Kind, parse_value};

use super::toml::{At, SheetFile, Table};
use super::{Filled, PhotoShelf, read_findings, read_points};
use crate::commands::near_hint;

/// What a sheet is read against.
pub(crate) struct Against<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) inspection: &'a Inspection,
    pub(crate) photos: &'a PhotoShelf,
}

/// Reads a filled sheet.
///
/// # Errors
/// Every problem in it, by line and column.
pub(crate) fn read(name: &str, text: &str, against: &Against<'_>) -> Result<Filled, Vec<Problem>> {
    let file = SheetFile::parse(name, text).map_err(|problem| vec![problem])?;
    let before = against.inspection;
    let mut filled = Filled {
        job: before.job.clone(),
        dwelling: before.dwelling.clone(),
        instruments: before.instruments.clone(),
        ..Filled::default()
    };
    let root = file.root();
    if let Some(table) = root.table("job") {
        job(&table, &mut filled);
        table.finish();
    }
    if let Some(table) = root.table("dwelling") {
        dwelling(&table, against.plan, &mut filled);
        table.finish();
    }
    if let Some(table) = root.table("instruments") {
        for (id, table) in table.inner_tables() {
            instrument(&id, &table, &mut filled);
            table.finish();
        }
    }
    if let Some(table) = root.table("points") {
        read_points::read(&table, against, &mut filled);
    }
    read_findings::read(&root, against, &mut filled);
    root.finish();
    let problems = file.problems();
    if problems.is_empty() { Ok(filled) } else { Err(problems) }
}

/// Puts a filled text in place; one that was emptied stays, and that is said.
fn put(table: &Table<'_>, key: &str, what: &str, field: &mut String, left: &mut Vec<String>) {
    let Some(text) = table.text(key) else { return };
    if text.value.is_empty() {
        if !field.is_empty() {
            left.push(format!(
                "{what} is empty in the sheet; `{}` stays in the record",
                one_line(field)
            ));
        }
    } else {
        *field = text.value;
    }
}

/// A text on one line, for messages.
pub(crate) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn job(table: &Table<'_>, filled: &mut Filled) {
    let Filled { job, left_alone: left, .. } = filled;
    let Job {
        number: _,
        purpose,
        inspector,
        credentials,
        client: Client { name, contact, role },
        site: Site { address, position, altitude_metres },
        visits,
        weather,
        engagement: Engagement { scope, limits, fee, consent, agreement: _, consents: _ },
        plan: _,
        plan_hash: _,
        earlier: _,
    } = job;
    for (key, what, field) in [
        ("purpose", "the purpose", purpose),
        ("inspector", "the inspector", inspector),
        ("credentials", "the inspector's credentials", credentials),
        ("client", "the client", name),
        ("contact", "the client's contact", contact),
        ("role", "the client's role", role),
        ("site", "the site", address),
        ("weather", "the weather", weather),
        ("scope", "the scope agreed", scope),
        ("limits", "the limits agreed", limits),
        ("fee", "the fee", fee),
        ("consent", "the client's consent", consent),
    ] {
        put(table, key, what, field, left);
    }
    if let Some(text) = table.filled("altitude") {
        match parse_value(&text.value, Kind::Length) {
            Ok(value) => *altitude_metres = Some(value.base),
            Err(error) => table.file.problem(text.spot, error.message, error.hint),
        }
    }
    if let Some(text) = table.filled("position") {
        match degrees(&text.value) {
            Some(pair) => *position = Some(pair),
            None => table.file.problem(
                text.spot,
                format!("`{}` is no position", text.value),
                "write degrees north and east, such as \"44.26, -72.58\"",
            ),
        }
    }
    let days: Vec<Date> =
        table.texts("visits").iter().filter_map(|text| day(table, text, false)).collect();
    if !days.is_empty() {
        *visits = days;
        visits.sort_unstable();
        visits.dedup();
    } else if !visits.is_empty() && table.has("visits") {
        left.push("the visits are empty in the sheet; those of the record stay".to_owned());
    }
}

fn degrees(text: &str) -> Option<(f64, f64)> {
    let (north, east) = text.split_once(',')?;
    let (north, east): (f64, f64) = (north.trim().parse().ok()?, east.trim().parse().ok()?);
    ((-90.0..=90.0).contains(&north) && (-180.0..=180.0).contains(&east)).then_some((north, east))
}

/// A day; where months are accepted, the first day of the month.
fn day(table: &Table<'_>, text: &At<String>, months: bool) -> Option<Date> {
    match formulas::CalendarDate::parse(&text.value) {
        Ok(date) if months || date.first == date.last => Some(date.first),
        Ok(_) => {
            let message = format!("`{}` is a month, and a day is wanted", text.value);
            table.file.problem(text.spot, message, "write it like 2026-11-25");
            None
        }
        Err(sentence) => {
            table.file.problem(text.spot, sentence, "");
            None
        }
    }
}

fn dwelling(table: &Table<'_>, plan: &Plan, filled: &mut Filled) {
    let Filled { dwelling, left_alone: left, .. } = filled;
    let Dwelling {
        kind,
        maker,
        model,
        model_year,
        built,
        identification,
        equipment,
        ratings,
        outline: Outline { length, width, door_side, axles },
    } = dwelling;
    if let Some(text) = table.filled("kind") {
        match DwellingKind::from_word(&text.value) {
            Some(known) => *kind = known,
            None => table.file.problem(
                text.spot,
                format!("no kind of unit is called `{}`", text.value),
                near_hint(&text.value, DwellingKind::ALL.map(DwellingKind::word)),
            ),
        }
    }
    put(table, "maker", "the maker", maker, left);
    put(table, "model", "the model", model, left);
    put(table, "identification", "the identification number", identification, left);
    if let Some(year) = table.number("model_year", "2019") {
        *model_year = Some(year);
    }
    if let Some(date) = table.filled("built").and_then(|text| day(table, &text, true)) {
        *built = Some(date);
    }
    let words = table.texts("equipment");
    for word in &words {
        // A word that an earlier version of the data knew stays.
        let known = plan.equipment.iter().any(|known| known.id == word.value);
        if !known && !equipment.contains(&word.value) {
            table.file.problem(
                word.spot,
                format!("no equipment is called `{}`", word.value),
                near_hint(&word.value, plan.equipment.iter().map(|known| known.id.as_str())),
            );
        }
    }
    let listed: BTreeSet<String> = words.into_iter().map(|word| word.value).collect();
    if !listed.is_empty() {
        *equipment = listed;
    } else if table.has("equipment") && !equipment.is_empty() {
        left.push("the equipment is empty in the sheet; the record's list stays".to_owned());
    }
    if let Some(inner) = table.table("ratings") {
        for entry in inner.entries() {
            if entry.position.is_some() {
                let message = format!("the rating `{}` has an inner name", entry.name);
                table.file.problem(entry.key, message, "write gross_rating = \"7600 lb\"");
            } else if !entry.text.value.is_empty() {
                ratings.insert(entry.name, entry.text.value);
            } else if let Some(kept) = ratings.get(&entry.name) {
                left.push(format!(
                    "the rating {} is empty in the sheet; `{kept}` stays in the record",
                    entry.name
                ));
            }
        }
    }
    if let Some(inner) = table.table("outline") {
        for (key, what, field) in [("length", "the length", length), ("width", "the width", width)]
        {
            if let Some(text) = inner.filled(key) {
                match parse_value(&text.value, Kind::Length) {
                    Ok(_) => *field = text.value,
                    Err(error) => inner.file.problem(text.spot, error.message, error.hint),
                }
            } else if !field.is_empty() && inner.has(key) {
                left.push(format!("{what} is empty in the sheet; `{field}` stays in the record"));
            }
        }
        if let Some(text) = inner.filled("door_side") {
            if ["left", "right"].contains(&text.value.as_str()) {
                *door_side = text.value;
            } else {
                let message = format!("`{}` is no side", text.value);
                let hint = "write \"left\" or \"right\", facing the direction of travel";
                inner.file.problem(text.spot, message, hint);
            }
        }
        if let Some(number) = inner.number("axles", "2") {
            *axles = number;
        }
        inner.finish();
    }
}

fn instrument(id: &str, table: &Table<'_>, filled: &mut Filled) {
    let known = filled.instruments.get(id).cloned();
    let mut instrument = known.unwrap_or_default();
    let left = &mut filled.left_alone;
    let Instrument {
        kind,
        name,
        serial,
        percent_of_reading,
        counts,
        resolution,
        calibrated,
        calibration_due,
    } = &mut instrument;
    for (key, field) in
        [("kind", kind), ("name", name), ("serial", serial), ("resolution", resolution)]
    {
        put(table, key, &format!("{key} of the instrument {id}"), field, left);
    }
    for (key, field) in [("percent_of_reading", percent_of_reading), ("counts", counts)] {
        let Some(text) = table.filled(key) else { continue };
        match text.value.trim_end_matches('%').trim().parse::<f64>() {
            Ok(number) if number.is_finite() && number >= 0.0 => *field = number,
            _ => table.file.problem(
                text.spot,
                format!("`{key}` is `{}`, which it cannot be", text.value),
                format!("write a number from 0, such as {key} = 0.5"),
            ),
        }
    }
    for (key, field) in [("calibrated", calibrated), ("calibration_due", calibration_due)] {
        if let Some(date) = table.filled(key).and_then(|text| day(table, &text, true)) {
            *field = Some(date);
        }
    }
    filled.instruments.insert(InstrumentId::from(id), instrument);
}
