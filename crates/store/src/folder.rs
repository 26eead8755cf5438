//! The data folder: whose it is, who has it open, and how its entries are made to last.

use std::{
    fs::{self, File, TryLockError},
    io::{self, Read},
    path::{Path, PathBuf},
    sync::atomic::{AtomicU64, Ordering},
};

use crate::{Sha256Hex, StoreError, error::During, schema::APPLICATION_ID};

pub(crate) const DATABASE: &str = "store.sqlite";
const LOCK: &str = "store.lock";
const BLOBS: &str = "blobs";
const INCOMING: &str = "incoming";
const UPLOADS: &str = "uploads";
/// A copy that is not whole yet: what is in it counts for nothing.
pub(crate) const ARRIVING: &str = "arriving";
/// A copy that is whole, and about to be put in its place.
pub(crate) const ARRIVED: &str = "arrived";
/// All that a store cut off while it was being made can have left.
pub(crate) const OWN: &[&str] = &[
    DATABASE,
    "store.sqlite-wal",
    "store.sqlite-shm",
    "store.sqlite-journal",
    LOCK,
    BLOBS,
    INCOMING,
    UPLOADS,
    ARRIVING,
    ARRIVED,
];

/// A data folder and this handle's hold on it, given up when dropped.
#[derive(Debug)]
pub(crate) struct Folder {
    path: PathBuf,
    lock: File,
}

impl Folder {
    /// Makes the folder if it is missing; refuses, untouched, one that holds something else, or a copy that was cut off
    /// before it was whole.
    pub(crate) fn claim(path: &Path) -> Result<Self, StoreError> {
        refuse_foreign(path)?;
        if is_half_a_copy(path) && !path.join(ARRIVED).exists() {
            return Err(StoreError::Refused {
                what: format!(
                    "a copy into {} was cut off before it was whole, or goes on still; make it again, and nothing is lost",
                    path.display()
                ),
            });
        }
        Self::set_up(path)
    }

    /// The same for a copy to be made in the folder. Until it is whole, nothing else opens the folder.
    pub(crate) fn claim_for_copy(path: &Path) -> Result<Self, StoreError> {
        refuse_foreign(path)?;
        if !path.join(DATABASE).exists() {
            let doing = "making room for a copy";
            fs::create_dir_all(path.join(ARRIVING)).during(doing)?;
            flush_folder(path)?;
        }
        Self::set_up(path)
    }

    fn set_up(path: &Path) -> Result<Self, StoreError> {
        for folder in [path, &path.join(BLOBS), &path.join(INCOMING), &path.join(UPLOADS)] {
            fs::create_dir_all(folder)
                .during(format_args!("making the folder {}", folder.display()))?;
        }
        let lock = File::options()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path.join(LOCK))
            .during(format_args!("opening {}", path.join(LOCK).display()))?;
        // One spelling for as long as the handle lives, whatever the working folder does.
        let path =
            path.canonicalize().during(format_args!("looking up the folder {}", path.display()))?;
        Ok(Self { path, lock })
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    pub(crate) fn database(&self) -> PathBuf {
        self.path.join(DATABASE)
    }

    pub(crate) fn write_ahead_file(&self) -> PathBuf {
        self.path.join("store.sqlite-wal")
    }

    pub(crate) fn blobs(&self) -> PathBuf {
        self.path.join(BLOBS)
    }

    /// The folder of a blob's file: one of 256, by the first two digits of its hash.
    pub(crate) fn blob_folder(&self, hash: &Sha256Hex) -> PathBuf {
        self.path.join(BLOBS).join(&hash.as_str()[..2])
    }

    pub(crate) fn blob_file(&self, hash: &Sha256Hex) -> PathBuf {
        self.blob_folder(hash).join(hash.as_str())
    }

    /// The file of an upload that is not complete yet.
    pub(crate) fn upload_file(&self, hash: &Sha256Hex) -> PathBuf {
        self.path.join(UPLOADS).join(hash.as_str())
    }

    /// Takes the folder alone, if nobody else has it open.
    pub(crate) fn hold_alone(&self) -> Result<bool, StoreError> {
        match self.lock.try_lock() {
            Ok(()) => Ok(true),
            Err(TryLockError::WouldBlock) => Ok(false),
            Err(TryLockError::Error(error)) => Err(error).during("locking the store"),
        }
    }

    /// Takes the folder together with others; waits while somebody holds it alone.
    pub(crate) fn hold_shared(&self) -> Result<(), StoreError> {
        self.lock.lock_shared().during("locking the store")
    }

    /// Gives up the hold, to take another one.
    pub(crate) fn let_go(&self) -> Result<(), StoreError> {
        self.lock.unlock().during("unlocking the store")
    }

    /// Removes what crashed writers left unfinished. Only for whoever holds the folder alone:
    /// any other handle may be writing there.
    pub(crate) fn sweep(&self) -> Result<(), StoreError> {
        let doing = "sweeping unfinished blobs";
        for entry in fs::read_dir(self.path.join(INCOMING)).during(doing)? {
            fs::remove_file(entry.during(doing)?.path()).during(doing)?;
        }
        let arriving = self.path.join(ARRIVING);
        if !arriving.exists() {
            return Ok(());
        }
        for entry in fs::read_dir(&arriving).during(doing)? {
            let entry = entry.during(doing)?;
            if entry.file_type().during(doing)?.is_dir() {
                fs::remove_dir_all(entry.path()).during(doing)?;
            } else {
                fs::remove_file(entry.path()).during(doing)?;
            }
        }
        // Where there is no database, it says that the folder holds half a copy.
        if self.database().exists() {
            fs::remove_dir(&arriving).during(doing)?;
        }
        Ok(())
    }

