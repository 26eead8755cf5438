//! Reading text files, and what can be wrong in them.

use std::collections::{BTreeMap, BTreeSet};

use super::each::{self, Spoken};
use super::promises;
use super::{LoadedTexts, MissingText, Text, TextName, Texts};
use crate::read::{At, TomlFile, nearest, placeholders};
use crate::{Files, Library, Problem};

/// What the data says in English, by file and name.
#[derive(Default)]
struct English {
    files: BTreeMap<String, BTreeMap<String, String>>,
    /// Texts that are wanted in another language, each with the name that it has in its own file.
    wanted: Vec<(TextName, MissingText)>,
}

impl English {
    fn of(library: &Library) -> Self {
        let mut english = Self::default();
        library.each_text(&mut |spoken, text| english.add(spoken, text));
        english
    }

    fn add(&mut self, spoken: &Spoken<'_>, text: &str) {
        let mut put = |file: &str, name: &str| {
            self.files.entry(file.to_owned()).or_default().insert(name.to_owned(), text.to_owned());
        };
        put(spoken.file, &spoken.name);
        if let Some(shared) = &spoken.shared {
            put(each::SHARED, shared);
        }
        if spoken.wanted(text) {
            let own = TextName { file: spoken.file.to_owned(), name: spoken.name.clone() };
            self.wanted.push((own, spoken.missing(text)));
        }
    }
}

pub(super) fn load(language: &str, files: &Files, library: &Library) -> LoadedTexts {
    let english = English::of(library);
    let mut problems = Vec::new();
    let mut texts = Texts { language: language.to_owned(), by_name: BTreeMap::new() };
    for (path, content) in files.iter() {
        let file = path.strip_suffix(".toml").unwrap_or(path);
        let Some(toml) = TomlFile::open(path, content, &mut problems) else { continue };
        let given = toml.flat();
        problems.extend(toml.problems());
        let Some(known) = english.files.get(file) else {
            problems.push(no_file(path, file, &english));
            continue;
        };
        lengths(&given, known, &mut problems);
        for (name, at) in given {
            let said = known.get(&name).map(String::as_str);
            let Some(said) = said else {
                problems.push(unknown(&name, &at, known));
                continue;
            };
            let wrong = compare(file, said, &at);
            if wrong.is_empty() {
                let text = Text { english: said.to_owned(), own: at.value };
                texts.by_name.insert(TextName { file: file.to_owned(), name }, text);
            }
            problems.extend(wrong);
        }
    }
    let given = |name: &TextName| texts.by_name.contains_key(name);
    let mut missing: Vec<MissingText> = english
        .wanted
        .iter()
        .filter(|(own, missing)| !given(own) && !given(&missing.at))
        .map(|(_, missing)| missing.clone())
        .collect();
    missing.sort();
    missing.dedup();
    let wanted: BTreeSet<&TextName> =
        english.wanted.iter().map(|(_, missing)| &missing.at).collect();
    let wanted = wanted.len();
    problems.sort();
    problems.dedup();
    LoadedTexts { texts, problems, missing, wanted }
}

fn no_file(path: &str, file: &str, english: &English) -> Problem {
    let hint = nearest(file, english.files.keys().map(String::as_str)).map_or_else(
        || "a text file has the path of the data file whose texts it gives".to_owned(),
        |near| format!("its path is {near}.toml"),
    );
    Problem {
        file: path.to_owned(),
        line: 1,
        column: 1,
        message: "no file of the data belongs to these texts".to_owned(),
        hint,
    }
}

fn unknown(name: &str, at: &At<String>, known: &BTreeMap<String, String>) -> Problem {
    let hint = nearest(name, known.keys().map(String::as_str)).map_or_else(
        || {
            let names: Vec<&str> = known.keys().map(String::as_str).collect();
            if names.len() > 30 { String::new() } else { format!("known: {}", names.join(", ")) }
        },
        |near| format!("write `{near}`"),
    );
    at.spot.problem(format!("no text is called `{name}` here"), hint)
}

/// A list has all its texts, or none: the others would stand beside the wrong ones.
fn lengths(
    given: &[(String, At<String>)],
    known: &BTreeMap<String, String>,
    problems: &mut Vec<Problem>,
) {
    let mut lists: BTreeMap<&str, (usize, &At<String>)> = BTreeMap::new();
    for (name, at) in given {
        if let Some((list, _)) = name.rsplit_once('[') {
            lists.entry(list).or_insert((0, at)).0 += 1;
        }
    }
    for (list, (count, at)) in lists {
        let start = format!("{list}[");
        let wanted = known.keys().filter(|name| name.starts_with(&start)).count();
        if count < wanted {
            problems.push(at.spot.problem(
                format!("`{list}` has {count} of its {wanted} texts"),
                "write all of them, in the same order",
            ));
        }
    }
}

/// What a text must share with the one it stands for, its placeholders and its numbers, and what it may not promise.
fn compare(file: &str, english: &str, at: &At<String>) -> Vec<Problem> {
    let own = at.value.as_str();
    if own.is_empty() {
        return vec![at.spot.problem("the text is empty", "leave it out to keep the English one")];
    }
    let mut problems = Vec::new();
    differ(&names(english), &names(own), |name, there| {
        let name = format!("{{{name}}}");
        problems.push(if there {
            at.spot.problem(
                format!("{name} stands in the English text and not here"),
                format!("write {name}"),
            )
        } else {
            at.spot.problem(format!("{name} does not stand in the English text"), "take it out")
        });
    });
    for (promise, word) in promises::made(english, own) {
        problems.push(at.spot.problem(
            format!("`{word}` promises {promise}, and no inspection can"),
            "say what was found on the day, as far as examined",
        ));
    }
    // A plan's terms are the firm's own; elsewhere a number is a fact.
    if file.starts_with("plans/") {
        return problems;
    }
    differ(&numbers(english), &numbers(own), |number, there| {
        problems.push(if there {
            at.spot.problem(
                format!("the number {number} stands in the English text and not here"),
                "write numbers and units as they are, with a decimal point",
            )
        } else {
            at.spot.problem(
                format!("the number {number} does not stand in the English text"),
                "write numbers as they are: words as words, digits as digits",
            )
        });
    });
    problems
}

/// Tells what is only in the first (true) and only in the second (false).
fn differ<'a>(
    one: &BTreeSet<&'a str>,
    other: &BTreeSet<&'a str>,
    mut tell: impl FnMut(&'a str, bool),
) {
    for only in one.difference(other) {
        tell(only, true);
    }
    for only in other.difference(one) {
        tell(only, false);
    }
}

fn names(text: &str) -> BTreeSet<&str> {
    placeholders(text).into_iter().collect()
}

/// Numbers of a text outside its placeholders: digits with the points, commas and strokes between them.
fn numbers(text: &str) -> BTreeSet<&str> {
    text.split('{')
        .enumerate()
        .flat_map(|(at, part)| {
            let plain =
                if at == 0 { part } else { part.split_once('}').map_or("", |(_, rest)| rest) };
            plain.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '/')))
        })
        .map(|number| number.trim_matches(['.', ',', '/']))
        .filter(|number| number.contains(|c: char| c.is_ascii_digit()))
        .collect()
}
