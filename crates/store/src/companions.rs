//! Files that a backup takes along beside the store's own: written aside first, then all put in their places at once.
//!
//! A copy goes into `arriving/`, whole and flushed; one rename to `arrived/` says that it holds from now on; then each file
//! is moved to its place, the database last. Cut off before that rename, the folder holds what it held; cut off after it,
//! whoever opens the folder next goes on moving.

use std::{
    fs::{self, DirBuilder, File},
    io::{self, Write},
    path::{Path, PathBuf},
};

use crate::{
    StoreError,
    error::During,
    folder::{ARRIVED, ARRIVING, DATABASE, Folder, OWN, flush_folder},
};

/// A file to take along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Companion {
    /// Its name in the data folder, such as `texts/es/points.toml`.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
    /// Whether its owner alone may read it, and look into its folder.
    pub secret: bool,
}

/// Names to take away when a copy is put in its place, each ended by a zero byte.
const GONE: &str = "gone";

impl Folder {
    /// Where the copy is written first, empty.
    pub(crate) fn arriving(&self) -> Result<PathBuf, StoreError> {
        let arriving = self.path().join(ARRIVING);
        fs::create_dir_all(&arriving).during("making room for a copy")?;
        Ok(arriving)
    }

    /// Writes the companions, and the names of those that are to go, into the copy that arrives.
    pub(crate) fn stage(&self, put: &[Companion], gone: &[String]) -> Result<(), StoreError> {
        let arriving = self.arriving()?;
        for companion in put {
            write_new(&arriving.join(&companion.name), companion)?;
        }
        let mut names = Vec::new();
        for name in gone {
            check_name(name)?;
            names.extend_from_slice(name.as_bytes());
            names.push(0);
        }
        let mut file = File::create_new(arriving.join(GONE)).during("copying")?;
        file.write_all(&names).and_then(|()| file.sync_all()).during("copying")?;
        for folder in tree(&arriving)?.folders {
            flush_folder(&folder)?;
        }
        Ok(())
    }

    /// Says that the copy holds, and puts it in its place.
    pub(crate) fn put_in_place(&self) -> Result<(), StoreError> {
        let doing = "putting the copy in its place";
        fs::rename(self.path().join(ARRIVING), self.path().join(ARRIVED)).during(doing)?;
        flush_folder(self.path())?;
        self.settle()
    }

    /// Goes on with putting a copy in its place, if that was begun. Every step may be done twice. Only for whoever holds
    /// the folder alone.
    pub(crate) fn settle(&self) -> Result<(), StoreError> {
        let doing = "putting the copy in its place";
        let arrived = self.path().join(ARRIVED);
        if !arrived.is_dir() {
            return Ok(());
        }
        if let Some(names) = unless_missing(fs::read(arrived.join(GONE))).during(doing)? {
            for name in names.split(|byte| *byte == 0).filter(|name| !name.is_empty()) {
                let name = String::from_utf8_lossy(name);
                check_name(&name)?;
                unless_missing(fs::remove_file(self.path().join(&*name))).during(doing)?;
            }
        }
        let tree = tree(&arrived)?;
        let inside = |path: &Path| {
            let name = path.strip_prefix(&arrived).unwrap_or(path);
            (name.to_owned(), self.path().join(name))
        };
        let mut touched = vec![self.path().to_owned()];
        for folder in tree.folders.iter().filter(|folder| **folder != arrived) {
            let (_, place) = inside(folder);
            make_folder(&place, is_private(folder)).during(doing)?;
            touched.push(place);
        }
        for file in &tree.files {
            let (name, place) = inside(file);
            if name == Path::new(GONE) || name == Path::new(DATABASE) {
                continue;
            }
            if place.is_dir() {
                // What was in it is gone by now; a folder with anything else in it stops here, and nothing is lost.
                fs::remove_dir(&place)
                    .during(format_args!("making room for {}", place.display()))?;
            }
            fs::rename(file, &place).during(doing)?;
        }
        for folder in &touched {
            flush_folder(folder)?;
        }
        if arrived.join(DATABASE).exists() {
            // The earlier one's write-ahead file would be taken for the new one's.
            for name in ["store.sqlite-wal", "store.sqlite-shm", "store.sqlite-journal"] {
                unless_missing(fs::remove_file(self.path().join(name))).during(doing)?;
            }
            flush_folder(self.path())?;
            fs::rename(arrived.join(DATABASE), self.database()).during(doing)?;
            flush_folder(self.path())?;
        }
        fs::remove_dir_all(&arrived).during(doing)?;
        flush_folder(self.path())
    }
}

