//! Blobs that arrive in pieces: each piece goes to the end of a file in `uploads/` and is flushed;
//! when all bytes are there their SHA-256 must be the blob's name, and the file becomes the blob.
//! A restart finds the file as it was left, and the sender asks how long it is.

use std::{
    fs::{self, File, TryLockError},
    io::{self, Seek, SeekFrom, Write},
    path::{Path, PathBuf},
};

use sha2::{Digest, Sha256};

use crate::{
    JobId, Sha256Hex, Store, StoreError, blob::read_pieces, error::During, row_seal::changing,
};

/// How far an upload is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Upload {
    /// So many bytes are there, from the beginning.
    Waiting {
        /// Where the next piece starts.
        offset: u64,
    },
    /// All of it is there, has the right SHA-256, and is on disk as a blob.
    Stored,
    /// The piece starts elsewhere than where the upload stands; nothing was written.
    WrongOffset {
        /// Where the next piece starts.
        offset: u64,
    },
    /// All bytes were there and had another SHA-256; they were thrown away. Begin again.
    Damaged,
}

impl Store {
    /// How far the upload of this blob is. One whose bytes are all there is completed.
    pub fn upload_state(&self, hash: &Sha256Hex, size: u64) -> Result<Upload, StoreError> {
        if self.has_blob(hash)? {
            return Ok(Upload::Stored);
        }
        self.state_in(&self.folder.upload_file(hash), hash, size)
    }

    /// Adds a piece that starts at `offset` to the upload of a blob of `size` bytes; completes the
    /// upload if it is the last one.
    pub fn upload_piece(
        &self,
        hash: &Sha256Hex,
        size: u64,
        offset: u64,
        piece: &[u8],
    ) -> Result<Upload, StoreError> {
        if self.has_blob(hash)? {
            return Ok(Upload::Stored);
        }
        self.piece_in(&self.folder.upload_file(hash), hash, size, offset, piece)
    }

    /// The same for somebody who may know of one job alone: what others have given, whole or in part, does not count,
    /// for a hash is no proof of having the bytes. Once all of them have come for this job, the blob belongs to it.
    pub fn job_upload_state(
        &self,
        job: &JobId,
        hash: &Sha256Hex,
        size: u64,
    ) -> Result<Upload, StoreError> {
        if self.job_has_blob(job, hash)? {
            return self.upload_state(hash, size);
        }
        let upload = self.state_in(&self.own_upload_file(job, hash), hash, size)?;
        self.note_if_stored(job, hash, upload)
    }

    /// As [`Store::upload_piece`], for somebody who may know of one job alone; see [`Store::job_upload_state`].
    pub fn job_upload_piece(
        &self,
        job: &JobId,
        hash: &Sha256Hex,
        size: u64,
        offset: u64,
        piece: &[u8],
    ) -> Result<Upload, StoreError> {
        if self.job_has_blob(job, hash)? {
            return self.upload_piece(hash, size, offset, piece);
        }
        let own = self.own_upload_file(job, hash);
        let upload = self.piece_in(&own, hash, size, offset, piece)?;
        self.note_if_stored(job, hash, upload)
    }

    /// Where a blob comes together for one job alone: beside the uploads of others, under a name that none of them has.
    fn own_upload_file(&self, job: &JobId, hash: &Sha256Hex) -> PathBuf {
        self.folder.upload_file(&Sha256Hex::of(format!("{hash} for {job}").as_bytes()))
    }

    fn note_if_stored(
        &self,
        job: &JobId,
        hash: &Sha256Hex,
        upload: Upload,
    ) -> Result<Upload, StoreError> {
        if upload == Upload::Stored {
            self.add_job_blob(job, hash)?;
        }
        Ok(upload)
    }

    fn state_in(&self, path: &Path, hash: &Sha256Hex, size: u64) -> Result<Upload, StoreError> {
        match fs::metadata(path) {
            Ok(file) if file.len() < size => Ok(Upload::Waiting { offset: file.len() }),
            Ok(_) => self.piece_in(path, hash, size, size, &[]),
            Err(missing) if missing.kind() == io::ErrorKind::NotFound && size > 0 => {
                Ok(Upload::Waiting { offset: 0 })
            }
            Err(missing) if missing.kind() == io::ErrorKind::NotFound => {
                self.piece_in(path, hash, 0, 0, &[])
            }
            Err(error) => Err(error).during(format_args!("looking for the upload of {hash}")),
        }
    }

