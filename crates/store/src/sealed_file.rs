//! What files beside the store held when the program last wrote them, so that one that rotted is told from one that did not.

use std::{fs, io, path::Path};

use rusqlite::Connection;

use crate::{
    Companion, Fault, Sha256Hex, Store, StoreError, clock,
    companions::write_companion,
    error::During,
    row_seal::{changing, removing},
};

/// A file of the data folder as the program last wrote it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealedFile {
    /// Its name in the data folder.
    pub name: String,
    /// What it held.
    pub sha256: Sha256Hex,
    /// Whether its owner alone may read it.
    pub secret: bool,
}

impl Store {
    /// Remembers what a file of the data folder holds from now on. The file itself is the caller's to write.
    pub fn seal_file(&self, file: &Companion) -> Result<(), StoreError> {
        self.write("sealing a file", |transaction| seal(transaction, file))
    }

    /// Forgets a file that is not there any more, or that people write by hand from now on.
    pub fn unseal_file(&self, name: &str) -> Result<(), StoreError> {
        self.write("unsealing a file", |transaction| unseal(transaction, name))
    }

    /// The sealed files, by name.
    pub fn sealed_files(&self) -> Result<Vec<SealedFile>, StoreError> {
        let doing = "listing the sealed files";
        let mut statement = self
            .connection
            .prepare_cached("select name, sha256, secret from sealed_file order by name")
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut files = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            let hash: String = row.get(1).during(doing)?;
            let sha256 = Sha256Hex::new(&hash).map_err(|refused| StoreError::Damaged {
                what: format!("the list of sealed files: {refused}"),
            })?;
            files.push(SealedFile {
                name: row.get(0).during(doing)?,
                sha256,
                secret: row.get(2).during(doing)?,
            });
        }
        Ok(files)
    }

    /// The bytes of a file that hold against its seal; nothing where they do not, or where it has none.
    pub fn sealed_bytes(&self, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let sealed = self.sealed_files()?.into_iter().find(|file| file.name == name);
        let bytes = read(&self.folder().join(name), name)?;
        Ok(bytes.filter(|bytes| sealed.is_some_and(|file| file.sha256 == Sha256Hex::of(bytes))))
    }

    /// Every sealed file that is not as it was sealed.
    pub(crate) fn verify_files(&self) -> Result<Vec<Fault>, StoreError> {
        let mut faults = Vec::new();
        for SealedFile { name, sha256, secret: _ } in self.sealed_files()? {
            match read(&self.folder().join(&name), &name) {
                Ok(None) => faults.push(Fault::FileMissing { name }),
                Ok(Some(bytes)) if Sha256Hex::of(&bytes) == sha256 => {}
                // A file that cannot be read is as bad as one that reads wrong.
                Ok(Some(_)) | Err(_) => faults.push(Fault::FileDamaged { name }),
            }
        }
        Ok(faults)
    }

    /// Takes a file from a copy that has it as it was sealed here; whether it could.
    pub(crate) fn mend_file(&self, name: &str, copy: Option<&Self>) -> Result<bool, StoreError> {
        let sealed = self.sealed_files()?.into_iter().find(|file| file.name == name);
        let (Some(sealed), Some(copy)) = (sealed, copy) else { return Ok(false) };
        let Some(bytes) = read(&copy.folder().join(name), name)? else { return Ok(false) };
        if Sha256Hex::of(&bytes) != sealed.sha256 || self.sealed_bytes(name)?.is_some() {
            return Ok(false);
        }
        self.put_file(&Companion { name: name.to_owned(), bytes, secret: sealed.secret })?;
        Ok(true)
    }

    /// Writes a file of the data folder whole or not at all, flushed, and seals it.
    pub fn put_file(&self, file: &Companion) -> Result<(), StoreError> {
        write_companion(self.folder(), file)?;
        self.seal_file(file)
    }
}

fn read(path: &Path, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error)
            if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) =>
        {
            Ok(None)
        }
        Err(error) => Err(error).during(format_args!("reading {name}")),
    }
}

pub(crate) fn seal(connection: &Connection, file: &Companion) -> Result<(), StoreError> {
    let hash = Sha256Hex::of(&file.bytes);
    changing(connection, "sealed_file", "name = ?1", &[&file.name], || {
        connection
            .execute(
                "insert into sealed_file (name, sha256, secret, sealed_ms) values (?1, ?2, ?3, ?4)
             on conflict (name) do update
             set sha256 = excluded.sha256, secret = excluded.secret, sealed_ms = excluded.sealed_ms
             where sha256 <> excluded.sha256 or secret <> excluded.secret",
                (&file.name, hash.as_str(), file.secret, clock::unix_milliseconds()),
            )
            .during("sealing a file")?;
        Ok(())
    })
}

pub(crate) fn unseal(connection: &Connection, name: &str) -> Result<(), StoreError> {
    removing(connection, "sealed_file", "name = ?1", &[&name])
}
