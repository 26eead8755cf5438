//! Reading the points of a filled sheet: readings, defects, what became of each, photos.

use std::collections::{BTreeMap, BTreeSet};

use inspection::{InstrumentId, Moment, PointId};
use plan::{Plan, Point, Positions, ReadingForm};

use super::read::Against;
use super::toml::{At, Entry, Spot, Table};
use super::{Filled, FilledPoint, FilledReading, FilledWait, NamedPhoto};
use crate::commands::near_hint;
use crate::today::moment_on;

pub(crate) fn read(table: &Table<'_>, against: &Against<'_>, filled: &mut Filled) {
    let mut placed: BTreeMap<String, String> = BTreeMap::new();
    for (id, inner) in table.inner_tables() {
        let Some(point) = against.plan.point(&id) else {
            let (message, hint) = unknown_point(against.plan, &id);
            table.file.problem(inner.spot(), message, hint);
            continue;
        };
        let Some(read) = read_one(&inner, point, against, filled) else { continue };
        inner.finish();
        for photo in &read.photos {
            if let Some(other) = placed.insert(photo.name.clone(), id.clone()) {
                table.file.problem(
                    table.spot(),
                    format!("the photo {} is named at {other} and at {id}", photo.name),
                    "name it at one point",
                );
            }
        }
        filled.points.push(read);
    }
}

/// The sentence and the hint for a point that the plan does not have.
pub(crate) fn unknown_point(plan: &Plan, id: &str) -> (String, String) {
    let hint = near_hint(id, plan.points.iter().map(|point| point.id.as_str()));
    (format!("the plan has no point `{id}`"), hint)
}

fn read_one(
    table: &Table<'_>,
    point: &Point,
    against: &Against<'_>,
    filled: &mut Filled,
) -> Option<FilledPoint> {
    let at = table.filled("at").and_then(|text| time(table, &text, filled));
    let with = With::read(table, point, filled);
    let read = FilledPoint {
        id: PointId::from(point.id.as_str()),
        title: point.title.clone(),
        readings: readings(table, point, &with, against, filled),
        found: found(table, point),
        examined: table.flag("examined"),
        not_examined: table.filled("not_examined").map_or_else(String::new, |text| text.value),
        not_fitted: table.flag("not_fitted"),
        notes: table.filled("notes").map_or_else(String::new, |text| text.value),
        photos: photos(table, against),
        at,
        wait: wait(table, point, filled),
    };
    let said = !read.readings.is_empty()
        || !read.found.is_empty()
        || read.examined
        || !read.not_examined.is_empty()
        || read.not_fitted
        || !read.notes.is_empty()
        || !read.photos.is_empty();
    if !said {
        return Some(read);
    }
    let dwelling = &filled.dwelling;
    if !point.exists_on(dwelling.kind, &dwelling.equipment) {
        table.file.problem(
            table.spot(),
            format!("{} does not belong to this unit by its kind and equipment", point.title),
            missing_equipment(point, filled),
        );
    }
    contradictions(table, &read, against);
    Some(read)
}

/// When the point's wait was started and ended.
fn wait(table: &Table<'_>, point: &Point, filled: &Filled) -> Option<FilledWait> {
    let (started, ended) = (table.filled("started"), table.filled("ended"));
    let first = started.as_ref().or(ended.as_ref())?;
    if point.wait.is_none() {
        let message = format!("nothing runs unattended at {}", point.title);
        table.file.problem(first.spot, message, "write the time of the point as `at`");
        return None;
    }
    let Some(started) = started else {
        let message = format!("the wait at {} has an end and no start", point.title);
        table.file.problem(first.spot, message, "write when it began as `started`");
        return None;
    };
    let from = time(table, &started, filled)?;
    let to = match &ended {
        None => None,
        Some(text) => Some(time(table, text, filled)?),
    };
    if let (Some(to), Some(text)) = (to, &ended)
        && to.local < from.local
    {
        let message = format!("the wait at {} ends before it starts", point.title);
        table.file.problem(text.spot, message, "correct `started` or `ended`");
        return None;
    }
    Some(FilledWait { started: from, ended: to })
}

fn missing_equipment(point: &Point, filled: &Filled) -> String {
    let lacking: Vec<&str> =
        point.fitted.difference(&filled.dwelling.equipment).map(String::as_str).collect();
    if lacking.is_empty() {
        "correct kind and equipment under [dwelling], or empty this point".to_owned()
    } else {
        format!("add {} to the equipment under [dwelling], or empty this point", lacking.join(", "))
    }
}

