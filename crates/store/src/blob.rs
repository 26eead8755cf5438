//! Photos, their renditions, reports: whole files named by the SHA-256 of their bytes.
//!
//! A blob becomes kept in this order, and only then is it answered for: its bytes are written to
//! a file in `incoming/`, the file is flushed, it is moved to its name, the folders are flushed,
//! a row is committed. A crash in between leaves an unfinished file, which is swept, or a whole
//! one without a row, which the next `put_blob` of the same bytes takes over.

use std::{
    fs::{self, File},
    io::{self, Read, Write},
    path::Path,
};

use rusqlite::OptionalExtension;
use sha2::{Digest, Sha256};

use crate::{
    Sha256Hex, Store, StoreError,
    error::During,
    folder::{Incoming, flush_folder},
    row_seal::changing,
};

/// A blob that is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredBlob {
    /// Its name.
    pub hash: Sha256Hex,
    /// How many bytes it has.
    pub size: u64,
}

impl Store {
    /// Keeps `bytes` and answers with their hash. A repeat is harmless; it mends a damaged or
    /// missing file.
    pub fn put_blob(&self, bytes: &[u8]) -> Result<Sha256Hex, StoreError> {
        let hash = Sha256Hex::of(bytes);
        if self.is_whole(&hash)? {
            self.keep_in_place(&hash, length(bytes))?;
            return Ok(hash);
        }
        let mut incoming = self.folder.incoming()?;
        incoming.file.write_all(bytes).during(format_args!("writing blob {hash}"))?;
        self.move_in(incoming, &hash, length(bytes))?;
        Ok(hash)
    }

    /// Keeps what is in the file at `path`, of any size, and answers with its hash.
    pub fn put_blob_from_file(&self, path: &Path) -> Result<Sha256Hex, StoreError> {
        let reading = format!("reading {}", path.display());
        let mut source = File::open(path).during(&reading)?;
        let mut incoming = self.folder.incoming()?;
        let mut digest = Sha256::new();
        let mut size = 0;
        read_pieces(&mut source, &reading, |piece| {
            digest.update(piece);
            size += length(piece);
            incoming
                .file
                .write_all(piece)
                .during(format_args!("writing {} as a blob", path.display()))
        })?;
        let hash = Sha256Hex::from_digest(digest.finalize().into());
        if self.is_whole(&hash)? {
            self.keep_in_place(&hash, size)?;
        } else {
            self.move_in(incoming, &hash, size)?;
        }
        Ok(hash)
    }

    /// The bytes of a blob, checked; `None` if it was never kept here.
    pub fn blob(&self, hash: &Sha256Hex) -> Result<Option<Vec<u8>>, StoreError> {
        if self.recorded_size(hash)?.is_none() {
            return Ok(None);
        }
        match fs::read(self.folder.blob_file(hash)) {
            Ok(bytes) if Sha256Hex::of(&bytes) == *hash => Ok(Some(bytes)),
            Ok(_) => Err(StoreError::Damaged { what: format!("blob {hash} is not what was kept") }),
            Err(missing) if missing.kind() == io::ErrorKind::NotFound => {
                Err(StoreError::Damaged { what: format!("the file of blob {hash} is missing") })
            }
            Err(error) => Err(error).during(format_args!("reading blob {hash}")),
        }
    }

    /// The file of a blob, checked, at its beginning, with its size; `None` if it was never kept here. For
    /// films, which are too long to be held in memory.
    pub fn blob_file(&self, hash: &Sha256Hex) -> Result<Option<(File, u64)>, StoreError> {
        let Some(size) = self.recorded_size(hash)? else { return Ok(None) };
        if !self.is_whole(hash)? {
            return Err(StoreError::Damaged {
                what: format!("the file of blob {hash} is missing or not what was kept"),
            });
        }
        let file = File::open(self.folder.blob_file(hash));
        Ok(Some((file.during(format_args!("reading blob {hash}"))?, size)))
    }

    /// How many bytes a blob has; `None` if it was never kept here.
    pub fn blob_size(&self, hash: &Sha256Hex) -> Result<Option<u64>, StoreError> {
        self.recorded_size(hash)
    }

    /// Whether a blob is kept and its file is there in full length. `false` also where the file
    /// was lost, so that asking for what is missing brings it back.
    pub fn has_blob(&self, hash: &Sha256Hex) -> Result<bool, StoreError> {
        let Some(size) = self.recorded_size(hash)? else { return Ok(false) };
        match fs::metadata(self.folder.blob_file(hash)) {
            Ok(file) => Ok(file.len() == size),
            Err(missing) if missing.kind() == io::ErrorKind::NotFound => Ok(false),
            Err(error) => Err(error).during(format_args!("looking for blob {hash}")),
        }
    }

