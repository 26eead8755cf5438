//! Names of files in a bag: those that are safe to write on any system.

/// Whether a file may have this path in a bag: ASCII letters, digits, `.`, `_` and `-`, folders apart by `/`.
///
/// Narrower than BagIt needs. It keeps a bag from somebody else from writing outside its folder, and from holding two
/// files that one file system takes for the same.
#[must_use]
pub fn is_safe_path(path: &str) -> bool {
    !path.is_empty() && path.len() <= 200 && path.split('/').all(is_safe_name)
}

fn is_safe_name(name: &str) -> bool {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"._-".contains(&byte);
    !name.is_empty() && !name.starts_with('.') && !name.ends_with('.') && name.bytes().all(plain)
}

/// Any words as a part of a file's name; at most forty letters.
pub(crate) fn as_name(words: &str) -> String {
    let mut name = String::new();
    for letter in words.chars() {
        if letter.is_ascii_alphanumeric() {
            name.push(letter.to_ascii_lowercase());
        } else if !name.ends_with('_') && !name.is_empty() {
            name.push('_');
        }
        if name.len() >= 40 {
            break;
        }
    }
    name.trim_end_matches('_').to_owned()
}

#[cfg(test)]
mod tests {
    use super::{as_name, is_safe_path};

    #[test]
    fn a_path_that_leaves_its_folder_or_differs_between_systems_is_refused() {
        for path in
            ["data/state.json", "bagit.txt", "data/photos/original/ab.jpg", "signatures/a-B_1.jws"]
        {
            assert!(is_safe_path(path), "{path}");
        }
        for path in [
            "",
            "/etc/passwd",
            "../up",
            "data/../up",
            "data//x",
            "data/",
            "C:\\x",
            "data\\x",
            "data/é",
            "a b",
            ".hidden",
            "data/.hidden",
            "data/x.",
            "data/a\nb",
            "data/%0A",
            &"a/".repeat(150),
        ] {
            assert!(!is_safe_path(path), "{path:?}");
        }
    }

    #[test]
    fn any_words_become_a_safe_name_or_nothing() {
        assert_eq!(as_name("Left front: 2/3 \"tread\""), "left_front_2_3_tread");
        assert_eq!(as_name("../../x"), "x");
        assert_eq!(as_name("\u{202e}\u{1f600}"), "");
        assert!(as_name(&"x".repeat(500)).len() <= 40);
    }
}