    /// Flushes the folder and the folders above it: a new store's own entry must last as well.
    pub(crate) fn flush_with_parents(&self) -> Result<(), StoreError> {
        flush_folder(&self.path)?;
        for parent in self.path.ancestors().skip(1) {
            match sync_folder(parent) {
                // The system's own, where nothing was made for us.
                Err(error)
                    if matches!(
                        error.kind(),
                        io::ErrorKind::PermissionDenied
                            | io::ErrorKind::ReadOnlyFilesystem
                            | io::ErrorKind::InvalidInput
                            | io::ErrorKind::Unsupported
                    ) =>
                {
                    break;
                }
                other => {
                    other.during(format_args!("flushing the folder {}", parent.display()))?;
                }
            }
        }
        Ok(())
    }

    /// A new empty file for a blob on its way in.
    pub(crate) fn incoming(&self) -> Result<Incoming, StoreError> {
        static NEXT: AtomicU64 = AtomicU64::new(0);
        loop {
            let number = NEXT.fetch_add(1, Ordering::Relaxed);
            let path = self.path.join(INCOMING).join(format!("{}-{number}", std::process::id()));
            match File::options().write(true).create_new(true).open(&path) {
                Ok(file) => return Ok(Incoming { file, path, moved: false }),
                // The same process number in another container, or one used again.
                Err(taken) if taken.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(error).during("opening a file for a blob"),
            }
        }
    }
}

/// A blob's file on its way in; removed when dropped unless it was moved to its name.
#[derive(Debug)]
pub(crate) struct Incoming {
    pub(crate) file: File,
    path: PathBuf,
    moved: bool,
}

impl Incoming {
    /// Flushes the file and moves it to its name.
    pub(crate) fn move_to(mut self, name: &Path) -> io::Result<()> {
        self.file.sync_all()?;
        fs::rename(&self.path, name)?;
        self.moved = true;
        Ok(())
    }
}

impl Drop for Incoming {
    fn drop(&mut self) {
        if !self.moved {
            // What cannot be removed now is swept later.
            let _swept_later = fs::remove_file(&self.path);
        }
    }
}

/// Makes the names in a folder last.
pub(crate) fn flush_folder(path: &Path) -> Result<(), StoreError> {
    sync_folder(path).during(format_args!("flushing the folder {}", path.display()))
}

#[cfg(unix)]
fn sync_folder(path: &Path) -> io::Result<()> {
    File::open(path)?.sync_all()
}

/// Elsewhere folders cannot be flushed; the file system's own journal keeps the names.
#[cfg(not(unix))]
fn sync_folder(_path: &Path) -> io::Result<()> {
    Ok(())
}

/// Whether a copy into this folder was begun and is not in its place: there is no database yet.
pub(crate) fn is_half_a_copy(path: &Path) -> bool {
    !path.join(DATABASE).exists() && [ARRIVING, ARRIVED].iter().any(|name| path.join(name).exists())
}

fn refuse_foreign(path: &Path) -> Result<(), StoreError> {
    let not_ours = |why: String| Err(StoreError::NotOurs { folder: path.to_owned(), why });
    let entries = match fs::read_dir(path) {
        Ok(entries) => entries,
        Err(missing) if missing.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(file) if file.kind() == io::ErrorKind::NotADirectory => {
            return not_ours("it is a file".into());
        }
        other => other.during(format_args!("reading the folder {}", path.display()))?,
    };
    let mut names = Vec::new();
    for entry in entries {
        let entry = entry.during(format_args!("reading the folder {}", path.display()))?;
        names.push(entry.file_name().to_string_lossy().into_owned());
    }
    if names.iter().any(|name| name == LOCK) {
        return Ok(());
    }
    if names.iter().any(|name| name == DATABASE) {
        return refuse_foreign_database(path);
    }
    names.sort();
    match names.iter().find(|name| !OWN.contains(&name.as_str())) {
        Some(name) => not_ours(format!("it holds {name:?} but no {DATABASE}")),
        None => Ok(()),
    }
}

/// Reads a database's header (SQLite documentation, "Database File Format", §1.3) without SQLite,
/// which might write. Only where no lock file is: closing the file would drop the locks that an
/// open handle in this process has on it.
fn refuse_foreign_database(path: &Path) -> Result<(), StoreError> {
    let doing = format!("reading {}", path.join(DATABASE).display());
    let mut header = Vec::new();
    File::open(path.join(DATABASE))
        .and_then(|file| file.take(100).read_to_end(&mut header))
        .during(doing)?;
    let owner =
        header.get(68..72).map(|bytes| bytes.iter().fold(0, |all, b| all << 8 | u32::from(*b)));
    let ours = header.is_empty()
        || header.starts_with(b"SQLite format 3\0") && owner == Some(APPLICATION_ID);
    if ours {
        return Ok(());
    }
    Err(StoreError::NotOurs {
        folder: path.to_owned(),
        why: format!("its {DATABASE} belongs to another program"),
    })
}