fn contradictions(table: &Table<'_>, read: &FilledPoint, against: &Against<'_>) {
    let spot = table.spot();
    let evidence = !read.readings.is_empty() || !read.found.is_empty();
    if read.examined && !read.not_examined.is_empty() {
        let message = format!("{} is said to be examined and not examined", read.title);
        table.file.problem(spot, message, "keep one of `examined` and `not_examined`");
    }
    if read.not_fitted && (read.examined || !read.not_examined.is_empty() || evidence) {
        let message =
            format!("{} is said not to be fitted, and there is more about it", read.title);
        table.file.problem(spot, message, "write not_fitted = false, or empty the rest");
    }
    let settled = read.examined || read.not_fitted || evidence || !read.not_examined.is_empty();
    if !read.notes.is_empty() && !settled && !against.inspection.points.contains_key(&read.id) {
        let message = format!("{} has notes, and nothing says what became of it", read.title);
        table.file.problem(spot, message, "write examined = true, or say why not in not_examined");
    }
}

fn time(table: &Table<'_>, text: &At<String>, filled: &Filled) -> Option<Moment> {
    moment_on(filled.job.visits.last().copied(), &text.value)
        .map_err(|sentence| table.file.problem(text.spot, sentence, ""))
        .ok()
}

/// The instruments of a point: one for all its readings, or by the readings' names.
struct With {
    all: Option<InstrumentId>,
    each: BTreeMap<String, InstrumentId>,
}

impl With {
    fn read(table: &Table<'_>, point: &Point, filled: &Filled) -> Self {
        let mut with = Self { all: None, each: BTreeMap::new() };
        if !table.is_table("with") {
            with.all = table.filled("with").and_then(|text| instrument(table, &text, filled));
            return with;
        }
        let Some(inner) = table.table("with") else { return with };
        for entry in inner.entries() {
            let measured = point
                .reading(&entry.name)
                .is_some_and(|reading| matches!(reading.form, ReadingForm::Quantity { .. }));
            if !measured || entry.position.is_some() {
                let message = format!("{} measures no `{}`", point.title, entry.name);
                let quantities = point
                    .readings
                    .iter()
                    .filter(|reading| matches!(reading.form, ReadingForm::Quantity { .. }));
                let hint = near_hint(&entry.name, quantities.map(|reading| reading.id.as_str()));
                inner.file.problem(entry.key, message, hint);
            } else if !entry.text.value.is_empty()
                && let Some(id) = instrument(&inner, &entry.text, filled)
            {
                with.each.insert(entry.name, id);
            }
        }
        with
    }

    fn of(&self, reading: &str) -> Option<&InstrumentId> {
        self.each.get(reading).or(self.all.as_ref())
    }
}

fn instrument(table: &Table<'_>, text: &At<String>, filled: &Filled) -> Option<InstrumentId> {
    if filled.instruments.contains_key(text.value.as_str()) {
        return Some(InstrumentId::from(text.value.as_str()));
    }
    let known: Vec<&str> = filled.instruments.keys().map(InstrumentId::as_str).collect();
    let hint = if known.is_empty() {
        format!("describe it under [instruments.{}]", text.value)
    } else {
        near_hint(&text.value, known)
    };
    table.file.problem(text.spot, format!("no instrument is called `{}`", text.value), hint);
    None
}

fn readings(
    table: &Table<'_>,
    point: &Point,
    with: &With,
    against: &Against<'_>,
    filled: &mut Filled,
) -> Vec<FilledReading> {
    let Some(inner) = table.table("readings") else { return Vec::new() };
    let mut readings: Vec<FilledReading> = Vec::new();
    for entry in inner.entries() {
        let Some(plan) = point.reading(&entry.name) else {
            let names = point.readings.iter().map(|reading| reading.id.as_str());
            inner.file.problem(
                entry.key,
                format!("{} has no reading `{}`", point.title, entry.name),
                near_hint(&entry.name, names),
            );
            continue;
        };
        let position = entry.position.clone().unwrap_or_default();
        if entry.text.value.is_empty() {
            let recorded = crate::counting::counting(against.inspection, &point.id, &plan.id);
            if let Some((_, reading)) =
                recorded.into_iter().find(|(_, reading)| reading.position == position)
            {
                filled.left_alone.push(format!(
                    "{}, {}{} is empty in the sheet; `{}` stays in the record",
                    point.title,
                    plan.title,
                    crate::counting::at_position(&position),
                    reading.entry
                ));
            }
            continue;
        }
        if let Err((message, hint)) = check_position(&plan.positions, &entry) {
            inner.file.problem(entry.key, message, hint);
            continue;
        }
        if let Err(sentence) = plan.read(&entry.text.value) {
            inner.file.problem(entry.text.spot, sentence, "");
            continue;
        }
        // An instrument's accuracy bears on quantities only, not on what a plate or a person says.
        let measured = matches!(plan.form, ReadingForm::Quantity { .. });
        readings.push(FilledReading {
            instrument: with.of(&entry.name).filter(|_| measured).cloned(),
            name: entry.name,
            position,
            entry: entry.text.value,
        });
    }
    readings
}

