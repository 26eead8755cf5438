//! Nothing large is committed, and nothing that only makes sense on one machine.

use super::files_of_the_repository;
use crate::workspace::root;
use std::fs;

const LARGEST: usize = 1 << 20;

/// Folders of a machine that a text may not name. Spelled in two halves, or this file would be the first it finds.
const MACHINE_FOLDERS: [&str; 3] =
    [concat!("/wo", "rk/"), concat!("/ro", "ot/"), concat!("/tmp/ta", "rget")];

fn problems(path: &str, bytes: &[u8]) -> Vec<String> {
    let mut problems = Vec::new();
    if bytes.len() > LARGEST {
        problems.push(format!("{path}: {} KiB; the most is 1024 KiB", bytes.len().div_ceil(1024)));
    }
    // What is not text (a font, a photo) names nothing that anybody reads.
    if let Ok(text) = std::str::from_utf8(bytes) {
        for (index, line) in text.lines().enumerate() {
            for folder in MACHINE_FOLDERS.iter().filter(|folder| names_folder(line, folder)) {
                problems.push(format!(
                    "{path}:{}: names `{folder}`, a folder of one machine",
                    index + 1
                ));
            }
        }
    }
    problems
}

/// Whether the folder stands there as the start of a path, not in the middle of an address or another path.
fn names_folder(line: &str, folder: &str) -> bool {
    line.match_indices(folder).any(|(at, _)| {
        let before = line.get(..at).and_then(|before| before.chars().next_back());
        !before.is_some_and(|it| it.is_alphanumeric() || "._-/~*}".contains(it))
    })
}

#[test]
fn no_file_is_large_or_names_a_folder_of_one_machine() {
    let mut found = Vec::new();
    for path in files_of_the_repository() {
        let bytes = fs::read(root().join(&path)).unwrap_or_else(|error| panic!("{path}: {error}"));
        found.extend(problems(&path, &bytes));
    }
    super::assert_none(&found);
}

#[cfg(test)]
mod faults {
    use super::{LARGEST, MACHINE_FOLDERS, problems};

    #[test]
    fn a_large_file_is_named() {
        assert_eq!(
            problems("photo.jpg", &vec![0xff; LARGEST + 1]),
            ["photo.jpg: 1025 KiB; the most is 1024 KiB"]
        );
        assert_eq!(problems("photo.jpg", &vec![0xff; LARGEST]), Vec::<String>::new());
    }

    #[test]
    fn a_folder_of_one_machine_is_named_with_its_line() {
        for folder in MACHINE_FOLDERS {
            assert_eq!(
                problems("notes.md", format!("one\nsee `{folder}x`\n").as_bytes()),
                [format!("notes.md:2: names `{folder}`, a folder of one machine")]
            );
            let start = format!("{folder}x");
            assert_eq!(problems("notes.md", start.as_bytes()).len(), 1);
        }
    }

    #[test]
    fn an_address_or_a_relative_path_is_no_folder_of_a_machine() {
        let [first, second, _] = MACHINE_FOLDERS;
        for innocent in [
            format!("https://example.org{first}1"),
            format!("./frame{first}"),
            format!("data{second}"),
            "/tmp/something".to_owned(),
        ] {
            assert_eq!(problems("notes.md", innocent.as_bytes()), Vec::<String>::new());
        }
    }
}
