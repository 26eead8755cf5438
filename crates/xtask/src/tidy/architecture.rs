//! The crate table of ARCHITECTURE.md against the crates: rows and folders, arrows, tiers, and who may name which library.

use super::manifest::{Manifest, Section, Use};

/// Where a crate stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tier {
    Number(u8),
    /// Serves development only.
    Dev,
}

/// One row of the crate table.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) name: String,
    pub(super) planned: bool,
    pub(super) tier: Tier,
    pub(super) may_depend_on: Vec<String>,
    pub(super) alone_may_name: Vec<String>,
}

/// The rows of the table below a header line, each split into its cells.
pub(super) fn table<'a>(markdown: &'a str, header: &str) -> Vec<Vec<&'a str>> {
    markdown
        .lines()
        .skip_while(|line| !line.starts_with(header))
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .map(|line| line.trim().trim_matches('|').split('|').map(str::trim).collect())
        .collect()
}

/// The words of a cell that stand in backticks.
pub(super) fn ticked(cell: &str) -> Vec<String> {
    cell.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

/// The crate table, and what could not be read of it.
pub(super) fn rows(markdown: &str) -> (Vec<Row>, Vec<String>) {
    let mut rows = Vec::new();
    let mut problems = Vec::new();
    for cells in table(markdown, "| crate | tier |") {
        match row(&cells) {
            Ok(row) => rows.push(row),
            Err(why) => {
                problems.push(format!("ARCHITECTURE.md: row `{}`: {why}", cells.join(" | ")));
            }
        }
    }
    if rows.is_empty() {
        problems.push("ARCHITECTURE.md has no table that starts `| crate | tier |`".to_owned());
    }
    (rows, problems)
}

fn row(cells: &[&str]) -> Result<Row, String> {
    let [name, tier, may_depend_on, alone_may_name, what] = cells else {
        return Err(format!("{} cells, not 5", cells.len()));
    };
    if what.is_empty() {
        return Err("the last cell must say what the crate is".to_owned());
    }
    let planned = name.ends_with("*planned*");
    let [name] = ticked(name).try_into().map_err(|_| "one crate in backticks is wanted")?;
    let tier = match (*tier, tier.parse()) {
        ("dev", _) => Tier::Dev,
        (_, Ok(number)) => Tier::Number(number),
        (_, Err(_)) => return Err(format!("tier `{tier}` is neither a number nor `dev`")),
    };
    Ok(Row {
        name,
        planned,
        tier,
        may_depend_on: ticked(may_depend_on),
        alone_may_name: ticked(alone_may_name),
    })
}

/// Everything in which the table and the crates disagree.
pub(super) fn problems(markdown: &str, manifests: &[Manifest]) -> Vec<String> {
    let (rows, mut problems) = rows(markdown);
    problems.extend(rows_without_folders(&rows, manifests));
    problems.extend(upward_arrows(&rows));
    for manifest in manifests {
        if manifest.package != manifest.folder {
            problems.push(format!(
                "crates/{} holds the package `{}`: folder and package have the same name",
                manifest.folder, manifest.package
            ));
        }
        if !manifest.has_our_lints {
            problems.push(format!(
                "crates/{}/Cargo.toml: write `[lints]` and `workspace = true`: no crate makes its \
                 own rules",
                manifest.folder
            ));
        }
        match rows.iter().find(|row| row.name == manifest.folder) {
            None => problems.push(format!(
                "crates/{} has no row in the crate table of ARCHITECTURE.md",
                manifest.folder
            )),
            Some(row) => {
                if row.planned {
                    problems.push(format!(
                        "crates/{} exists, so its row in ARCHITECTURE.md is no longer *planned*",
                        row.name
                    ));
                }
                for one in &manifest.uses {
                    problems.extend(wrong_use(row, one, &rows));
                }
            }
        }
    }
    problems
}

fn rows_without_folders(rows: &[Row], manifests: &[Manifest]) -> Vec<String> {
    let mut problems = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        if !row.planned && !manifests.iter().any(|manifest| manifest.folder == row.name) {
            problems.push(format!(
                "ARCHITECTURE.md has a row for `{0}`, and there is no crates/{0}: remove the row or \
                 mark it *planned*",
                row.name
            ));
        }
        if rows.iter().take(index).any(|earlier| earlier.name == row.name) {
            problems.push(format!("ARCHITECTURE.md has two rows for `{}`", row.name));
        }
    }
    problems
}