    /// All blobs that were kept, by hash.
    pub fn blobs(&self) -> Result<Vec<StoredBlob>, StoreError> {
        let doing = "listing the blobs";
        let mut statement = self
            .connection
            .prepare_cached("select hash, size from blob order by hash")
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut blobs = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            let hash: String = row.get(0).during(doing)?;
            let hash = Sha256Hex::new(&hash).map_err(|refused| StoreError::Damaged {
                what: format!("the list of blobs: {refused}"),
            })?;
            blobs.push(StoredBlob { hash, size: row.get(1).during(doing)? });
        }
        Ok(blobs)
    }

    /// Whether the file under this name is there and holds what the name says.
    pub(crate) fn is_whole(&self, hash: &Sha256Hex) -> Result<bool, StoreError> {
        holds(&self.folder.blob_file(hash), hash)
    }

    /// Moves a written file to its name. Nothing sound is there, or another writer has just put
    /// the same bytes there: replacing them loses nothing.
    fn move_in(&self, incoming: Incoming, hash: &Sha256Hex, size: u64) -> Result<(), StoreError> {
        let doing = format!("keeping blob {hash}");
        fs::create_dir_all(self.folder.blob_folder(hash)).during(&doing)?;
        incoming.move_to(&self.folder.blob_file(hash)).during(&doing)?;
        self.flush_name(hash)?;
        self.record(hash, size)
    }

    /// Answers for a whole file that is there already. Unless a row says that it was flushed, it
    /// may be from a writer that is still at it or that crashed before it got there.
    fn keep_in_place(&self, hash: &Sha256Hex, size: u64) -> Result<(), StoreError> {
        if self.recorded_size(hash)? == Some(size) {
            return Ok(());
        }
        File::options()
            .read(true)
            .write(true)
            .open(self.folder.blob_file(hash))
            .and_then(|file| file.sync_all())
            .during(format_args!("flushing blob {hash}"))?;
        self.flush_name(hash)?;
        self.record(hash, size)
    }

    /// Flushes the folder of a blob, and the first time the folder above: whoever made it may not
    /// have come to that.
    pub(crate) fn flush_name(&self, hash: &Sha256Hex) -> Result<(), StoreError> {
        let folder = self.folder.blob_folder(hash);
        flush_folder(&folder)?;
        if !self.flushed.borrow().contains(&folder) {
            flush_folder(&self.folder.blobs())?;
            self.flushed.borrow_mut().insert(folder);
        }
        Ok(())
    }

    pub(crate) fn record(&self, hash: &Sha256Hex, size: u64) -> Result<(), StoreError> {
        let doing = format!("recording blob {hash}");
        self.write(&doing, |transaction| {
            changing(transaction, "blob", "hash = ?1", &[&hash.as_str()], || {
                transaction
                    .execute(
                        "insert into blob (hash, size, created_ms) values (?1, ?2, ?3)
                         on conflict (hash) do update set size = excluded.size
                         where size <> excluded.size",
                        (hash.as_str(), size, crate::clock::unix_milliseconds()),
                    )
                    .during(&doing)?;
                Ok(())
            })
        })
    }

    fn recorded_size(&self, hash: &Sha256Hex) -> Result<Option<u64>, StoreError> {
        self.connection
            .prepare_cached("select size from blob where hash = ?1")
            .and_then(|mut statement| {
                statement.query_row([hash.as_str()], |row| row.get(0)).optional()
            })
            .during(format_args!("looking up blob {hash}"))
    }
}

/// Whether the file is there and holds the bytes with this hash.
pub(crate) fn holds(path: &Path, hash: &Sha256Hex) -> Result<bool, StoreError> {
    let doing = format!("reading blob {hash}");
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(missing) if missing.kind() == io::ErrorKind::NotFound => return Ok(false),
        Err(error) => return Err(error).during(doing),
    };
    let mut digest = Sha256::new();
    read_pieces(&mut file, &doing, |piece| {
        digest.update(piece);
        Ok(())
    })?;
    Ok(Sha256Hex::from_digest(digest.finalize().into()) == *hash)
}

/// Reads to the end, a piece at a time, so that a film of any length fits in memory.
pub(crate) fn read_pieces(
    source: &mut File,
    doing: &str,
    mut each: impl FnMut(&[u8]) -> Result<(), StoreError>,
) -> Result<(), StoreError> {
    let mut piece = vec![0; 256 * 1024];
    loop {
        match source.read(&mut piece) {
            Ok(0) => return Ok(()),
            Ok(read) => each(&piece[..read])?,
            Err(again) if again.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error).during(doing),
        }
    }
}

fn length(bytes: &[u8]) -> u64 {
    u64::try_from(bytes.len()).expect("a length in memory fits 64 bits")
}
