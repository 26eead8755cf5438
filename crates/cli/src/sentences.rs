//! The file of the inspector's own stock sentences, in the data folder.

use std::path::PathBuf;

use field::Sentences;
use store::Companion;

use crate::data_folder::{Place, read_text};
use crate::failure::Failure;

/// The file's name in the data folder.
pub(crate) const FILE: &str = "sentences.json";

/// Where the file is.
pub(crate) fn path(place: &Place) -> Result<PathBuf, Failure> {
    Ok(place.folder()?.join(FILE))
}

/// The list; empty where there is no file yet.
pub(crate) fn load(place: &Place) -> Result<Sentences, Failure> {
    let path = path(place)?;
    if !path.exists() {
        return Ok(Sentences::default());
    }
    Sentences::read(&read_text(&path)?).map_err(|why| {
        Failure::input(format!("{}: {why}", path.display()))
            .hint("mend the file with any editor; nothing in it was changed")
    })
}

/// Writes the list, beside the old file first, so that a cut-off leaves the old one; and seals it.
pub(crate) fn save(place: &Place, sentences: &Sentences) -> Result<(), Failure> {
    let bytes = sentences.write().into_bytes();
    place.store()?.put_file(&Companion { name: FILE.to_owned(), bytes, secret: false })?;
    Ok(())
}
