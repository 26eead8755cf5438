//! Writing a bag as a folder or a zip file: under another name first, so that no half bag is ever taken for one.

use std::fs::{self, File as DiskFile};
use std::io::{self, BufWriter, Write};
use std::path::Path;

use bag::{Bag, File, write_zip};
use store::{Sha256Hex, Store};

use crate::data_folder::unfinished;
use crate::failure::Failure;
use crate::progress;

/// Whether a path asks for a zip file.
fn is_zip(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("zip"))
}

/// Writes a bag to a new folder, or to a zip file if the path ends in `.zip`. `name` is the folder at the top of the zip
/// file.
pub(crate) fn write(store: &Store, bag: &Bag, name: &str, into: &Path) -> Result<(), Failure> {
    let said = |error: io::Error| Failure::failed(format!("{}: {error}", into.display()));
    if fs::symlink_metadata(into).is_ok() {
        let empty = into.is_dir() && fs::read_dir(into).map_err(said)?.next().is_none();
        if !empty || is_zip(into) {
            return Err(Failure::input(format!("{} is there already", into.display()))
                .hint("name a new folder or zip file with --into; nothing is ever overwritten"));
        }
    }
    let bar = progress::bar(bag.files.len(), "bag");
    let mut bytes = |file: &File| {
        bar.inc(1);
        bytes_of(store, file)
    };
    let unfinished = unfinished(into);
    if is_zip(into) {
        let mut out = BufWriter::new(DiskFile::create(&unfinished).map_err(said)?);
        write_zip(name, &bag.files, &mut out, &mut bytes).map_err(said)?;
        out.flush().and_then(|()| out.get_ref().sync_all()).map_err(said)?;
    } else {
        if unfinished.exists() {
            fs::remove_dir_all(&unfinished).map_err(said)?;
        }
        for file in &bag.files {
            let path = unfinished.join(&file.path);
            if let Some(folder) = path.parent() {
                fs::create_dir_all(folder).map_err(said)?;
            }
            fs::write(&path, bytes(file).map_err(said)?).map_err(said)?;
        }
        if into.exists() {
            fs::remove_dir(into).map_err(said)?;
        }
    }
    bar.finish_and_clear();
    fs::rename(&unfinished, into).map_err(said)
}

/// Writes a bag as a zip file to whoever takes it. `name` is the folder at its top.
pub(crate) fn write_zip_to(
    store: &Store,
    bag: &Bag,
    name: &str,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    write_zip(name, &bag.files, out, &mut |file| bytes_of(store, file)).map_err(Failure::failed)
}

/// The bytes of a bag's file: at hand, or from the store, which checks them.
pub(crate) fn bytes_of(store: &Store, file: &File) -> io::Result<Vec<u8>> {
    if let Some(bytes) = &file.bytes {
        return Ok(bytes.clone());
    }
    let hash = Sha256Hex::new(&file.sha256.to_string()).map_err(io::Error::other)?;
    let kept = store.blob(&hash).map_err(io::Error::other)?;
    kept.ok_or_else(|| io::Error::other(format!("{} is not in the data folder", file.path)))
}
