//! The manifests of a bag: a line a file, its SHA-256 and its path (RFC 8493, 2.1.3).

use std::collections::BTreeMap;

use crate::{File, Sha256, is_safe_path};

/// A manifest of these files, in order of their paths.
pub(crate) fn manifest<'a>(files: impl Iterator<Item = &'a File>) -> String {
    let lines: BTreeMap<&str, Sha256> =
        files.map(|file| (file.path.as_str(), file.sha256)).collect();
    lines.iter().map(|(path, sha256)| format!("{sha256}  {path}\n")).collect()
}

/// What a manifest says: the hash of each path.
///
/// Strict where RFC 8493 leaves a choice: one way of writing, so that no byte can change unseen.
///
/// # Errors
/// A sentence that names the first line that cannot be read.
pub fn read(text: &str) -> Result<BTreeMap<String, Sha256>, String> {
    let mut files = BTreeMap::new();
    if !text.is_empty() && !text.ends_with('\n') {
        return Err("its last line is cut off".to_owned());
    }
    let lines = text.strip_suffix('\n').unwrap_or(text);
    for (at, line) in lines.split('\n').enumerate().filter(|_| !text.is_empty()) {
        let at = at + 1;
        let (digits, path) = line
            .split_once("  ")
            .ok_or_else(|| format!("line {at} is not a hash, two spaces and a path"))?;
        let sha256 = Sha256::parse(digits)
            .ok_or_else(|| format!("line {at} does not begin with a SHA-256 in lower case"))?;
        if !is_safe_path(path) {
            return Err(format!("line {at} names {path:?}, which is no path that a bag may have"));
        }
        if files.insert(path.to_owned(), sha256).is_some() {
            return Err(format!("line {at} names {path} a second time"));
        }
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::{manifest, read};
    use crate::File;

    #[test]
    fn a_manifest_reads_back_and_is_in_order() {
        let files = [File::new("data/b", "2"), File::new("data/a", "1")];
        let text = manifest(files.iter());
        assert_eq!(text.lines().map(|line| &line[66..]).collect::<Vec<_>>(), ["data/a", "data/b"]);
        let back = read(&text).unwrap();
        assert!(files.iter().all(|file| back[&file.path] == file.sha256));
        assert!(read("").unwrap().is_empty());
    }

    #[test]
    fn what_is_no_manifest_is_refused_with_its_line() {
        let good = manifest([File::new("data/a", "1")].iter());
        for (bad, word) in [
            (good.trim_end().to_owned(), "cut off"),
            (good.replace("  ", " *"), "line 1"),
            (good.to_uppercase(), "lower case"),
            (good.replace("data/a", "data/../a"), "no path"),
            (format!("{good}{good}"), "line 2 names data/a a second time"),
            (format!("{good}\n"), "line 2"),
        ] {
            let said = read(&bad).unwrap_err();
            assert!(said.contains(word), "{bad:?}: {said}");
        }
    }
}
