//! The database's layout and the steps that bring an older one up to date.

use std::path::Path;

use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior};

use crate::{Sha256Hex, StoreError, clock, error::During};

/// Says whose database it is, in the file's own header: the letters "Near".
pub(crate) const APPLICATION_ID: u32 = 0x4e65_6172;

/// The steps in order; the first makes layout 1. A released step is never edited: its hash is
/// written in every store that took it.
pub(crate) const STEPS: &[&str] = &[
    include_str!("migrations/0001_jobs_changes_blobs.sql"),
    include_str!("migrations/0002_devices_uploads.sql"),
    include_str!("migrations/0003_device_scope.sql"),
    include_str!("migrations/0004_client_links.sql"),
    include_str!("migrations/0005_invoices.sql"),
    include_str!("migrations/0006_sealed_files.sql"),
    include_str!("migrations/0007_sealed_rows.sql"),
];

/// How a database's layout stands to the steps this program knows.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Layout {
    /// All steps taken.
    Current,
    /// New or older: steps are to be taken first.
    Behind,
}

/// Reads the layout; refuses one that is newer or made by other steps.
pub(crate) fn layout(
    connection: &Connection,
    steps: &[&str],
    folder: &Path,
) -> Result<Layout, StoreError> {
    let doing = "reading the store's layout";
    let owner: u32 =
        connection.pragma_query_value(None, "application_id", |row| row.get(0)).during(doing)?;
    let tables: i64 = connection
        .query_row("select count(*) from sqlite_schema", [], |row| row.get(0))
        .during(doing)?;
    if owner != APPLICATION_ID {
        // A crash right after the file was made leaves it empty; that one is taken over.
        if owner == 0 && tables == 0 {
            return Ok(Layout::Behind);
        }
        return Err(StoreError::NotOurs {
            folder: folder.to_owned(),
            why: "its store.sqlite belongs to another program".into(),
        });
    }
    let has_steps: Option<i64> = connection
        .query_row("select 1 from sqlite_schema where name = 'migration'", [], |row| row.get(0))
        .optional()
        .during(doing)?;
    if has_steps.is_none() {
        return Ok(Layout::Behind);
    }
    let mut statement = connection
        .prepare("select version, sha256 from migration order by version")
        .during(doing)?;
    let taken = statement
        .query_map([], |row| Ok((row.get::<_, u32>(0)?, row.get::<_, String>(1)?)))
        .and_then(Iterator::collect::<Result<Vec<_>, _>>)
        .during(doing)?;
    let known = number(steps.len());
    let found = taken.last().map_or(0, |(version, _)| *version);
    if found > known {
        return Err(StoreError::Newer { folder: folder.to_owned(), found, known });
    }
    for ((version, sha256), (expected, text)) in taken.iter().zip((1..).zip(steps)) {
        if *version != expected || *sha256 != Sha256Hex::of(text.as_bytes()).as_str() {
            return Err(StoreError::NotOurs {
                folder: folder.to_owned(),
                why: format!("step {version} of its layout is not this program's step {expected}"),
            });
        }
    }
    Ok(if found == known { Layout::Current } else { Layout::Behind })
}

/// Takes the steps that are missing, all in one transaction. Only for whoever holds the folder
/// alone.
pub(crate) fn prepare(
    connection: &Connection,
    steps: &[&str],
    folder: &Path,
) -> Result<(), StoreError> {
    if layout(connection, steps, folder)? == Layout::Current {
        return Ok(());
    }
    let doing = "bringing the store's layout up to date";
    // Outside the write-ahead log, so that the file's own header tells whose it is from now on.
    connection.pragma_update(None, "application_id", APPLICATION_ID).during(doing)?;
    write_ahead(connection)?;
    let transaction =
        Transaction::new_unchecked(connection, TransactionBehavior::Immediate).during(doing)?;
    transaction
        .execute_batch(
            "create table if not exists migration (
                 version    integer not null primary key,
                 sha256     text    not null,
                 applied_ms integer not null
             ) strict",
        )
        .during(doing)?;
    let taken: u32 = transaction
        .query_row("select coalesce(max(version), 0) from migration", [], |row| row.get(0))
        .during(doing)?;
    for (version, text) in (1_u32..).zip(steps).filter(|(version, _)| *version > taken) {
        transaction.execute_batch(text).during(format_args!("taking layout step {version}"))?;
        transaction
            .execute(
                "insert into migration (version, sha256, applied_ms) values (?1, ?2, ?3)",
                (version, Sha256Hex::of(text.as_bytes()).as_str(), clock::unix_milliseconds()),
            )
            .during(doing)?;
    }
    // A new store has no rows to seal.
    if taken > 0 && known_tables_have_seals(&transaction)? {
        crate::row_seal::seal_all(&transaction)?;
    }
    transaction.commit().during(doing)
}

/// Whether the steps that were taken go as far as the rows' seals: those of a test may not.
fn known_tables_have_seals(connection: &Connection) -> Result<bool, StoreError> {
    connection
        .query_row("select exists (select 1 from sqlite_schema where name = 'tally')", [], |row| {
            row.get(0)
        })
        .during("looking for the rows' seals")
}

/// Switches write-ahead logging on; a copied database comes without. Only for whoever holds the folder alone.
pub(crate) fn write_ahead(connection: &Connection) -> Result<(), StoreError> {
    let doing = "switching on write-ahead logging";
    let mode: String = connection
        .pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))
        .during(doing)?;
    if mode == "wal" {
        return Ok(());
    }
    Err(StoreError::Io {
        doing: doing.into(),
        source: format!("the file system only allows journal mode \"{mode}\"").into(),
    })
}

fn number(count: usize) -> u32 {
    u32::try_from(count).expect("a program has few layout steps")
}
