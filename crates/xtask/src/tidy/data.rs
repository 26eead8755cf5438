//! The files in `data/`, as far as can be seen without understanding them: ids, sources, examples. `plan` has the real
//! linter; this one would notice if that were not run over every file.

use super::files_of_the_repository;
use std::collections::{BTreeMap, BTreeSet};
use toml_edit::{DocumentMut, Item, Table, TableLike, Value};

/// Path from the root, and text.
type File = (String, String);

fn problems(files: &[File]) -> Vec<String> {
    let mut problems = Vec::new();
    let mut defined = BTreeSet::new();
    let mut used: BTreeMap<String, String> = BTreeMap::new();
    let mut ids: BTreeMap<String, &str> = BTreeMap::new();
    for (path, text) in files {
        let document: DocumentMut = match text.parse() {
            Ok(document) => document,
            Err(error) => {
                problems.push(format!("{path}: {}", error.to_string().trim()));
                continue;
            }
        };
        if path == "data/sources.toml" {
            defined.extend(source_keys(&document));
            continue;
        }
        // A table of values names its document in full; `source` may be one of its columns.
        if !path.starts_with("data/tables/") {
            sources_in(document.as_table(), &mut |key| {
                used.entry(key.to_owned()).or_insert_with(|| path.clone());
            });
        }
        if path.starts_with("data/points/") {
            problems.extend(wrong_point(path, &document));
            if let Some(id) = document.get("id").and_then(Item::as_str)
                && let Some(first) = ids.insert(id.to_owned(), path)
            {
                problems.push(format!("{path}: the id `{id}` is taken by {first}"));
            }
        }
    }
    for (key, path) in &used {
        if !defined.contains(key) {
            problems.push(format!("{path}: the source `{key}` is not in data/sources.toml"));
        }
    }
    for key in defined.iter().filter(|key| !used.contains_key(*key)) {
        problems.push(format!("data/sources.toml: no file in data/ refers to `{key}`"));
    }
    problems
}

/// What every point has, whatever it is about.
fn wrong_point(path: &str, point: &Table) -> Vec<String> {
    let mut problems = Vec::new();
    let stem = path.rsplit('/').next().and_then(|name| name.strip_suffix(".toml"));
    let id = point.get("id").and_then(Item::as_str);
    if id != stem {
        problems.push(format!(
            "{path}: the id is `{}`; it is the file's name",
            id.unwrap_or("missing")
        ));
    }
    if tables(point, "example").is_empty() {
        problems.push(format!("{path}: a point has at least one [[example]]: it is its test"));
    }
    for limit in tables(point, "limit") {
        if limit.get("source").and_then(Item::as_str).is_none_or(str::is_empty) {
            let id = limit.get("id").and_then(Item::as_str).unwrap_or("without an id");
            problems.push(format!("{path}: the limit `{id}` names no source"));
        }
    }
    problems
}

/// The entries of `[[name]]`.
fn tables<'a>(table: &'a Table, name: &str) -> Vec<&'a Table> {
    table
        .get(name)
        .and_then(Item::as_array_of_tables)
        .map(|entries| entries.iter().collect())
        .unwrap_or_default()
}

/// The keys that `sources.toml` defines.
fn source_keys(document: &Table) -> Vec<String> {
    tables(document, "source")
        .iter()
        .filter_map(|source| source.get("key").and_then(Item::as_str))
        .map(str::to_owned)
        .collect()
}

/// Every `source = "key"`, at any depth.
fn sources_in(table: &dyn TableLike, found: &mut dyn FnMut(&str)) {
    for (name, item) in table.iter() {
        match item {
            Item::Value(Value::String(key)) if name == "source" => found(key.value()),
            Item::ArrayOfTables(entries) => {
                entries.iter().for_each(|entry| sources_in(entry, found));
            }
            Item::Value(Value::Array(values)) => values
                .iter()
                .filter_map(Value::as_inline_table)
                .for_each(|entry| sources_in(entry, found)),
            _ => {
                if let Some(inner) = item.as_table_like() {
                    sources_in(inner, found);
                }
            }
        }
    }
}

#[test]
fn every_point_has_its_name_its_sources_and_an_example() {
    let files: Vec<File> = files_of_the_repository()
        .into_iter()
        .filter(|path| path.starts_with("data/") && path.ends_with(".toml"))
        .map(|path| (path.clone(), super::read(&path)))
        .collect();
    let points = files.iter().filter(|(path, _)| path.starts_with("data/points/")).count();
    assert!(points > 0, "data/points/ holds no point");
    super::assert_none(&problems(&files));
}

#[cfg(test)]
mod faults {
    use super::problems;

    const SOURCES: &str = "[[source]]\nkey = \"cfr-24-3280\"\ntitle = \"Standards\"\n";

    const LOCKUP: &str = "\
id = \"lockup\"
[[limit]]
id = \"ceiling\"
source = \"cfr-24-3280\"
[[example]]
title = \"sound\"
";

    fn check(files: &[(&str, &str)], expected: &[&str]) {
        let files: Vec<_> =
            files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect();
        assert_eq!(problems(&files), expected);
    }

    fn check_point(text: &str, expected: &[&str]) {
        check(&[("data/sources.toml", SOURCES), ("data/points/gas/lockup.toml", text)], expected);
    }

    #[test]
    fn a_faultless_point_has_no_problem() {
        check_point(LOCKUP, &[]);
    }

    #[test]
    fn a_point_without_an_example_is_named() {
        check_point(
            &LOCKUP.replace("[[example]]\ntitle", "# title"),
            &["data/points/gas/lockup.toml: a point has at least one [[example]]: it is its test"],
        );
    }

    #[test]
    fn a_limit_without_a_source_is_named() {
        check_point(
            &format!("{LOCKUP}[[limit]]\nid = \"floor\"\n"),
            &["data/points/gas/lockup.toml: the limit `floor` names no source"],
        );
    }

    #[test]
    fn a_source_is_defined_if_used_and_used_if_defined() {
        check_point(
            &LOCKUP.replace("cfr-24-3280", "cfr-24"),
            &[
                "data/points/gas/lockup.toml: the source `cfr-24` is not in data/sources.toml",
                "data/sources.toml: no file in data/ refers to `cfr-24-3280`",
            ],
        );
        // Not only points refer to sources, and a column of a table may be called so.
        check(
            &[
                ("data/sources.toml", SOURCES),
                ("data/plans/full.toml", "terms = [{ source = \"cfr-24-3280\" }]\n"),
                ("data/tables/flow.toml", "[columns]\nsource = \"text\"\n"),
            ],
            &[],
        );
    }

    #[test]
    fn an_id_is_its_files_name_and_taken_once() {
        check(
            &[
                ("data/sources.toml", SOURCES),
                ("data/points/gas/lockup.toml", LOCKUP),
                ("data/points/water/lockup.toml", LOCKUP),
                ("data/points/water/other.toml", &LOCKUP.replace("lockup", "pump")),
            ],
            &[
                "data/points/water/lockup.toml: the id `lockup` is taken by \
                 data/points/gas/lockup.toml",
                "data/points/water/other.toml: the id is `pump`; it is the file's name",
            ],
        );
    }

    #[test]
    fn a_file_that_is_no_toml_is_named() {
        let files = [("data/stops.toml".to_owned(), "[[stop]\n".to_owned())];
        let found = problems(&files);
        assert_eq!(found.len(), 1);
        assert!(found[0].starts_with("data/stops.toml: TOML parse error at line 1"), "{found:?}");
    }
}
