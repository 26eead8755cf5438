//! What the pages of the repository point to is there: links to files, and paths written in backticks.

use super::files_of_the_repository;
use std::collections::BTreeSet;

/// Folders a path in backticks starts with when it means one of ours.
const OUR_FOLDERS: [&str; 6] = ["crates/", "data/", "docs/", "reference/", ".ci/", ".config/"];

/// Every file of the repository and every folder that holds one.
fn places(files: &[String]) -> BTreeSet<String> {
    let mut places = BTreeSet::new();
    for file in files {
        let mut place = file.as_str();
        while !place.is_empty() && places.insert(place.to_owned()) {
            place = place.rsplit_once('/').map_or("", |(folder, _)| folder);
        }
    }
    places
}

fn problems(page: &str, text: &str, places: &BTreeSet<String>) -> Vec<String> {
    let mut problems = Vec::new();
    let mut fenced = false;
    for (index, line) in text.lines().enumerate() {
        if line.trim_start().starts_with("```") {
            fenced = !fenced;
        }
        if fenced {
            continue;
        }
        let folder = page.rsplit_once('/').map_or("", |(folder, _)| folder);
        let links = links(line).into_iter().map(|link| (link, joined(folder, link)));
        let paths = paths(line).into_iter().map(|path| (path, joined("", path)));
        for (written, place) in links.chain(paths) {
            if !place.as_ref().is_some_and(|place| place.is_empty() || places.contains(place)) {
                problems
                    .push(format!("{page}:{}: `{written}` is not in the repository", index + 1));
            }
        }
    }
    problems
}

/// The targets of `[…](target)`, without those on the net and those on the same page.
fn links(line: &str) -> Vec<&str> {
    line.split("](")
        .skip(1)
        .filter_map(|rest| rest.split([')', '#', ' ']).next())
        .filter(|link| !link.is_empty() && !link.contains(':'))
        .collect()
}

/// Paths in backticks that mean a file or folder of ours; one with a placeholder means many.
fn paths(line: &str) -> Vec<&str> {
    line.split('`')
        .skip(1)
        .step_by(2)
        .filter(|word| OUR_FOLDERS.iter().any(|folder| word.starts_with(folder)))
        .filter(|word| !word.contains(['<', '*', '{', '…', ' ']))
        .filter(|word| !word.chars().any(|it| it.is_ascii_uppercase()) || word.ends_with(".md"))
        .collect()
}

/// A path from the root, or nothing where it leads out of the repository.
fn joined(folder: &str, path: &str) -> Option<String> {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            name => parts.push(name),
        }
    }
    Some(parts.join("/"))
}

#[test]
fn what_the_pages_point_to_is_there() {
    let files = files_of_the_repository();
    let places = places(&files);
    let pages: Vec<&String> = files.iter().filter(|file| file.ends_with(".md")).collect();
    assert!(pages.iter().any(|page| *page == "ARCHITECTURE.md"), "{pages:?}");
    let found: Vec<String> =
        pages.into_iter().flat_map(|page| problems(page, &super::read(page), &places)).collect();
    super::assert_none(&found);
}

#[cfg(test)]
mod faults {
    use super::{places, problems};

    fn check(text: &str, expected: &[&str]) {
        let files = ["README.md", "docs/glossary.md", "crates/plan/src/lib.rs"].map(str::to_owned);
        assert_eq!(problems("docs/README.md", text, &places(&files)), expected, "{text}");
    }

    #[test]
    fn a_dead_link_is_named_with_its_line() {
        check(
            "One\n[two](../README.md), [three](words.md#a)",
            &["docs/README.md:2: `words.md` is not in the repository"],
        );
        check(
            "[out](../../other/x.md)",
            &["docs/README.md:1: `../../other/x.md` is not in the repository"],
        );
    }

    #[test]
    fn a_path_that_is_gone_is_named() {
        check(
            "see `crates/plan/src/lib.rs`, `crates/plans`",
            &["docs/README.md:1: `crates/plans` is not in the repository"],
        );
    }

    #[test]
    fn addresses_placeholders_and_examples_are_left_alone() {
        check("[net](https://example.org/x) [here](#words) [there](../README.md#words)", &[]);
        check("`data/points/<system>/<id>.toml`, `reference/*/generate.py`, `crates/NAME`", &[]);
        check("```\n[x](gone.md) `crates/gone`\n```\n[g](glossary.md) `crates/plan/`", &[]);
    }
}
