//! The files of words: stops, equipment, site states, sources.

use std::collections::{BTreeMap, BTreeSet};

use inspection::DwellingKind;

use super::table::At;
use super::{Table, TomlFile};
use crate::{Files, Named, Problem, SourceDocument, Stop, StopSide};

/// What units of a kind usually have.
pub(crate) type Typical = BTreeMap<DwellingKind, BTreeSet<String>>;

/// Words that points may use.
#[derive(Debug, Default)]
pub(crate) struct Words {
    pub stops: Vec<Stop>,
    pub equipment: Vec<Named>,
    pub typical: Typical,
    pub site_states: Vec<Named>,
    pub sources: Vec<SourceDocument>,
}

/// The word nearest to a misspelt one, if one is near.
pub(crate) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    known
        .into_iter()
        .map(|candidate| (strsim::levenshtein(word, candidate), candidate))
        .filter(|(steps, candidate)| *steps <= (candidate.len().max(3)) / 3)
        .min()
        .map(|(_, candidate)| candidate)
}

fn open(files: &Files, path: &str, problems: &mut Vec<Problem>) -> Option<TomlFile> {
    let Some(text) = files.text(path) else {
        problems.push(Problem {
            file: path.to_owned(),
            line: 1,
            column: 1,
            message: "the file is missing".to_owned(),
            hint: "see data/README.md for what it holds".to_owned(),
        });
        return None;
    };
    TomlFile::parse(path, text).map_err(|problem| problems.push(problem)).ok()
}

/// Notes an id that is there twice, or not made of small letters, digits and underscores.
pub(crate) fn check_id(table: &Table<'_>, id: &str, seen: &mut BTreeSet<String>) {
    if !id.bytes().all(|byte| matches!(byte, b'a'..=b'z' | b'0'..=b'9' | b'_' | b'-')) {
        table.problem(format!("`{id}` is no id"), "use small letters, digits and underscores");
    }
    if !seen.insert(id.to_owned()) {
        table.problem(format!("`{id}` is there twice"), "ids are given once");
    }
}

/// The id of a file that is named by it; a file with another name is noted, with `hint`.
pub(crate) fn id_of_file(root: &Table<'_>, path: &str, hint: &str) -> Option<At<String>> {
    let id = root.required("id")?;
    let name = path.rsplit('/').next().unwrap_or(path);
    if name.strip_suffix(".toml") != Some(&id.value) {
        root.problem_at(&id.spot, format!("the file is not called `{}.toml`", id.value), hint);
    }
    Some(id)
}

/// Reads `stops.toml`.
pub(crate) fn read_stops(files: &Files, problems: &mut Vec<Problem>) -> Vec<Stop> {
    let Some(file) = open(files, "stops.toml", problems) else { return Vec::new() };
    let root = file.root();
    let mut stops = Vec::new();
    let mut seen = BTreeSet::new();
    for table in root.tables("stop") {
        let (id, title) = (table.required("id"), table.required("title"));
        let (along, across) = (table.number("along"), table.number("across"));
        if along.is_none() || across.is_none() {
            table.problem("the stop has no place", "write along = 0.5 and across = 0.5");
        }
        let (side, height) = (side(&table), height(&table));
        if let (Some(id), Some(title), Some(along), Some(across)) = (id, title, along, across) {
            check_id(&table, &id.value, &mut seen);
            stops.push(Stop {
                id: id.value,
                title: title.value,
                place: (along.value, across.value),
                side,
                height,
            });
        }
        table.finish();
    }
    root.finish();
    problems.extend(file.problems());
    stops
}

fn side(table: &Table<'_>) -> Option<StopSide> {
    let word = table.text("side")?;
    let side = StopSide::ALL.into_iter().find(|side| side.word() == word.value);
    if side.is_none() {
        let known = StopSide::ALL.map(StopSide::word).join(", ");
        table.problem_at(
            &word.spot,
            format!("no side is called `{}`", word.value),
            format!("known: {known}"),
        );
    }
    side
}

/// Half way up where nothing is said.
fn height(table: &Table<'_>) -> f64 {
    let Some(height) = table.number("height") else { return 0.5 };
    if !(0.0..=1.0).contains(&height.value) {
        let message = format!("the height {} is not on the body", height.value);
        table.problem_at(&height.spot, message, "write 0 for the floor, 1 for the roof");
        return 0.5;
    }
    height.value
}

/// Reads a file of words: one table of ids and what people read for them.
pub(crate) fn read_words(
    files: &Files,
    path: &str,
    key: &'static str,
    problems: &mut Vec<Problem>,
) -> Vec<Named> {
    let Some(file) = open(files, path, problems) else { return Vec::new() };
    let root = file.root();
    let words = words_of(&root, key);
    root.finish();
    problems.extend(file.problems());
    words
}

fn words_of(root: &Table<'_>, key: &'static str) -> Vec<Named> {
    let mut words = Vec::new();
    let mut seen = BTreeSet::new();
    if let Some(table) = root.table(key) {
        for (id, title) in table.free_texts() {
            check_id(&table, &id, &mut seen);
            words.push(Named { id, title: title.value });
        }
    } else {
        root.problem(format!("no [{key}]"), "");
    }
    words
}

/// Reads `equipment.toml`: the words, and which of them a kind of unit usually has.
pub(crate) fn read_equipment(files: &Files, problems: &mut Vec<Problem>) -> (Vec<Named>, Typical) {
    let Some(file) = open(files, "equipment.toml", problems) else { return Default::default() };
    let root = file.root();
    let words = words_of(&root, "equipment");
    let mut typical = Typical::new();
    if let Some(table) = root.table("typical") {
        for kind in DwellingKind::ALL {
            let mut usual = BTreeSet::new();
            for word in table.texts(kind.word()) {
                if !words.iter().any(|known| known.id == word.value) {
                    let near = nearest(&word.value, words.iter().map(|known| known.id.as_str()));
                    table.problem_at(
                        &word.spot,
                        format!("`{}` is no word of [equipment]", word.value),
                        near.map_or_else(String::new, |near| format!("write `{near}`")),
                    );
                }
                usual.insert(word.value);
            }
            typical.insert(kind, usual);
        }
        table.finish();
    }
    root.finish();
    problems.extend(file.problems());
    (words, typical)
}

/// Reads `sources.toml`.
pub(crate) fn read_sources(files: &Files, problems: &mut Vec<Problem>) -> Vec<SourceDocument> {
    let Some(file) = open(files, "sources.toml", problems) else { return Vec::new() };
    let root = file.root();
    let mut sources = Vec::new();
    let mut seen = BTreeSet::new();
    for table in root.tables("source") {
        let (key, title) = (table.required("key"), table.required("title"));
        let (publisher, edition, read) =
            (table.required("publisher"), table.required("edition"), table.required("read"));
        if let (Some(key), Some(title), Some(publisher), Some(edition), Some(read)) =
            (key, title, publisher, edition, read)
        {
            check_id(&table, &key.value, &mut seen);
            sources.push(SourceDocument {
                key: key.value,
                title: title.value,
                publisher: publisher.value,
                edition: edition.value,
                read: read.value,
            });
        }
        table.finish();
    }
    root.finish();
    problems.extend(file.problems());
    sources
}
