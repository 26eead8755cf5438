//! A file that a crate compiles in from another crate's folder is an arrow like any other.

use super::{architecture::rows, files_of_the_repository};

/// Includes that leave the crate for another one that its row does not list.
fn problems(markdown: &str, path: &str, text: &str) -> Vec<String> {
    let (rows, _) = rows(markdown);
    let krate = path.split('/').nth(1).unwrap_or_default();
    let may = rows.iter().find(|row| row.name == krate).map(|row| row.may_depend_on.as_slice());
    let may = may.unwrap_or_default();
    let mut problems = Vec::new();
    for included in included(text) {
        let other = reached(path, included);
        if let Some(other) = other.filter(|other| other != krate && !may.contains(other)) {
            problems.push(format!(
                "{path}: includes `{included}`, and `{krate}` may not depend on `{other}`: its row in \
                 ARCHITECTURE.md does not list it"
            ));
        }
    }
    problems
}

/// The paths in `include_str!("…")` and `include_bytes!("…")`.
fn included(text: &str) -> Vec<&str> {
    let calls = ["include_str!(", "include_bytes!("];
    let rests = calls.iter().flat_map(|call| text.split(call).skip(1));
    rests.filter_map(|rest| rest.trim_start().strip_prefix('"')?.split('"').next()).collect()
}

/// The crate whose folder a path leads into, starting beside the source file.
fn reached(source: &str, included: &str) -> Option<String> {
    let mut parts: Vec<&str> = source.split('/').collect();
    parts.pop();
    for part in included.split('/') {
        match part {
            ".." => drop(parts.pop()),
            name => parts.push(name),
        }
    }
    match parts.as_slice() {
        ["crates", krate, ..] => Some((*krate).to_owned()),
        _ => None,
    }
}

#[test]
fn crates_include_files_only_from_crates_they_may_depend_on() {
    let markdown = super::read("ARCHITECTURE.md");
    let found: Vec<String> = files_of_the_repository()
        .iter()
        .filter(|path| path.starts_with("crates/") && path.ends_with(".rs"))
        .flat_map(|path| problems(&markdown, path, &super::read(path)))
        .collect();
    super::assert_none(&found);
}

#[cfg(test)]
mod faults {
    use super::problems;

    const MAP: &str = "\
| crate | tier | may depend on | alone may name | what it is |
| --- | --- | --- | --- | --- |
| `quantity` | 0 | | | units |
| `plan` | 1 | `quantity` | | points |
";

    #[test]
    fn a_file_taken_from_a_crate_that_is_not_listed_is_named() {
        let text = "const LIST: &str = include_str!(\n    \"../../plan/src/list.txt\"\n);";
        assert_eq!(
            problems(MAP, "crates/quantity/src/units.rs", text),
            [
                "crates/quantity/src/units.rs: includes `../../plan/src/list.txt`, and `quantity` may not \
              depend on `plan`: its row in ARCHITECTURE.md does not list it"
            ]
        );
    }

    #[test]
    fn files_of_its_own_of_data_and_of_listed_crates_are_free() {
        for path in
            ["table.csv", "../table.csv", "../../../data/stops.toml", "../../quantity/a.csv"]
        {
            let text = format!("include_bytes!(\"{path}\")");
            let found = problems(MAP, "crates/plan/src/load.rs", &text);
            assert_eq!(found, Vec::<String>::new(), "{path}");
        }
    }
}
