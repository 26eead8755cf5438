//! An index beside the jobs: what can be worked out from them at any time, kept so that it is found quickly.
//!
//! It lies in the data folder's `archive/`, belongs to no backup, and may be deleted whole:
//!
//! ```text
//! archive/index.sqlite  a row a job, its words for searching, which part its table rows are in
//! archive/index.lock    held by whoever brings the index up to date
//! archive/tables/       the parts: files that the caller makes and reads, two or more a part
//! ```
//!
//! The index knows as little of inspections as the store: rows and texts are the caller's, words come folded and
//! apart by spaces. Nothing in it is acknowledged to anybody, so it is written with less care than the store: what a
//! power cut takes is worked out again.

mod entry;
mod part;
mod words;

pub use entry::{Entry, IndexedJob};
pub use part::{NewPart, Part};
pub use words::{COLUMNS, Found, Term};

use std::{
    fs::{self, File},
    io,
    path::{Path, PathBuf},
    time::Duration,
};

use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior};

use crate::{JobId, Store, StoreError, error::During, job::LogHead};

/// The layout of the tables below; another one found is thrown away and made anew.
const LAYOUT: u32 = 2;

const TABLES: &str = include_str!("tables.sql");

/// One open index, for one thread at a time; open as many as you like.
#[derive(Debug)]
pub struct Index {
    connection: Connection,
    folder: PathBuf,
}

impl Index {
    /// Opens the index beside a store; makes an empty one if there is none, if it is damaged, or if it was made by
    /// another stamp: what the caller derives it with.
    pub fn open(store: &Store, stamp: &str) -> Result<Self, StoreError> {
        let folder = store.folder().join("archive");
        fs::create_dir_all(folder.join("tables"))
            .during(format_args!("making the folder {}", folder.display()))?;
        match Self::fitting(&folder, stamp) {
            Ok(Some(index)) => return Ok(index),
            Ok(None) | Err(StoreError::Damaged { what: _ }) => {}
            Err(error) => return Err(error),
        }
        let _held = lock(&folder)?;
        // Whoever held the lock before may have made it just now.
        match Self::fitting(&folder, stamp) {
            Ok(Some(index)) => Ok(index),
            Ok(None) | Err(StoreError::Damaged { what: _ }) => Self::anew(&folder, stamp),
            Err(error) => Err(error),
        }
    }

    /// Throws everything away and begins with an empty index.
    pub fn clear(self) -> Result<Self, StoreError> {
        let stamp = self.setting("stamp")?.unwrap_or_default();
        let folder = self.folder.clone();
        drop(self);
        let _held = lock(&folder)?;
        Self::anew(&folder, &stamp)
    }

    /// Holds the index for bringing it up to date: one does so at a time. Given up when dropped.
    pub fn hold(&self) -> Result<File, StoreError> {
        lock(&self.folder)
    }

    /// How far each indexed job's log went when it was indexed, by the job's id.
    pub fn heads(&self) -> Result<Vec<LogHead>, StoreError> {
        let doing = "listing what is indexed";
        let mut statement = self
            .connection
            .prepare_cached("select job, head_seq, head_hash from job order by job")
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut heads = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            heads.push(LogHead {
                job: known_id(&row.get::<_, String>(0).during(doing)?)?,
                seq: row.get(1).during(doing)?,
                hash: row.get(2).during(doing)?,
            });
        }
        Ok(heads)
    }

    /// A text of the caller's own, shared by many jobs.
    pub fn setting(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.connection
            .prepare_cached("select value from setting where key = ?1")
            .and_then(|mut statement| statement.query_row([key], |row| row.get(0)).optional())
            .during(format_args!("reading `{key}` of the index"))
    }

    /// The settings whose key begins with this, by their keys.
    pub fn settings(&self, beginning: &str) -> Result<Vec<(String, String)>, StoreError> {
        let doing = "reading the settings of the index";
        let mut statement = self
            .connection
            .prepare_cached(
                "select key, value from setting where substr(key, 1, length(?1)) = ?1 order by key",
            )
            .during(doing)?;
        let rows = statement.query_map([beginning], |row| Ok((row.get(0)?, row.get(1)?)));
        rows.and_then(Iterator::collect).during(doing)
    }

    fn fitting(folder: &Path, stamp: &str) -> Result<Option<Self>, StoreError> {
        if !folder.join("index.sqlite").exists() {
            return Ok(None);
        }
        let index = Self { connection: connect(folder)?, folder: folder.to_owned() };
        let doing = "reading the index's layout";
        let layout: u32 = index
            .connection
            .pragma_query_value(None, "user_version", |row| row.get(0))
            .during(doing)?;
        if layout != LAYOUT || index.setting("stamp")?.as_deref() != Some(stamp) {
            return Ok(None);
        }
        Ok(Some(index))
    }

    /// Only for whoever holds the lock.
    fn anew(folder: &Path, stamp: &str) -> Result<Self, StoreError> {
        for name in ["index.sqlite", "index.sqlite-wal", "index.sqlite-shm"] {
            remove(&folder.join(name))?;
        }
        let doing = "emptying the index";
        for entry in fs::read_dir(folder.join("tables")).during(doing)? {
            remove(&entry.during(doing)?.path())?;
        }
        let connection = connect(folder)?;
        connection.pragma_update(None, "journal_mode", "wal").during(doing)?;
        let transaction = Transaction::new_unchecked(&connection, TransactionBehavior::Immediate)
            .during(doing)?;
        transaction.execute_batch(TABLES).during(doing)?;
        transaction
            .execute("insert into setting (key, value) values ('stamp', ?1)", [stamp])
            .during(doing)?;
        transaction.pragma_update(None, "user_version", LAYOUT).during(doing)?;
        transaction.commit().during(doing)?;
        Ok(Self { connection, folder: folder.to_owned() })
    }
}

fn connect(folder: &Path) -> Result<Connection, StoreError> {
    let doing = "opening the index";
    let connection = Connection::open(folder.join("index.sqlite")).during(doing)?;
    connection.busy_timeout(Duration::from_secs(10)).during(doing)?;
    for (name, value) in
        [("synchronous", "normal"), ("trusted_schema", "off"), ("cell_size_check", "on")]
    {
        connection.pragma_update(None, name, value).during(doing)?;
    }
    // Kibibytes, where negative: the words of ten thousand jobs are read again and again.
    connection.pragma_update(None, "cache_size", -65_536).during(doing)?;
    Ok(connection)
}

fn lock(folder: &Path) -> Result<File, StoreError> {
    let path = folder.join("index.lock");
    let doing = "locking the index";
    let file = File::options().read(true).write(true).create(true).truncate(false).open(path);
    let file = file.during(doing)?;
    file.lock().during(doing)?;
    Ok(file)
}

fn remove(path: &Path) -> Result<(), StoreError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            Err(error).during(format_args!("removing {}", path.display()))
        }
        _ => Ok(()),
    }
}

fn known_id(text: &str) -> Result<JobId, StoreError> {
    JobId::new(text)
        .map_err(|refused| StoreError::Damaged { what: format!("the index: {refused}") })
}
