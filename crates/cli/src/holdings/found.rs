//! The files that lie in a data folder beside the store's own, as they are at one moment.

use std::fs;
use std::path::Path;

use store::Companion;

use super::{Care, care_of, is_left_to_others};
use crate::failure::Failure;

/// What was found beside the store's own.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Found {
    /// Files to be kept, by name.
    pub(crate) files: Vec<Companion>,
    /// Names that the list does not know.
    pub(crate) strange: Vec<String>,
}

/// Whoever renews several files at once is done after a few tries.
const TRIES: usize = 10;
/// Folders in folders; deeper ones lead in circles.
const DEEPEST: usize = 16;

/// What a data folder holds beside the store's own: twice the same, so that no file was being written meanwhile.
pub(crate) fn found(folder: &Path) -> Result<Found, Failure> {
    let mut before = once(folder)?;
    for _ in 0..TRIES {
        let after = once(folder)?;
        if before == after {
            return Ok(after);
        }
        before = after;
    }
    Err(Failure::failed(format!("files in {} change all the time", folder.display()))
        .hint("stop whatever writes there, and try again"))
}

fn once(folder: &Path) -> Result<Found, Failure> {
    let mut found = Found::default();
    walk(folder, "", 0, &mut found)?;
    found.files.sort_by(|one, other| one.name.cmp(&other.name));
    found.strange.sort();
    Ok(found)
}

fn walk(folder: &Path, inside: &str, depth: usize, found: &mut Found) -> Result<(), Failure> {
    let failed = |path: &Path, error: &std::io::Error| {
        Failure::failed(format!("{}: {error}", path.display()))
    };
    for entry in fs::read_dir(folder).map_err(|error| failed(folder, &error))? {
        let entry = entry.map_err(|error| failed(folder, &error))?;
        let path = entry.path();
        let plain = entry.file_name().to_str().map(str::to_owned);
        // A name that not every system can have cannot move to another computer.
        let Some(plain) = plain.filter(|name| !name.contains('\\')) else {
            found.strange.push(format!("{inside}{}", entry.file_name().to_string_lossy()));
            continue;
        };
        let name = format!("{inside}{plain}");
        // Follows links: what is kept is what they lead to.
        let about = match fs::metadata(&path) {
            Ok(about) => about,
            // It has just gone, as one half written does, or leads nowhere.
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => continue,
            Err(error) => return Err(failed(&path, &error)),
        };
        if about.is_dir() {
            if is_left_to_others(&name) {
                continue;
            }
            if depth == DEEPEST {
                found.strange.push(name);
                continue;
            }
            walk(&path, &format!("{name}/"), depth + 1, found)?;
            continue;
        }
        let secret = match care_of(&name) {
            Some(Care::Store | Care::Passing) => continue,
            Some(Care::Secret) => true,
            Some(Care::Fixed | Care::Edited | Care::ByHand) => false,
            None => {
                found.strange.push(name);
                continue;
            }
        };
        match fs::read(&path) {
            Ok(bytes) => found.files.push(Companion { name, bytes, secret }),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
            Err(error) => return Err(failed(&path, &error)),
        }
    }
    Ok(())
}
