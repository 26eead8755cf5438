//! The rules of the code base, as tests: one module a concern.
//!
//! Each module checks a small model of the tree with pure functions that answer in sentences. Its tests run them twice:
//! over the real tree, and over planted faults, so that a check which cannot fail is found out.

mod architecture;
mod data;
mod dependencies;
mod files;
mod includes;
mod licences;
mod links;
mod manifest;
mod modules;
mod systems;

use crate::workspace::{answer, root};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// Fails with every problem at once, a line each.
#[track_caller]
fn assert_none(problems: &[String]) {
    assert!(problems.is_empty(), "\n  {}\n", problems.join("\n  "));
}

/// A file of the repository, by its path from the root.
fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// The paths, from the root, of all files that are committed or would be: what git ignores is left out.
fn files_of_the_repository() -> Vec<String> {
    let mut git = Command::new("git");
    git.current_dir(root());
    git.args(["ls-files", "-z", "--cached", "--others", "--exclude-standard", "--deduplicate"]);
    let mut files: Vec<String> = match answer(&mut git) {
        Some(listed) => listed.split_terminator('\0').map(str::to_owned).collect(),
        // Unpacked from an archive: everything but what a build leaves behind.
        None => walk(&root()),
    };
    // A file that was deleted and not yet committed is still listed.
    files.retain(|file| root().join(file).is_file());
    files.sort();
    assert!(files.iter().any(|file| file == "Cargo.toml"), "the files of {:?}", root());
    files
}

fn walk(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    let mut waiting: Vec<PathBuf> = vec![folder.to_path_buf()];
    while let Some(next) = waiting.pop() {
        for entry in fs::read_dir(&next).into_iter().flatten().flatten() {
            let path = entry.path();
            let name = entry.file_name();
            if path.is_dir() {
                if name != "target" && name != ".git" {
                    waiting.push(path);
                }
            } else if let Ok(inside) = path.strip_prefix(folder) {
                found.push(inside.to_string_lossy().replace('\\', "/"));
            }
        }
    }
    found
}

#[test]
fn the_files_found_without_git_include_those_found_with_it() {
    let walked = walk(&root());
    for file in files_of_the_repository() {
        assert!(walked.contains(&file), "{file}");
    }
}