/// The table itself must point strictly downward, and to crates that are there at least as long.
fn upward_arrows(rows: &[Row]) -> Vec<String> {
    let mut problems = Vec::new();
    for row in rows {
        for below in &row.may_depend_on {
            let Some(other) = rows.iter().find(|other| other.name == *below) else {
                problems.push(format!(
                    "ARCHITECTURE.md lets `{}` depend on `{below}`, which has no row",
                    row.name
                ));
                continue;
            };
            match (row.tier, other.tier) {
                (Tier::Number(tier), Tier::Number(lower)) if lower >= tier => {
                    problems.push(format!(
                        "ARCHITECTURE.md lets `{}` (tier {tier}) depend on `{below}` (tier {lower}): \
                         arrows go strictly downward",
                        row.name
                    ));
                }
                (_, Tier::Dev) => problems.push(format!(
                    "ARCHITECTURE.md lets `{}` depend on `{below}`, which serves development only",
                    row.name
                )),
                _ => {}
            }
            if other.planned && !row.planned {
                problems.push(format!(
                    "ARCHITECTURE.md lets `{}` depend on `{below}`, which is only *planned*",
                    row.name
                ));
            }
        }
    }
    problems
}

/// What is wrong with one line of a crate's manifest.
fn wrong_use(row: &Row, one: &Use, rows: &[Row]) -> Vec<String> {
    let (name, used) = (&row.name, &one.name);
    let mut problems = Vec::new();
    if !one.from_workspace {
        problems.push(format!(
            "crates/{name}/Cargo.toml: write `{used}.workspace = true`, with the version in the \
             workspace's list"
        ));
    }
    match rows.iter().find(|other| other.name == *used) {
        Some(other) if other.name == "testkit" => problems.extend(wrong_testkit(row, one, other)),
        Some(_) if !row.may_depend_on.contains(used) => problems.push(format!(
            "`{name}` may not depend on `{used}`: its row in ARCHITECTURE.md does not list it"
        )),
        _ => {}
    }
    let owners: Vec<String> = rows
        .iter()
        .filter(|other| other.alone_may_name.contains(used))
        .map(|other| other.name.clone())
        .collect();
    if !owners.is_empty() && !owners.contains(name) {
        problems.push(format!(
            "`{name}` names `{used}`, which is for {} alone",
            owners.iter().map(|owner| format!("`{owner}`")).collect::<Vec<_>>().join(" and ")
        ));
    }
    problems
}

fn wrong_testkit(row: &Row, one: &Use, testkit: &Row) -> Option<String> {
    let name = &row.name;
    if one.section != Section::Dev {
        return Some(format!(
            "`{name}` has `testkit` in [{}]: it may only be a dev-dependency",
            one.section.name()
        ));
    }
    testkit.may_depend_on.contains(name).then(|| {
        format!(
            "`{name}` may not use `testkit`, which depends on it: its unit tests would see two \
             copies of its types"
        )
    })
}

#[test]
fn crates_depend_only_as_the_table_says() {
    super::assert_none(&problems(&super::read("ARCHITECTURE.md"), &super::manifest::manifests()));
}

#[cfg(test)]
mod faults {
    use super::{Manifest, problems};

