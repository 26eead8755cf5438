//! The Dependencies section of ARCHITECTURE.md against the workspace's list: every library named, with the right owners.

use super::{
    architecture::{rows, table, ticked},
    manifest::{Entry, Manifest},
};

/// Everything in which the section, the crate table, the workspace's list and the manifests disagree.
fn problems(markdown: &str, entries: &[Entry], manifests: &[Manifest]) -> Vec<String> {
    let mut problems = Vec::new();
    let (rows, _) = rows(markdown);
    let mut named: Vec<String> = Vec::new();
    for cells in table(markdown, "| library | who |") {
        let (Some(libraries), Some(who), Some(why)) = (cells.first(), cells.get(1), cells.get(2))
        else {
            problems.push(format!("ARCHITECTURE.md: row `{}` is incomplete", cells.join(" | ")));
            continue;
        };
        for library in ticked(libraries) {
            if why.is_empty() {
                problems.push(format!("ARCHITECTURE.md does not say why we need `{library}`"));
            }
            let owners: Vec<String> = rows
                .iter()
                .filter(|row| row.alone_may_name.contains(&library))
                .map(|row| format!("`{}`", row.name))
                .collect();
            let owners = if owners.is_empty() { "any".to_owned() } else { owners.join(" ") };
            if *who != owners {
                problems.push(format!(
                    "ARCHITECTURE.md gives `{library}` to {who} in the dependency table and to \
                     {owners} in the crate table"
                ));
            }
            named.push(library);
        }
    }

    for entry in entries.iter().filter(|entry| !entry.ours) {
        let name = &entry.name;
        if !named.contains(name) {
            problems.push(format!(
                "`{name}` is in [workspace.dependencies] and not in the dependency table of \
                 ARCHITECTURE.md"
            ));
        }
        if !manifests.iter().any(|it| it.uses.iter().any(|one| one.name == *name)) {
            problems.push(format!("`{name}` is in [workspace.dependencies] and no crate uses it"));
        }
    }
    for library in named {
        if !entries.iter().any(|entry| entry.name == library) {
            problems.push(format!(
                "the dependency table of ARCHITECTURE.md names `{library}`, which is not in \
                 [workspace.dependencies]"
            ));
        }
    }
    for row in rows.iter().filter(|row| !row.planned) {
        for library in &row.alone_may_name {
            let used = manifests
                .iter()
                .filter(|manifest| manifest.folder == row.name)
                .any(|manifest| manifest.uses.iter().any(|one| one.name == *library));
            if !used {
                problems.push(format!(
                    "ARCHITECTURE.md gives `{library}` to `{}`, whose Cargo.toml does not name it",
                    row.name
                ));
            }
        }
    }
    problems
}

/// Lock-file entries that come from anywhere but one registry: the first entry's.
fn foreign_sources(lock: &str) -> Vec<String> {
    let sources: Vec<&str> =
        lock.lines().filter_map(|line| line.strip_prefix("source = ")).collect();
    let registry = sources.iter().copied().find(|source| source.starts_with("\"registry+"));
    sources
        .into_iter()
        .filter(|source| Some(*source) != registry)
        .map(|source| format!("Cargo.lock: {source} is not the public registry"))
        .collect()
}

#[test]
fn every_dependency_is_documented_and_nothing_gone_is() {
    super::assert_none(&problems(
        &super::read("ARCHITECTURE.md"),
        &super::manifest::workspace_entries(&super::read("Cargo.toml")),
        &super::manifest::manifests(),
    ));
}

#[test]
fn every_dependency_comes_from_the_public_registry() {
    let lock = super::read("Cargo.lock");
    assert!(lock.contains("\nsource = "), "Cargo.lock names no source at all");
    super::assert_none(&foreign_sources(&lock));
}

#[cfg(test)]
mod faults {
    use super::{Manifest, foreign_sources, problems};
    use crate::tidy::manifest::workspace_entries;

    const MAP: &str = "\
| crate | tier | may depend on | alone may name | what it is |
| --- | --- | --- | --- | --- |
| `quantity` | 0 | | `uom` | units |
| `web` *planned* | 5 | | `leptos` | the app |

## Dependencies

| library | who | why |
| --- | --- | --- |
| `jiff` | any | dates |
| `uom` | `quantity` | dimensions |
";

    const WORKSPACE: &str = "\
[workspace.dependencies]
quantity = { path = \"crates/quantity\" }
jiff = \"1\"
uom = \"0.38\"
";

    const QUANTITY: &str = "[dependencies]\nuom.workspace = true\njiff.workspace = true\n";

    fn check(map: &str, workspace: &str, quantity: &str, expected: &[&str]) {
        let manifests = [Manifest::parse("quantity", quantity)];
        assert_eq!(problems(map, &workspace_entries(workspace), &manifests), expected);
    }

    #[test]
    fn a_faultless_list_has_no_problem() {
        check(MAP, WORKSPACE, QUANTITY, &[]);
    }

    #[test]
    fn an_undocumented_dependency_is_named() {
        check(
            MAP,
            &format!("{WORKSPACE}rand = \"1\"\n"),
            &format!("{QUANTITY}rand.workspace = true\n"),
            &["`rand` is in [workspace.dependencies] and not in the dependency table of \
               ARCHITECTURE.md"],
        );
    }

    #[test]
    fn a_dependency_that_is_gone_or_unused_is_named() {
        check(
            &format!("{MAP}| `rand` | any | chance |\n"),
            WORKSPACE,
            QUANTITY,
            &["the dependency table of ARCHITECTURE.md names `rand`, which is not in \
               [workspace.dependencies]"],
        );
        check(
            MAP,
            WORKSPACE,
            "[dev-dependencies]\nuom.workspace = true\n",
            &["`jiff` is in [workspace.dependencies] and no crate uses it"],
        );
    }

    #[test]
    fn the_two_tables_name_the_same_owners() {
        check(
            &MAP.replace("| `uom` | `quantity` |", "| `uom` | any |"),
            WORKSPACE,
            QUANTITY,
            &[
                "ARCHITECTURE.md gives `uom` to any in the dependency table and to `quantity` in the \
               crate table",
            ],
        );
        check(
            &MAP.replace("| `jiff` | any |", "| `jiff` | `quantity` |"),
            WORKSPACE,
            QUANTITY,
            &[
                "ARCHITECTURE.md gives `jiff` to `quantity` in the dependency table and to any in the \
               crate table",
            ],
        );
    }

    #[test]
    fn an_owner_that_does_not_use_its_library_is_named() {
        check(
            MAP,
            WORKSPACE,
            "[dependencies]\njiff.workspace = true\n",
            &[
                "`uom` is in [workspace.dependencies] and no crate uses it",
                "ARCHITECTURE.md gives `uom` to `quantity`, whose Cargo.toml does not name it",
            ],
        );
    }

    #[test]
    fn a_library_without_a_reason_is_named() {
        check(
            &MAP.replace("| dates |", "| |"),
            WORKSPACE,
            QUANTITY,
            &["ARCHITECTURE.md does not say why we need `jiff`"],
        );
    }

    #[test]
    fn another_source_than_the_registry_is_named() {
        assert_eq!(
            foreign_sources("[[package]]\nsource = \"git+https://example.org/uom\"\n"),
            ["Cargo.lock: \"git+https://example.org/uom\" is not the public registry"]
        );
        let good = "source = \"registry+https://example.org/index\"\n";
        assert_eq!(foreign_sources(good), Vec::<String>::new());
        let two = format!("{good}source = \"registry+https://example.net/index\"\n");
        assert_eq!(foreign_sources(&two).len(), 1);
    }
}
