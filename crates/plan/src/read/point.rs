//! One point file.

use std::collections::BTreeSet;

use quantity::Kind;

use super::derivation::{self, PlacedDerivation};
use super::limits::{self, PlacedLimit};
use super::words::id_of_file;
use super::{Spot, Table, TomlFile, Words, example, nearest, reading};
use crate::{HalfMinutes, PlannedWait, Point, Problem, ReadingForm};

/// A point with the places that checks over the whole library need.
pub(crate) struct PlacedPoint {
    pub point: Point,
    pub spot: Spot,
    pub derived: Vec<(Spot, std::collections::BTreeMap<String, Spot>)>,
    pub after: Vec<(String, Spot)>,
}

/// Systems and stops where work can hurt: their points need a caution.
const CAUTIOUS_SYSTEMS: [&str; 2] = ["gas", "mains"];
const CAUTIOUS_STOPS: [&str; 5] = ["roof", "underneath", "gas_locker", "power_panel", "wheels"];

/// Reads one file of `points/<system>/<id>.toml`.
pub(crate) fn read_point(
    path: &str,
    text: &str,
    words: &Words,
    problems: &mut Vec<Problem>,
) -> Option<PlacedPoint> {
    let file = TomlFile::open(path, text, problems)?;
    let root = file.root();
    let point = read(&root, path, words);
    root.finish();
    problems.extend(file.problems());
    point
}

fn read(root: &Table<'_>, path: &str, words: &Words) -> Option<PlacedPoint> {
    let system = path.trim_start_matches("points/").split('/').next().unwrap_or("");
    let hint = "the file's name is the point's id, its folder the system";
    let id = id_of_file(root, path, hint);
    let title = root.required("title");
    let stop = root.required("stop");
    if let Some(stop) = &stop
        && !words.stops.iter().any(|known| known.id == stop.value)
    {
        let hint = nearest(&stop.value, words.stops.iter().map(|known| known.id.as_str()))
            .map_or_else(|| "stops.toml lists them".to_owned(), |near| format!("write `{near}`"));
        root.problem_at(&stop.spot, format!("no stop is called `{}`", stop.value), hint);
    }
    let list = |key| root.texts(key).into_iter().map(|text| text.value).collect::<Vec<_>>();
    let (look, operate, measure) = (list("look"), list("operate"), list("measure"));
    if look.is_empty() && operate.is_empty() && measure.is_empty() {
        root.problem("there is nothing to do", "write look, operate or measure");
    }
    let minutes = root.half_minutes("minutes").map(|minutes| minutes.value);
    let wait = wait(root);
    match minutes {
        None | Some(HalfMinutes(0)) => {
            root.problem("the point takes no time", "write minutes = 3, or 0.5 for one look");
        }
        Some(HalfMinutes(1)) if wait.is_some() => root.problem(
            "half a minute is too short for one act before the wait and one after it",
            "write minutes = 1, or more",
        ),
        Some(_) => {}
    }
    let caution = root.text_or_empty("caution");
    let stop_id = stop.as_ref().map_or("", |stop| stop.value.as_str());
    if caution.is_empty()
        && (CAUTIOUS_SYSTEMS.contains(&system) || CAUTIOUS_STOPS.contains(&stop_id))
    {
        root.problem(
            "work here can hurt, and there is no `caution`",
            "say what can hurt and what to do about it, before the acts",
        );
    }
    let after: Vec<(String, Spot)> =
        root.texts("after").into_iter().map(|text| (text.value, text.spot)).collect();
    let needs = needs(root, words);
    let mut seen = BTreeSet::new();
    let readings: Vec<_> = root
        .tables("reading")
        .into_iter()
        .filter_map(|table| reading::read(table, &mut seen))
        .collect();
    let derived: Vec<PlacedDerivation> = root
        .tables("derive")
        .into_iter()
        .filter_map(|table| derivation::read(table, &mut seen))
        .collect();
    let mut point = Point {
        id: id.as_ref().map_or_else(String::new, |id| id.value.clone()),
        system: system.to_owned(),
        title: title.as_ref().map_or_else(String::new, |title| title.value.clone()),
        stop: stop_id.to_owned(),
        caution,
        look,
        operate,
        measure,
        minutes: minutes.unwrap_or_default(),
        wait,
        after: after.iter().map(|(id, _)| id.clone()).collect(),
        needs,
        essential: limits::uses(root, "essential"),
        kinds: limits::kinds(root),
        fitted: limits::equipment(root, "fitted", words),
        not_fitted: limits::equipment(root, "not_fitted", words),
        photo: root.text_or_empty("photo"),
        readings,
        derived: derived.iter().map(|placed| placed.derivation.clone()).collect(),
        limits: Vec::new(),
        defects: Vec::new(),
        examples: Vec::new(),
        file: path.to_owned(),
    };
    limits_and_defects(root, &mut point, words);
    for table in root.tables("example") {
        let example = example::read(table, &point);
        point.examples.push(example);
    }
    if point.examples.is_empty() {
        root.problem(
            "the point has no [[example]]",
            "write one: what is given or found, and what follows",
        );
    }
    let (_, _, _) = (id?, title?, stop?);
    Some(PlacedPoint {
        point,
        spot: root.spot(),
        derived: derived.into_iter().map(|placed| (placed.spot, placed.inputs)).collect(),
        after,
    })
}