/// Writes a file of the data folder whole or not at all, in place of what was there, flushed.
pub(crate) fn write_companion(folder: &Path, companion: &Companion) -> Result<(), StoreError> {
    let doing = format!("writing {}", companion.name);
    let place = folder.join(&companion.name);
    let mut beside = place.clone().into_os_string();
    beside.push(".new");
    let beside = PathBuf::from(beside);
    unless_missing(fs::remove_file(&beside)).during(&doing)?;
    write_new(&beside, companion)?;
    fs::rename(&beside, &place).during(&doing)?;
    flush_folder(place.parent().unwrap_or(folder))
}

/// Writes a companion's bytes into a new file, readable by its owner alone from the first byte on where it is secret.
fn write_new(file: &Path, companion: &Companion) -> Result<(), StoreError> {
    check_name(&companion.name)?;
    let doing = format!("writing {}", companion.name);
    // A secret in the data folder itself does not make that one private.
    if let (Some(folder), Some((_, _))) = (file.parent(), companion.name.split_once('/')) {
        make_folder(folder, companion.secret).during(&doing)?;
    }
    let mut options = File::options();
    options.write(true).create_new(true);
    #[cfg(unix)]
    if companion.secret {
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    }
    options
        .open(file)
        .and_then(|mut file| file.write_all(&companion.bytes).and_then(|()| file.sync_all()))
        .during(&doing)
}

/// A folder's files and folders, itself first, each folder before what is in it.
struct Tree {
    files: Vec<PathBuf>,
    folders: Vec<PathBuf>,
}

fn tree(root: &Path) -> Result<Tree, StoreError> {
    let doing = format!("listing {}", root.display());
    let mut tree = Tree { files: Vec::new(), folders: vec![root.to_owned()] };
    let mut at = 0;
    while let Some(folder) = tree.folders.get(at).cloned() {
        for entry in fs::read_dir(&folder).during(&doing)? {
            let entry = entry.during(&doing)?;
            if entry.file_type().during(&doing)?.is_dir() {
                tree.folders.push(entry.path());
            } else {
                tree.files.push(entry.path());
            }
        }
        at += 1;
    }
    Ok(tree)
}

/// A companion's name leads nowhere but into the folder, and to nothing of the store's own.
fn check_name(name: &str) -> Result<(), StoreError> {
    let parts: Vec<&str> = name.split('/').collect();
    let bad = |part: &&str| {
        part.is_empty() || *part == "." || *part == ".." || part.contains(['\0', '\\'])
    };
    if parts.iter().any(bad)
        || parts.first().is_some_and(|first| OWN.contains(first))
        || name == GONE
    {
        return Err(StoreError::Refused {
            what: format!("{name:?} is no name of a file beside the store"),
        });
    }
    Ok(())
}

/// Makes a folder that its owner alone may look into, or an ordinary one; one that is there is made private too.
fn make_folder(folder: &Path, private: bool) -> io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    if private {
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    }
    builder.create(folder)?;
    #[cfg(unix)]
    if private && !is_private(folder) {
        let mode = std::os::unix::fs::PermissionsExt::from_mode(0o700);
        // A disk without such rights (FAT) refuses; then whoever has the disk reads it.
        let _has_no_rights = fs::set_permissions(folder, mode);
    }
    Ok(())
}

#[cfg(unix)]
fn is_private(folder: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt as _;
    fs::metadata(folder).is_ok_and(|folder| folder.permissions().mode() & 0o077 == 0)
}

#[cfg(not(unix))]
fn is_private(_folder: &Path) -> bool {
    false
}

/// The answer, or nothing where the file is not there.
fn unless_missing<T>(outcome: io::Result<T>) -> io::Result<Option<T>> {
    match outcome {
        Ok(answer) => Ok(Some(answer)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}