fn check_position(positions: &Positions, entry: &Entry) -> Result<(), (String, String)> {
    let name = &entry.name;
    match (positions, &entry.position) {
        (Positions::One, None) => Ok(()),
        (Positions::One, Some(_)) => Err((
            format!("`{name}` is read in one place only"),
            format!("write readings.{name} = \"…\""),
        )),
        (Positions::Named(names), None) => Err((
            format!("`{name}` is read at several positions, and none is named"),
            format!("write readings.{name}.{} = \"…\"", names.first().map_or("…", String::as_str)),
        )),
        (Positions::Named(names), Some(position)) if names.contains(position) => Ok(()),
        (Positions::Named(names), Some(position)) => Err((
            format!("`{name}` has no position `{position}`"),
            near_hint(position, names.iter().map(String::as_str)),
        )),
        (Positions::Any, None) => Err((
            format!("`{name}` is read at several positions, and none is named"),
            format!("write readings.{name}.\"where\" = \"…\", one line a place"),
        )),
        (Positions::Any, Some(position)) if position.trim().is_empty() => {
            Err((format!("a position of `{name}` has no name"), "name the place".to_owned()))
        }
        (Positions::Any, Some(_)) => Ok(()),
    }
}

/// The positions that a point's readings name; none where people name their own.
pub(crate) fn named_positions(point: &Point) -> Option<BTreeSet<&str>> {
    let mut names = BTreeSet::new();
    for reading in &point.readings {
        match &reading.positions {
            Positions::One => {}
            Positions::Named(named) => names.extend(named.iter().map(String::as_str)),
            Positions::Any => return None,
        }
    }
    (!names.is_empty()).then_some(names)
}

fn found(table: &Table<'_>, point: &Point) -> Vec<(String, Vec<String>)> {
    let mut found = Vec::new();
    for text in table.texts("found") {
        match defect(point, &text.value) {
            Ok((id, position)) => add_defect(&mut found, &id, &position),
            Err((message, hint)) => table.file.problem(text.spot, message, hint),
        }
    }
    found
}

/// Adds a defect at a position, empty where there is none.
pub(crate) fn add_defect(found: &mut Vec<(String, Vec<String>)>, id: &str, position: &str) {
    let at = found.iter().position(|(seen, _)| seen == id).unwrap_or_else(|| {
        found.push((id.to_owned(), Vec::new()));
        found.len() - 1
    });
    let positions = &mut found[at].1;
    if !position.is_empty() && !positions.iter().any(|seen| seen == position) {
        positions.push(position.to_owned());
    }
}

/// `cracked` or `cracked@left_front` as a defect of the point and where it was seen.
pub(crate) fn defect(point: &Point, text: &str) -> Result<(String, String), (String, String)> {
    let (id, position) = text.split_once('@').unwrap_or((text, ""));
    let (id, position) = (id.trim(), position.trim());
    if point.defect(id).is_none() {
        let hint = near_hint(id, point.defects.iter().map(|defect| defect.id.as_str()));
        return Err((format!("{} has no defect `{id}` in its list", point.title), hint));
    }
    if let Some(names) = named_positions(point)
        && !position.is_empty()
        && !names.contains(position)
    {
        let hint = near_hint(position, names);
        return Err((format!("{} has no position `{position}`", point.title), hint));
    }
    Ok((id.to_owned(), position.to_owned()))
}

/// Photos as `NAME` or `NAME: caption`.
pub(crate) fn photos(table: &Table<'_>, against: &Against<'_>) -> Vec<NamedPhoto> {
    let mut photos: Vec<NamedPhoto> = Vec::new();
    for text in table.texts("photos") {
        let (name, caption) = match text.value.split_once(": ") {
            Some((name, caption)) => (name.trim(), Some(caption.trim().to_owned())),
            None => (text.value.trim_end_matches(':').trim(), None),
        };
        match against.photos.find(name) {
            Ok(name) if photos.iter().any(|photo| photo.name == name) => {
                problem(table, text.spot, &format!("the photo {name} is named twice here"));
            }
            Ok(name) => {
                photos.push(NamedPhoto { name, caption: caption.filter(|it| !it.is_empty()) });
            }
            Err(hint) => {
                table.file.problem(text.spot, format!("there is no photo `{name}`"), hint);
            }
        }
    }
    photos
}

fn problem(table: &Table<'_>, spot: Spot, message: &str) {
    table.file.problem(spot, message, "name it once");
}