    const MAP: &str = "\
# Architecture

| crate | tier | may depend on | alone may name | what it is |
| --- | --- | --- | --- | --- |
| `quantity` | 0 | | `uom` | units |
| `limit` | 1 | `quantity` | | limits |
| `formulas` | 1 | `quantity` | `uom` | arithmetic |
| `server` *planned* | 5 | `quantity` | | HTTP |
| `testkit` | dev | `quantity` | | for tests |
";

    /// The faultless crates that go with the map.
    const CRATES: &[(&str, &str)] = &[
        ("quantity", "[dependencies]\nuom.workspace = true"),
        (
            "limit",
            "[dependencies]\nquantity.workspace = true\n[dev-dependencies]\ntestkit.workspace = true",
        ),
        ("formulas", "[dependencies]\nquantity.workspace = true\nuom.workspace = true"),
        ("testkit", "[dependencies]\nquantity.workspace = true"),
    ];

    /// The map with one line replaced, and the crates with one manifest replaced or added.
    fn check(line: Option<(&str, &str)>, change: Option<(&str, &str)>, expected: &[&str]) {
        let map = line.map_or_else(|| MAP.to_owned(), |(old, new)| MAP.replacen(old, new, 1));
        assert!(line.is_none() || map != MAP, "the fault was not planted");
        let mut crates = CRATES.to_vec();
        if let Some((folder, _)) = change {
            crates.retain(|(other, _)| *other != folder);
        }
        crates.extend(change);
        let manifests: Vec<Manifest> = crates
            .iter()
            .map(|(folder, text)| {
                let mut text = (*text).to_owned();
                // What every manifest has, unless the fault is about it.
                for (section, line) in [
                    ("package", format!("package.name = \"{folder}\"\n")),
                    ("lints", "lints.workspace = true\n".to_owned()),
                ] {
                    if !text.contains(section) {
                        text.insert_str(0, &line);
                    }
                }
                Manifest::parse(folder, &text)
            })
            .collect();
        assert_eq!(problems(&map, &manifests), expected);
    }

    #[test]
    fn a_faultless_map_has_no_problem() {
        check(None, None, &[]);
    }

    #[test]
    fn a_crate_that_uses_one_beside_it_is_named() {
        check(
            None,
            Some(("limit", "[dependencies]\nformulas.workspace = true")),
            &["`limit` may not depend on `formulas`: its row in ARCHITECTURE.md does not list it"],
        );
        check(
            None,
            Some(("quantity", "[build-dependencies]\nlimit.workspace = true")),
            &["`quantity` may not depend on `limit`: its row in ARCHITECTURE.md does not list it"],
        );
        check(
            None,
            Some((
                "limit",
                "[target.'cfg(unix)'.dev-dependencies]\nformulas = { workspace = true }",
            )),
            &["`limit` may not depend on `formulas`: its row in ARCHITECTURE.md does not list it"],
        );
    }

    #[test]
    fn a_map_that_points_upward_is_refused() {
        check(
            Some(("| `limit` | 1 | `quantity` |", "| `limit` | 1 | `quantity` `formulas` |")),
            None,
            &["ARCHITECTURE.md lets `limit` (tier 1) depend on `formulas` (tier 1): arrows go \
               strictly downward"],
        );
        check(
            Some(("| `quantity` | 0 | |", "| `quantity` | 0 | `limit` |")),
            None,
            &["ARCHITECTURE.md lets `quantity` (tier 0) depend on `limit` (tier 1): arrows go \
               strictly downward"],
        );
    }

    #[test]
    fn an_arrow_to_nowhere_is_named() {
        check(
            Some(("| `limit` | 1 | `quantity` |", "| `limit` | 1 | `quantity` `units` |")),
            None,
            &["ARCHITECTURE.md lets `limit` depend on `units`, which has no row"],
        );
        check(
            Some(("| `limit` | 1 | `quantity` |", "| `limit` | 6 | `server` `quantity` |")),
            None,
            &["ARCHITECTURE.md lets `limit` depend on `server`, which is only *planned*"],
        );
        check(
            Some(("| `limit` | 1 | `quantity` |", "| `limit` | 1 | `testkit` `quantity` |")),
            None,
            &["ARCHITECTURE.md lets `limit` depend on `testkit`, which serves development only"],
        );
    }

