//! A copy of everything, while others go on writing; and putting it back.
//!
//! A backup is a data folder like any other: whatever opens one opens the other. A backup into a folder that has an
//! earlier one copies only blobs that are new, and replaces the database last, in one step: cut off anywhere, the folder
//! holds the earlier backup or the new one, whole.

use std::{
    fs::{self, File},
    io::Write,
    path::Path,
};

use rusqlite::{Connection, OpenFlags};
use sha2::{Digest, Sha256};

use crate::{
    Fault, Progress, Sha256Hex, Store, StoreError,
    blob::read_pieces,
    error::During,
    folder::{Folder, flush_folder},
};

/// What a backup holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackedUp {
    /// Jobs.
    pub jobs: u64,
    /// Changes of all jobs.
    pub changes: u64,
    /// Blobs in all.
    pub blobs: u64,
    /// Blobs that were copied this time; the others were there from an earlier backup.
    pub copied: u64,
    /// Blobs that could not be copied, because they are damaged or missing here.
    pub faults: Vec<Fault>,
}

impl Store {
    /// Copies everything into a backup at `into`, a new folder or one of an earlier backup. Whatever was acknowledged
    /// before the call is in it; what is written meanwhile may be.
    ///
    /// A damaged blob is left out and named; a damaged database stops the backup, and the earlier one stays.
    pub fn back_up(
        &self,
        into: &Path,
        progress: &mut dyn FnMut(Progress),
    ) -> Result<BackedUp, StoreError> {
        let target = Folder::claim(into)?;
        if target.path().starts_with(self.folder.path())
            || self.folder.path().starts_with(target.path())
        {
            return Err(StoreError::Refused {
                what: format!(
                    "{} lies in the folder that is to be copied, or around it; name another, best on another disk",
                    target.path().display()
                ),
            });
        }
        if !target.hold_alone()? {
            return Err(StoreError::Busy {
                doing: "another program has the backup's folder open".into(),
            });
        }
        target.sweep()?;
        let fresh = target.incoming_file("database");
        self.copy_database(&fresh)?;
        let snapshot = open_to_read(&fresh)?;
        let mut done = counted(&snapshot)?;
        let blobs = listed(&snapshot)?;
        drop(snapshot);
        let total = u64::try_from(blobs.len()).unwrap_or(u64::MAX);
        for (at, (hash, size)) in (1..).zip(&blobs) {
            let there = fs::metadata(target.blob_file(hash)).is_ok_and(|file| file.len() == *size);
            if !there {
                match self.copy_blob(hash, &target)? {
                    None => done.copied += 1,
                    Some(fault) => done.faults.push(fault),
                }
            }
            progress(Progress { done: at, total });
        }
        put_database(&target, &fresh)?;
        target.flush_with_parents()?;
        Ok(done)
    }

    /// One state of the whole database, in a file of its own, flushed.
    fn copy_database(&self, fresh: &Path) -> Result<(), StoreError> {
        let doing = "copying the database";
        let name = fresh.to_str().ok_or_else(|| StoreError::Refused {
            what: format!("{} is no text; name a folder whose name is", fresh.display()),
        })?;
        self.connection.execute("vacuum into ?1", [name]).during(doing)?;
        File::options()
            .read(true)
            .write(true)
            .open(fresh)
            .and_then(|file| file.sync_all())
            .during(doing)
    }

    /// Copies a blob, checking it on the way; the fault, if it is not what was kept.
    fn copy_blob(&self, hash: &Sha256Hex, target: &Folder) -> Result<Option<Fault>, StoreError> {
        let doing = format!("copying blob {hash}");
        let mut source = match File::open(self.folder.blob_file(hash)) {
            Ok(file) => file,
            Err(missing) if missing.kind() == std::io::ErrorKind::NotFound => {
                return Ok(Some(Fault::BlobMissing { hash: hash.clone() }));
            }
            Err(error) => return Err(error).during(doing),
        };
        let mut incoming = target.incoming()?;
        let mut digest = Sha256::new();
        read_pieces(&mut source, &doing, |piece| {
            digest.update(piece);
            incoming.file.write_all(piece).during(&doing)
        })?;
        if Sha256Hex::from_digest(digest.finalize().into()) != *hash {
            return Ok(Some(Fault::BlobDamaged { hash: hash.clone() }));
        }
        let folder = target.blob_folder(hash);
        fs::create_dir_all(&folder).during(&doing)?;
        incoming.move_to(&target.blob_file(hash)).during(&doing)?;
        flush_folder(&folder)?;
        flush_folder(&target.blobs())?;
        Ok(None)
    }

    /// Puts a backup back into a new or empty folder and answers with what is there, and with everything that is wrong
    /// in the backup; the folder then holds all that is sound.
    pub fn restore(
        backup: &Path,
        into: &Path,
        progress: &mut dyn FnMut(Progress),
    ) -> Result<BackedUp, StoreError> {
        if !backup.join("store.sqlite").is_file() {
            return Err(StoreError::NotOurs {
                folder: backup.to_owned(),
                why: "it holds no store.sqlite".into(),
            });
        }
        if fs::read_dir(into).is_ok_and(|mut entries| entries.next().is_some()) {
            return Err(StoreError::Refused {
                what: format!(
                    "{} is not empty; name a new folder to put the backup into",
                    into.display()
                ),
            });
        }
        let kept = Self::open(backup)?;
        let mut done = kept.back_up(into, progress)?;
        let restored = Self::open(into)?;
        let faults = restored.verify(&mut |_| {})?;
        done.faults.extend(faults.into_iter().filter(|fault| {
            // Blobs that could not be copied are named already.
            fault.is_loss() && !matches!(fault, Fault::BlobMissing { .. })
        }));
        Ok(done)
    }
}

fn open_to_read(database: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    Connection::open_with_flags(database, flags).during("reading the copied database")
}

fn counted(snapshot: &Connection) -> Result<BackedUp, StoreError> {
    let count = |table: &str| {
        snapshot
            .query_row(&format!("select count(*) from {table}"), [], |row| row.get(0))
            .during("counting what was copied")
    };
    Ok(BackedUp {
        jobs: count("job")?,
        changes: count("change")?,
        blobs: count("blob")?,
        copied: 0,
        faults: Vec::new(),
    })
}

fn listed(snapshot: &Connection) -> Result<Vec<(Sha256Hex, u64)>, StoreError> {
    let doing = "listing the blobs to copy";
    let mut statement =
        snapshot.prepare("select hash, size from blob order by hash").during(doing)?;
    let mut rows = statement.query([]).during(doing)?;
    let mut blobs = Vec::new();
    while let Some(row) = rows.next().during(doing)? {
        let hash: String = row.get(0).during(doing)?;
        let hash = Sha256Hex::new(&hash).map_err(|refused| StoreError::Damaged {
            what: format!("the list of blobs: {refused}"),
        })?;
        blobs.push((hash, row.get(1).during(doing)?));
    }
    Ok(blobs)
}

/// Puts the copied database in the place of an earlier one.
fn put_database(target: &Folder, fresh: &Path) -> Result<(), StoreError> {
    let doing = "putting the copied database in its place";
    // An earlier one's write-ahead file would be taken for the new one's: its content goes where it belongs first.
    if target.write_ahead_file().exists() {
        let earlier = Connection::open(target.database()).during(doing)?;
        earlier.pragma_update(None, "journal_mode", "delete").during(doing)?;
    }
    fs::rename(fresh, target.database()).during(doing)?;
    flush_folder(target.path())
}
