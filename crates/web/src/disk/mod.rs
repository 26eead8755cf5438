//! This device's disk: the browser's database, in which everything lies before anyone is told that it is kept.
//!
//! Every writing transaction asks for strict durability, so that "complete" means flushed. The tables:
//!
//! | table | key | value |
//! | --- | --- | --- |
//! | `jobs` | job | `[seq, chain]`: how far the server's log was read |
//! | `changes` | `job/hash` | `[number, copied, refused]` |
//! | `bytes` | `job/hash` | the raw change, a record each |
//! | `photos` | `job/hash` | `[number, copied, refused, size, rank]` |
//! | `blobs` | hash | the photo itself, as a blob |
//! | `settings` | name | text |

mod batch;
mod blob;
mod restore;
mod room;
mod rows;
mod setting;

use std::cell::RefCell;

use idb::{Database, Factory, ObjectStoreParams, Transaction, TransactionMode};
use js_sys::{Array, Object, Reflect};
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{IdbDatabase, IdbTransaction};

pub(crate) use room::Room;

use crate::browser::{call, name_of, said};
use rows::Rows;

const NAME: &str = "nearside";
const VERSION: u32 = 1;

pub(crate) const JOBS: &str = "jobs";
pub(crate) const CHANGES: &str = "changes";
pub(crate) const BYTES: &str = "bytes";
pub(crate) const PHOTOS: &str = "photos";
pub(crate) const BLOBS: &str = "blobs";
pub(crate) const SETTINGS: &str = "settings";
const TABLES: [&str; 6] = [JOBS, CHANGES, BYTES, PHOTOS, BLOBS, SETTINGS];

/// The open database, and what its short tables hold.
#[derive(Debug)]
pub(crate) struct Disk {
    database: IdbDatabase,
    rows: RefCell<Rows>,
}

impl Disk {
    /// Opens the database; the first time it is made.
    pub(crate) async fn open() -> Result<Self, String> {
        let refused =
            |error: &dyn std::fmt::Display| words("disk-closed", &[("why", &error.to_string())]);
        let factory = Factory::new().map_err(|error| refused(&error))?;
        let mut request = factory.open(NAME, Some(VERSION)).map_err(|error| refused(&error))?;
        request.on_upgrade_needed(|event| {
            use idb::DatabaseEvent as _;
            let Ok(database) = event.database() else { return };
            for table in TABLES {
                // A table that cannot be made shows when it is used first.
                drop(database.create_object_store(table, ObjectStoreParams::new()));
            }
        });
        let database: Database = request.await.map_err(|error| refused(&error))?;
        Ok(Self { database: database.into(), rows: RefCell::default() })
    }

    /// A transaction that only reads.
    fn reading(&self, tables: &[&str]) -> Result<Transaction, String> {
        Database::from(self.database.clone())
            .transaction(tables, TransactionMode::ReadOnly)
            .map_err(|error| sentence_of(&error))
    }

    /// A transaction that writes, and is complete when the disk has it. The typed interface has no place for the
    /// durability, so it is asked for by name.
    fn writing(&self, tables: &[&str]) -> Result<Transaction, String> {
        let names: Array = tables.iter().map(|name| JsValue::from_str(name)).collect();
        let options = Object::new();
        let strict = Reflect::set(&options, &"durability".into(), &"strict".into());
        let begun = strict.and_then(|_| {
            let arguments = [names.into(), "readwrite".into(), options.into()];
            call(&self.database, "transaction", &arguments)
        });
        let transaction: IdbTransaction = begun.map_err(|error| sentence(&error))?.unchecked_into();
        Ok(transaction.into())
    }
}

/// Waits until the disk has a transaction; else what went wrong, and nothing of it is there.
async fn finished(transaction: Transaction) -> Result<(), String> {
    let raw: IdbTransaction = transaction.into();
    let done = Transaction::from(raw.clone())
        .commit()
        .map_err(|error| sentence_of(&error))?
        .await
        .map(|result| result.is_committed());
    match (done, raw.error()) {
        (Ok(true), _) => Ok(()),
        (_, Some(error)) => Err(sentence(&error)),
        (Err(error), None) => Err(sentence_of(&error)),
        (Ok(false), None) => Err(words("disk-took-back", &[])),
    }
}

/// What went wrong with the storage, for a person.
fn sentence(error: &JsValue) -> String {
    match name_of(error).as_deref() {
        Some("QuotaExceededError") => full(),
        _ => words("disk-refused", &[("why", &said(error))]),
    }
}

fn sentence_of(error: &idb::Error) -> String {
    let text = error.to_string();
    if text.contains("QuotaExceeded") { full() } else { words("disk-refused", &[("why", &text)]) }
}

fn full() -> String {
    words("disk-full", &[])
}

/// A sentence in the language that is chosen.
fn words(key: &str, with: &[(&str, &str)]) -> String {
    crate::app::app().texts().say_with(key, with)
}
