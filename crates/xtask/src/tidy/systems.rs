//! The systems in `formulas` stand beside each other: none imports a sibling.

use super::files_of_the_repository;
use std::collections::BTreeSet;

const SOURCE: &str = "crates/formulas/src/";

/// Folders that serve every system and are none themselves.
const SHARED: &[&str] = &["registry"];

/// Who may import which sibling.
const EXCEPTIONS: &[(&str, &str)] = &[("moisture", "air")];

/// A file of the crate: its path from `src`, and its text.
type File = (String, String);

/// Every folder below `src` is a system, but for the shared ones; a file beside them serves all.
fn systems(files: &[File]) -> BTreeSet<&str> {
    let folders = files.iter().filter_map(|(path, _)| path.split_once('/'));
    folders.map(|(folder, _)| folder).filter(|folder| !SHARED.contains(folder)).collect()
}

fn problems(files: &[File]) -> Vec<String> {
    let systems = systems(files);
    let mut problems = Vec::new();
    for (path, text) in files {
        let Some((system, _)) = path.split_once('/') else { continue };
        if !systems.contains(system) {
            continue;
        }
        for (index, line) in statements(text) {
            for sibling in imported(&line) {
                let excepted = EXCEPTIONS.contains(&(system, sibling));
                if systems.contains(sibling) && sibling != system && !excepted {
                    problems.push(format!(
                        "{SOURCE}{path}:{index}: `{system}` imports its sibling `{sibling}`; what \
                         both need stands beside the systems or in `quantity`"
                    ));
                }
            }
        }
    }
    problems
}

/// The code without comments, `use` lists that run over several lines joined, each with its first line's number.
fn statements(text: &str) -> Vec<(usize, String)> {
    let mut joined: Vec<(usize, String)> = Vec::new();
    let mut open = false;
    for (index, line) in text.lines().enumerate() {
        let line = line.split("//").next().unwrap_or_default().trim();
        match joined.last_mut() {
            Some((_, last)) if open => last.push_str(line),
            _ => joined.push((index + 1, line.to_owned())),
        }
        let starts = line.contains("crate::{") || line.contains("super::{");
        open = (open || starts) && !line.contains(';');
    }
    joined
}

/// The modules that a statement reaches through `crate::` or `super::`.
fn imported(statement: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for start in ["crate::", "super::"] {
        for (at, _) in statement.match_indices(start) {
            let Some(rest) = statement.get(at + start.len()..) else { continue };
            match rest.strip_prefix('{') {
                Some(list) => found.extend(first_names(list)),
                None => found.push(first_word(rest)),
            }
        }
    }
    found
}

/// The first name of every entry of a `use` list: `a::b, c::{d, e}` → `a`, `c`.
fn first_names(list: &str) -> Vec<&str> {
    let mut names = vec![first_word(list.trim_start())];
    let mut depth = 0_usize;
    for (at, it) in list.char_indices() {
        match it {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                names.extend(list.get(at + 1..).map(|rest| first_word(rest.trim_start())));
            }
            _ => {}
        }
    }
    names
}

fn first_word(text: &str) -> &str {
    let end = text.find(|it: char| !it.is_alphanumeric() && it != '_').unwrap_or(text.len());
    text.get(..end).unwrap_or_default()
}

#[test]
fn no_system_imports_a_sibling() {
    let files: Vec<File> = files_of_the_repository()
        .into_iter()
        .filter(|path| path.starts_with(SOURCE) && path.ends_with(".rs"))
        .map(|path| (path.trim_start_matches(SOURCE).to_owned(), super::read(&path)))
        .collect();
    assert!(systems(&files).contains("air"), "the systems found: {:?}", systems(&files));
    super::assert_none(&problems(&files));
}

#[cfg(test)]
mod faults {
    use super::{File, imported, problems, systems};

    fn tree(extra: (&str, &str)) -> Vec<File> {
        [
            ("registry/mod.rs", "use crate::{air, water};"),
            ("air/mod.rs", ""),
            ("water/mod.rs", ""),
            extra,
        ]
        .map(|(path, text)| (path.to_owned(), text.to_owned()))
        .to_vec()
    }

    #[test]
    fn folders_are_systems_and_files_beside_them_are_not() {
        assert_eq!(
            Vec::from_iter(systems(&tree(("moisture/map.rs", "")))),
            ["air", "moisture", "water"]
        );
    }

    #[test]
    fn a_sibling_is_named_however_it_is_reached() {
        let told = |line: usize| {
            [format!(
                "crates/formulas/src/water/friction.rs:{line}: `water` imports its sibling `air`; \
                 what both need stands beside the systems or in `quantity`"
            )]
        };
        for text in [
            "use crate::air::density;",
            "use crate::{registry, air::density};",
            "use super::super::air;",
            "let x = crate::air::density(y);",
        ] {
            assert_eq!(problems(&tree(("water/friction.rs", text))), told(1), "{text}");
        }
        let long = "//! Friction.\nuse crate::{\n    registry::{Formula, Kind},\n    air,\n};\n";
        assert_eq!(problems(&tree(("water/friction.rs", long))), told(2));
    }

    #[test]
    fn its_own_modules_the_shared_ones_and_the_exception_are_free() {
        for (path, text) in [
            (
                "water/friction.rs",
                "use crate::water::flow;\nuse crate::registry::Formula;\nuse super::flow;",
            ),
            ("water/friction.rs", "/// As [`crate::air::density`] says.\nfn f() {}"),
            ("moisture/map.rs", "use crate::air::dew_point;"),
        ] {
            assert_eq!(problems(&tree((path, text))), Vec::<String>::new(), "{text}");
        }
        assert_eq!(problems(&tree(("moisture/map.rs", "use crate::water;"))).len(), 1);
    }

    #[test]
    fn nested_lists_are_read_by_their_first_names() {
        assert_eq!(imported("use crate::{registry::{air, Kind}, water};"), ["registry", "water"]);
    }
}
