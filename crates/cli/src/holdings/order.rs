//! What a backup is told to take along of a data folder, and what of it to leave as an earlier backup has it.

use std::collections::BTreeSet;
use std::path::Path;

use store::{BackupOrder, EarlierBlobs, Sha256Hex, Store};

use super::{Care, FileFault, Found, care_of, found, sound};
use crate::failure::Failure;

/// An order, and what is to be said about it.
pub(crate) struct Ordered {
    pub(crate) order: BackupOrder,
    /// Files that are damaged here: an earlier backup keeps its own.
    pub(crate) faults: Vec<FileFault>,
    /// Names that the list does not know: they are not copied.
    pub(crate) strange: Vec<String>,
}

/// What a backup of the store's folder into another takes along.
///
/// A file that is not as it was kept does not go over the sound one of an earlier backup. What a person wrote is taken as
/// it is. Keys are never taken out of a backup.
pub(crate) fn backup_order(
    store: &Store,
    into: &Path,
    earlier: EarlierBlobs,
) -> Result<Ordered, Failure> {
    let here = found(store.folder())?;
    let faults = damaged(store, &here)?;
    let known: BTreeSet<&str> = here
        .files
        .iter()
        .map(|file| file.name.as_str())
        .chain(faults.iter().map(|fault| fault.name.as_str()))
        .collect();
    let there = if into.is_dir() { found(into)? } else { Found::default() };
    let gone = there
        .files
        .into_iter()
        .map(|file| file.name)
        .filter(|name| !known.contains(name.as_str()))
        .filter(|name| matches!(care_of(name), Some(Care::Edited | Care::ByHand)))
        .collect();
    let is_damaged = |name: &str| faults.iter().any(|fault| fault.name == name);
    let put = here.files.into_iter().filter(|file| !is_damaged(&file.name)).collect();
    Ok(Ordered { order: BackupOrder { put, gone, earlier }, faults, strange: here.strange })
}

/// What a restore of a backup takes along: all of it.
pub(crate) fn restore_order(backup: &Store) -> Result<Ordered, Failure> {
    let Found { files: put, strange } = found(backup.folder())?;
    let order = BackupOrder { put, gone: Vec::new(), earlier: EarlierBlobs::Read };
    Ok(Ordered { order, faults: Vec::new(), strange })
}

/// The files that are not what was kept.
fn damaged(store: &Store, here: &Found) -> Result<Vec<FileFault>, Failure> {
    let mut faults = Vec::new();
    for sealed in store.sealed_files()? {
        let file = here.files.iter().find(|file| file.name == sealed.name);
        if file.is_some_and(|file| Sha256Hex::of(&file.bytes) == sealed.sha256) {
            continue;
        }
        let why = match (care_of(&sealed.name), file) {
            (Some(Care::ByHand), _) | (Some(Care::Edited), None) => continue,
            // Sentences that somebody edited are theirs, as long as they can be read.
            (Some(Care::Edited), Some(file)) => match sound::unreadable(file) {
                Some(why) => why,
                None => continue,
            },
            (_, Some(_)) => "is not what was kept".to_owned(),
            (_, None) => "is missing".to_owned(),
        };
        faults.push(FileFault { name: sealed.name, why, is_loss: true });
    }
    Ok(faults)
}
