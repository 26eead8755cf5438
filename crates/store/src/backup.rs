//! A copy of everything, while others go on writing; and putting it back.
//!
//! A backup is a data folder like any other: whatever opens one opens the other. A backup into a folder that has an
//! earlier one copies only blobs that are new or were damaged there, and puts the database and the files beside it in
//! their places last, all at once: cut off anywhere, the folder holds the earlier backup or the new one, whole.

use std::{
    fs::{self, File},
    io::Write,
    path::{Path, PathBuf},
};

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use sha2::{Digest, Sha256};

use crate::{
    Companion, Fault, Progress, Sha256Hex, Store, StoreError,
    blob::{holds, read_pieces},
    error::During,
    folder::{DATABASE, Folder, flush_folder, is_half_a_copy},
    sealed_file::{seal, unseal},
};

/// What goes into a backup beside the store's own, and how far an earlier one is trusted.
#[derive(Debug, Clone, Default)]
pub struct BackupOrder {
    /// Files to take along.
    pub put: Vec<Companion>,
    /// Names of files of an earlier backup that are not here any more.
    pub gone: Vec<String>,
    /// What is asked of the blobs of an earlier backup.
    pub earlier: EarlierBlobs,
}

/// What is asked of a blob that an earlier backup has already.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum EarlierBlobs {
    /// That it reads as it was kept; else it is copied again.
    #[default]
    Read,
    /// That its file has the right length: quicker, and blind to bits that rot.
    Measured,
}

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
    /// Those among them that were there already, and damaged.
    pub replaced: u64,
    /// What could not be copied, because it is damaged or missing here.
    pub faults: Vec<Fault>,
}

impl Store {
    /// Copies everything into a backup at `into`, a new folder or one of an earlier backup. Whatever was acknowledged
    /// before the call is in it; what is written meanwhile may be.
    ///
    /// A damaged blob is left out and named; a damaged database stops the backup, and the earlier one stays. In the backup
    /// every file that was taken along is sealed.
    pub fn back_up(
        &self,
        into: &Path,
        order: &BackupOrder,
        progress: &mut dyn FnMut(Progress),
    ) -> Result<BackedUp, StoreError> {
        self.copy_to(into, order, &order.put, progress)
    }

    fn copy_to(
        &self,
        into: &Path,
        order: &BackupOrder,
        to_seal: &[Companion],
        progress: &mut dyn FnMut(Progress),
    ) -> Result<BackedUp, StoreError> {
        self.refuse_overlap(into)?;
        let target = Folder::claim_for_copy(into)?;
        if !target.hold_alone()? {
            return Err(StoreError::Busy {
                doing: "another program has the backup's folder open".into(),
            });
        }
        target.settle()?;
        target.sweep()?;
        let done = self.copy_into(&target, order, to_seal, progress);
        if done.is_err() {
            // Room is given back; what cannot be removed now is swept later.
            let _swept_later = target.sweep();
        }
        done
    }

    fn copy_into(
        &self,
        target: &Folder,
        order: &BackupOrder,
        to_seal: &[Companion],
        progress: &mut dyn FnMut(Progress),
    ) -> Result<BackedUp, StoreError> {
        let fresh = target.arriving()?.join(DATABASE);
        self.copy_database(&fresh, to_seal, &order.gone)?;
        let snapshot = open_to_read(&fresh)?;
        let mut done = counted(&snapshot)?;
        let blobs = listed(&snapshot)?;
        drop(snapshot);
        let total = u64::try_from(blobs.len()).unwrap_or(u64::MAX);
        for (at, (hash, size)) in (1..).zip(&blobs) {
            let file = target.blob_file(hash);
            let there = fs::metadata(&file).is_ok_and(|file| file.len() == *size);
            // A file that cannot be read is as bad as one that reads wrong.
            let sound = there
                && (order.earlier == EarlierBlobs::Measured || holds(&file, hash).unwrap_or(false));
            if !sound {
                match self.copy_blob(hash, target)? {
                    None => {
                        done.copied += 1;
                        done.replaced += u64::from(there);
                    }
                    Some(fault) => done.faults.push(fault),
                }
            }
            progress(Progress { done: at, total });
        }
        target.stage(&order.put, &order.gone)?;
        target.put_in_place()?;
        target.flush_with_parents()?;
        Ok(done)
    }

    /// Neither folder may lie in the other.
    fn refuse_overlap(&self, into: &Path) -> Result<(), StoreError> {
        let into = in_full(into);
        if into.starts_with(self.folder.path()) || self.folder.path().starts_with(&into) {
            return Err(StoreError::Refused {
                what: format!(
                    "{} lies in the folder that is to be copied, or around it; name another, best on another disk",
                    into.display()
                ),
            });
        }
        Ok(())
    }

    /// One state of the whole database, in a file of its own that seals what is taken along, flushed.
    fn copy_database(
        &self,
        fresh: &Path,
        to_seal: &[Companion],
        gone: &[String],
    ) -> Result<(), StoreError> {
        let doing = "copying the database";
        let name = fresh.to_str().ok_or_else(|| StoreError::Refused {
            what: format!("{} is no text; name a folder whose name is", fresh.display()),
        })?;
        self.connection.execute("vacuum into ?1", [name]).during(doing)?;
        let copied = Connection::open(fresh).during(doing)?;
        let transaction =
            Transaction::new_unchecked(&copied, TransactionBehavior::Immediate).during(doing)?;
        for companion in to_seal {
            seal(&transaction, companion)?;
        }
        for name in gone {
            unseal(&transaction, name)?;
        }
        transaction.commit().during(doing)?;
        drop(copied);
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

    /// Puts this backup back into a new or empty folder, or one where that was cut off, and answers with what is there, and
    /// with everything that is wrong in the backup; the folder then holds all that is sound.
    pub fn restore(
        &self,
        into: &Path,
        order: &BackupOrder,
        progress: &mut dyn FnMut(Progress),
    ) -> Result<BackedUp, StoreError> {
        let begun = is_half_a_copy(into);
        if !begun && fs::read_dir(into).is_ok_and(|mut entries| entries.next().is_some()) {
            return Err(StoreError::Refused {
                what: format!(
                    "{} is not empty; name a new folder to put the backup into",
                    into.display()
                ),
            });
        }
        // What is damaged in the backup keeps its seal, which says so.
        let mut done = self.copy_to(into, order, &[], progress)?;
        let restored = Self::open(into)?;
        let faults = restored.verify(&mut |_| {})?;
        done.faults.extend(faults.into_iter().filter(|fault| {
            // Blobs that could not be copied are named already.
            fault.is_loss() && !matches!(fault, Fault::BlobMissing { .. })
        }));
        Ok(done)
    }
}

/// A path in full, also of a folder that is not there yet.
fn in_full(path: &Path) -> PathBuf {
    for there in path.ancestors() {
        let place = if there.as_os_str().is_empty() { Path::new(".") } else { there };
        if let (Ok(known), Ok(rest)) = (place.canonicalize(), path.strip_prefix(there)) {
            return known.join(rest);
        }
    }
    path.to_owned()
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
        replaced: 0,
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