fn limits_and_defects(root: &Table<'_>, point: &mut Point, words: &Words) {
    let names: Vec<String> = point
        .readings
        .iter()
        .map(|reading| reading.id.clone())
        .chain(point.derived.iter().map(|derived| derived.id.clone()))
        .collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let mut seen = BTreeSet::new();
    let limits: Vec<PlacedLimit> = root
        .tables("limit")
        .into_iter()
        .filter_map(|table| {
            limits::read_limit(table, words, &mut seen, &|on| kind_of(point, &names, on))
        })
        .collect();
    let mut seen = BTreeSet::new();
    let defects: Vec<_> = root
        .tables("defect")
        .into_iter()
        .filter_map(|table| limits::read_defect(table, &mut seen, &names))
        .collect();
    for placed in &limits {
        let id = &placed.planned.defect;
        if !id.is_empty() && !defects.iter().any(|defect| defect.id == *id) {
            let hint = nearest(id, defects.iter().map(|defect| defect.id.as_str())).map_or_else(
                || "add a [[defect]] with this id".to_owned(),
                |near| format!("write `{near}`"),
            );
            let spot = placed.defect.as_ref().unwrap_or(&placed.spot);
            root.problem_at(spot, format!("no defect is called `{id}`"), hint);
        }
    }
    point.limits = limits.into_iter().map(|placed| placed.planned).collect();
    point.defects = defects;
}

/// The kind of a value of the point; none for words.
fn kind_of(point: &Point, names: &[&str], name: &str) -> Result<Option<Kind>, String> {
    if let Some(reading) = point.reading(name) {
        return Ok(match reading.form {
            ReadingForm::Quantity { kind, .. } => Some(kind),
            ReadingForm::Choice(_) | ReadingForm::Date | ReadingForm::Text => None,
        });
    }
    match point.derived.iter().find(|derived| derived.id == name) {
        Some(derived) => Ok(derived.unit.map(|unit| unit.kind)),
        None => Err(nearest(name, names.iter().copied()).map_or_else(
            || format!("known: {}", names.join(", ")),
            |near| format!("write `{near}`"),
        )),
    }
}

fn needs(root: &Table<'_>, words: &Words) -> Vec<String> {
    let mut needs = Vec::new();
    for text in root.texts("needs") {
        if !words.site_states.iter().any(|known| known.id == text.value) {
            let hint =
                nearest(&text.value, words.site_states.iter().map(|known| known.id.as_str()))
                    .map_or_else(
                        || "site_states.toml lists them".to_owned(),
                        |near| format!("write `{near}`"),
                    );
            root.problem_at(&text.spot, format!("no site state is called `{}`", text.value), hint);
        }
        needs.push(text.value);
    }
    needs
}

fn wait(root: &Table<'_>) -> Option<PlannedWait> {
    let table = root.table("wait")?;
    let minutes = table.count("minutes");
    if minutes.is_none() {
        table.problem("the wait has no `minutes`", "write minutes = 10");
    }
    let at_most = table.count("at_most").map(|most| most.value);
    let what = table.required("what");
    let untouched = table.texts("untouched").into_iter().map(|text| text.value).collect();
    table.finish();
    Some(PlannedWait { minutes: minutes?.value, at_most, what: what?.value, untouched })
}
