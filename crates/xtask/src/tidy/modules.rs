//! Every source file opens by saying what it is, and none is too long to read.

use super::files_of_the_repository;

/// A file longer than this holds more than one concept.
const LINES: usize = 800;

/// What is wrong with one source file.
fn problems(path: &str, text: &str) -> Vec<String> {
    let mut problems = Vec::new();
    let first = text.lines().next().unwrap_or_default();
    if first.strip_prefix("//! ").is_none_or(|says| says.trim().is_empty()) {
        problems.push(format!("{path}: the first line is `//! ` and what the file is about"));
    }
    let lines = text.lines().count();
    if lines > LINES {
        problems.push(format!("{path}: {lines} lines; over {LINES}, it is more than one file"));
    }
    problems
}

#[test]
fn every_source_file_says_what_it_is_and_is_short_enough_to_read() {
    let sources: Vec<String> = files_of_the_repository()
        .into_iter()
        .filter(|path| path.starts_with("crates/") && path.ends_with(".rs"))
        .collect();
    assert!(sources.len() > 10, "only {sources:?}");
    let found: Vec<String> =
        sources.iter().flat_map(|path| problems(path, &super::read(path))).collect();
    super::assert_none(&found);
}

#[cfg(test)]
mod faults {
    use super::{LINES, problems};

    #[test]
    fn a_file_without_its_opening_line_is_named() {
        let told = ["crates/x/src/lib.rs: the first line is `//! ` and what the file is about"];
        assert_eq!(problems("crates/x/src/lib.rs", "use std::fs;\n"), told);
        assert_eq!(problems("crates/x/src/lib.rs", "//! \n"), told);
        assert_eq!(problems("crates/x/src/lib.rs", "\n//! Limits.\n"), told);
        assert_eq!(problems("crates/x/src/lib.rs", ""), told);
        assert_eq!(problems("crates/x/src/lib.rs", "//! Limits.\n"), Vec::<String>::new());
    }

    #[test]
    fn a_file_too_long_to_read_is_named() {
        let long = format!("//! Limits.\n{}", "fn f() {}\n".repeat(LINES));
        assert_eq!(
            problems("crates/x/src/lib.rs", &long),
            ["crates/x/src/lib.rs: 801 lines; over 800, it is more than one file"]
        );
        let just = format!("//! Limits.\n{}", "fn f() {}\n".repeat(LINES - 1));
        assert_eq!(problems("crates/x/src/lib.rs", &just), Vec::<String>::new());
    }
}
