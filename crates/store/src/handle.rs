//! One open store: how it is opened, and how its transactions begin and end.

use std::{
    cell::RefCell,
    collections::BTreeSet,
    fs::File,
    io,
    path::{Path, PathBuf},
    thread,
    time::{Duration, Instant},
};

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use crate::{
    StoreError,
    error::During,
    folder::{ARRIVED, DATABASE, Folder, flush_folder},
    schema::{self, Layout},
};

/// How long a handle waits for others that write before it says [`StoreError::Busy`].
const PATIENCE: Duration = Duration::from_secs(10);

/// One handle on a store, for one thread at a time; open as many as you like.
#[derive(Debug)]
pub struct Store {
    // Before the folder: the connection is closed while the folder is still held.
    pub(crate) connection: Connection,
    pub(crate) folder: Folder,
    /// Folders below `blobs/` whose own entry this handle has flushed.
    pub(crate) flushed: RefCell<BTreeSet<PathBuf>>,
    pub(crate) patience: Duration,
}

impl Store {
    /// Opens the store in `folder`; makes folder and database if they are missing.
    ///
    /// Refuses a folder that holds something else ([`StoreError::NotOurs`]) and a store with a
    /// later layout ([`StoreError::Newer`]). An older layout is brought up to date if nobody else
    /// has the store open.
    pub fn open(folder: &Path) -> Result<Self, StoreError> {
        let folder = Folder::claim(folder)?;
        let deadline = Instant::now() + PATIENCE;
        loop {
            let alone = folder.hold_alone()?;
            if !alone {
                folder.hold_shared()?;
            }
            if alone {
                folder.settle()?;
                folder.sweep()?;
            }
            let connection = connect(&folder.database(), PATIENCE)?;
            if alone {
                if schema::layout(&connection, schema::STEPS, folder.path())? == Layout::Behind {
                    // First, since whoever finds the layout current takes the rest for granted.
                    folder.flush_with_parents()?;
                    schema::prepare(&connection, schema::STEPS, folder.path())?;
                }
                schema::write_ahead(&connection)?;
                folder.let_go()?;
                folder.hold_shared()?;
            }
            // Again for everybody: between letting go and sharing, anybody may have been alone.
            if schema::layout(&connection, schema::STEPS, folder.path())? == Layout::Current {
                flush_write_ahead_file(&folder)?;
                return Ok(Self {
                    connection,
                    folder,
                    flushed: RefCell::default(),
                    patience: PATIENCE,
                });
            }
            if Instant::now() > deadline {
                return Err(StoreError::Busy {
                    doing: "waiting to update the store's layout".into(),
                });
            }
            drop(connection);
            folder.let_go()?;
            thread::sleep(Duration::from_millis(20));
        }
    }

    /// Opens a store that is there already, such as a backup: opening any other folder would make one.
    pub fn open_existing(folder: &Path) -> Result<Self, StoreError> {
        let half_put = folder.join(ARRIVED).join(DATABASE).is_file();
        if !folder.join(DATABASE).is_file() && !half_put {
            return Err(StoreError::NotOurs {
                folder: folder.to_owned(),
                why: format!("it holds no {DATABASE}"),
            });
        }
        Self::open(folder)
    }

    /// The data folder, in full.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// A number that changes when anybody but this handle has written, in this program or another.
    pub fn written_by_others(&self) -> Result<i64, StoreError> {
        self.connection
            .pragma_query_value(None, "data_version", |row| row.get(0))
            .during("asking whether anybody wrote")
    }

    /// Does `work` in one transaction that nobody else can write in. What it answers is on disk.
    pub(crate) fn write<T>(
        &self,
        doing: &str,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let deadline = Instant::now() + self.patience;
        let transaction = loop {
            let begun =
                Transaction::new_unchecked(&self.connection, TransactionBehavior::Immediate)
                    .during(doing);
            match begun {
                // SQLite waits by itself, except where two waiters could block each other.
                Err(StoreError::Busy { .. }) if Instant::now() < deadline => {
                    thread::sleep(Duration::from_millis(5));
                }
                other => break other?,
            }
        };
        let answer = work(&transaction)?;
        transaction.commit().during(doing)?;
        Ok(answer)
    }

    /// Begins a transaction that sees one state throughout.
    pub(crate) fn read(&self, doing: &str) -> Result<Transaction<'_>, StoreError> {
        Transaction::new_unchecked(&self.connection, TransactionBehavior::Deferred).during(doing)
    }
}

/// Opens the database with the settings that keep what was acknowledged.
fn connect(database: &Path, patience: Duration) -> Result<Connection, StoreError> {
    let doing = format!("opening {}", database.display());
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(database, flags).during(&doing)?;
    connection.busy_timeout(patience).during(&doing)?;
    set_up(&connection, &doing)?;
    Ok(connection)
}

/// The settings that keep what was acknowledged.
pub(crate) fn set_up(connection: &Connection, doing: &str) -> Result<(), StoreError> {
    for (name, value) in [
        // With less, a power cut takes back the last commits (SQLite documentation,
        // "PRAGMA Statements", synchronous).
        ("synchronous", "full"),
        ("foreign_keys", "on"),
        ("trusted_schema", "off"),
        ("cell_size_check", "on"),
    ] {
        connection.pragma_update(None, name, value).during(doing)?;
    }
    if cfg!(target_vendor = "apple") {
        // There, a plain flush may stop at the drive's cache.
        connection.pragma_update(None, "fullfsync", "on").during(doing)?;
        connection.pragma_update(None, "checkpoint_fullfsync", "on").during(doing)?;
    }
    Ok(())
}

/// Flushes what SQLite may just have recovered.
///
/// A process killed between writing a commit and flushing it leaves a commit that the next one to
/// open recovers and shows, though a power cut could still take it back. Answering "kept already"
/// to a repeat of that change would then be a lie, so it is flushed before anything is answered.
fn flush_write_ahead_file(folder: &Folder) -> Result<(), StoreError> {
    match File::options().read(true).write(true).open(folder.write_ahead_file()) {
        Ok(file) => {
            file.sync_all().during("flushing the write-ahead file")?;
            flush_folder(folder.path())
        }
        Err(missing) if missing.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error).during("opening the write-ahead file"),
    }
}