    fn piece_in(
        &self,
        path: &Path,
        hash: &Sha256Hex,
        size: u64,
        offset: u64,
        piece: &[u8],
    ) -> Result<Upload, StoreError> {
        let doing = format!("adding to the upload of {hash}");
        let end = u64::try_from(piece.len()).ok().and_then(|length| offset.checked_add(length));
        if end.is_none_or(|end| end > size) {
            return Err(StoreError::Refused {
                what: format!(
                    "a piece of {} bytes at {offset} goes beyond the {size} bytes of {hash}",
                    piece.len()
                ),
            });
        }
        let mut file = File::options()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)
            .during(&doing)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(StoreError::Busy { doing }),
            Err(TryLockError::Error(error)) => return Err(error).during(doing),
        }
        // If another one has just completed it, the file is the blob by now: as long as `size`, so
        // that no piece fits any more.
        let there = file.metadata().during(&doing)?.len();
        if there > size {
            drop(file);
            fs::remove_file(path).during(&doing)?;
            return Ok(Upload::Damaged);
        }
        if offset != there {
            return Ok(Upload::WrongOffset { offset: there });
        }
        if !piece.is_empty() {
            file.seek(SeekFrom::Start(there)).during(&doing)?;
            if let Err(error) = file.write_all(piece).and_then(|()| file.sync_data()) {
                // Half a piece is taken back, so that the sender's count stays right.
                let _asked_again = file.set_len(there);
                return Err(error).during(doing);
            }
        }
        match end {
            Some(end) if end < size => Ok(Upload::Waiting { offset: end }),
            _ => self.complete_upload(path, file, hash, size),
        }
    }

    /// Remembers that a blob belongs to a job.
    pub fn add_job_blob(&self, job: &JobId, hash: &Sha256Hex) -> Result<(), StoreError> {
        let doing = format!("noting blob {hash} for job \"{job}\"");
        if self.job_has_blob(job, hash)? {
            return Ok(());
        }
        self.write(&doing, |transaction| {
            crate::job::head_seq(transaction, job)?;
            let key: [&dyn rusqlite::ToSql; 2] = [&job.as_str(), &hash.as_str()];
            changing(transaction, "job_blob", "job = ?1 and hash = ?2", &key, || {
                transaction
                    .execute(
                        "insert into job_blob (job, hash) values (?1, ?2) on conflict do nothing",
                        (job.as_str(), hash.as_str()),
                    )
                    .during(&doing)?;
                Ok(())
            })
        })
    }

    /// Whether a blob was given for a job.
    pub fn job_has_blob(&self, job: &JobId, hash: &Sha256Hex) -> Result<bool, StoreError> {
        self.connection
            .prepare_cached("select exists (select 1 from job_blob where job = ?1 and hash = ?2)")
            .and_then(|mut statement| {
                statement.query_row((job.as_str(), hash.as_str()), |row| row.get(0))
            })
            .during(format_args!("looking up blob {hash} of job \"{job}\""))
    }

    fn complete_upload(
        &self,
        path: &Path,
        mut file: File,
        hash: &Sha256Hex,
        size: u64,
    ) -> Result<Upload, StoreError> {
        let doing = format!("completing the upload of {hash}");
        let mut digest = Sha256::new();
        file.seek(SeekFrom::Start(0)).during(&doing)?;
        read_pieces(&mut file, &doing, |piece| {
            digest.update(piece);
            Ok(())
        })?;
        if Sha256Hex::from_digest(digest.finalize().into()) != *hash {
            fs::remove_file(path).during(&doing)?;
            return Ok(Upload::Damaged);
        }
        file.sync_all().during(&doing)?;
        fs::create_dir_all(self.folder.blob_folder(hash)).during(&doing)?;
        match fs::rename(path, self.folder.blob_file(hash)) {
            // Somebody else has just done it with the same file.
            Err(missing) if missing.kind() == io::ErrorKind::NotFound && self.is_whole(hash)? => {}
            other => other.during(&doing)?,
        }
        self.flush_name(hash)?;
        self.record(hash, size)?;
        Ok(Upload::Stored)
    }
}