    #[test]
    fn rows_and_folders_match_both_ways() {
        check(
            None,
            Some(("helper", "")),
            &["crates/helper has no row in the crate table of ARCHITECTURE.md"],
        );
        check(
            Some(("| `testkit`", "| `sync` | 3 | | | ghost |\n| `testkit`")),
            None,
            &[
                "ARCHITECTURE.md has a row for `sync`, and there is no crates/sync: remove the row or \
               mark it *planned*",
            ],
        );
        check(
            Some(("| `testkit`", "| `limit` | 1 | | | again |\n| `testkit`")),
            None,
            &["ARCHITECTURE.md has two rows for `limit`"],
        );
        check(
            None,
            Some(("limit", "package.name = \"limits\"")),
            &["crates/limit holds the package `limits`: folder and package have the same name"],
        );
    }

    #[test]
    fn a_planned_row_has_no_folder() {
        check(
            None,
            Some(("server", "")),
            &["crates/server exists, so its row in ARCHITECTURE.md is no longer *planned*"],
        );
        check(
            Some(("| `server` *planned* |", "| `server` |")),
            None,
            &[
                "ARCHITECTURE.md has a row for `server`, and there is no crates/server: remove the row \
               or mark it *planned*",
            ],
        );
    }

    #[test]
    fn a_library_behind_a_door_is_named_by_its_owners_only() {
        check(
            None,
            Some(("limit", "[dev-dependencies]\nuom.workspace = true")),
            &["`limit` names `uom`, which is for `quantity` and `formulas` alone"],
        );
    }

    #[test]
    fn versions_stand_in_the_workspace_alone() {
        check(
            None,
            Some(("limit", "[dependencies]\nserde = \"1\"")),
            &["crates/limit/Cargo.toml: write `serde.workspace = true`, with the version in the \
               workspace's list"],
        );
    }

    #[test]
    fn a_crate_without_our_lints_is_named() {
        check(
            None,
            Some(("limit", "lints.workspace = false\n[dependencies]\nquantity.workspace = true")),
            &[
                "crates/limit/Cargo.toml: write `[lints]` and `workspace = true`: no crate makes its \
               own rules",
            ],
        );
    }

    #[test]
    fn testkit_serves_tests_only_and_not_those_below_it() {
        check(
            None,
            Some(("limit", "[dependencies]\ntestkit.workspace = true")),
            &["`limit` has `testkit` in [dependencies]: it may only be a dev-dependency"],
        );
        check(
            None,
            Some(("quantity", "[dev-dependencies]\ntestkit.workspace = true")),
            &[
                "`quantity` may not use `testkit`, which depends on it: its unit tests would see two \
               copies of its types",
            ],
        );
    }

    #[test]
    fn a_row_that_cannot_be_read_is_shown() {
        check(
            Some(("| `limit` | 1 | `quantity` | | limits |", "| `limit` | one | | | limits |")),
            None,
            &[
                "ARCHITECTURE.md: row ``limit` | one |  |  | limits`: tier `one` is neither a number \
                 nor `dev`",
                "crates/limit has no row in the crate table of ARCHITECTURE.md",
            ],
        );
        check(
            Some(("| limits |", "| |")),
            None,
            &[
                "ARCHITECTURE.md: row ``limit` | 1 | `quantity` |  | `: the last cell must say what \
                 the crate is",
                "crates/limit has no row in the crate table of ARCHITECTURE.md",
            ],
        );
        assert_eq!(
            problems("# Architecture\n", &[]),
            ["ARCHITECTURE.md has no table that starts `| crate | tier |`"]
        );
    }
}
