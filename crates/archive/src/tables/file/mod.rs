//! A table as a Parquet file: written a group of rows at a time, read a column of a group at a time.
//!
//! The format is `parquet`'s business. Ours is that every word stands in a dictionary, and that a column of words is read
//! as numbers: the dictionary is taken out, each of its words gets a number that the reader chooses, and the pages are
//! decoded with those numbers in its place. So no text is touched once a row.

mod read;
#[cfg(test)]
mod tests;
mod write;

use std::io;
use std::sync::Arc;

use parquet::errors::ParquetError;
use parquet::schema::parser::parse_message_type;
use parquet::schema::types::TypePtr;

pub(super) use read::{Codes, Table};
pub(super) use write::{TableWriter, Values};

use super::{Kind, Layout};
use crate::error::ArchiveError;

fn schema(layout: &Layout) -> Result<TypePtr, ArchiveError> {
    let fields: Vec<String> = layout
        .columns
        .iter()
        .map(|column| {
            let kind = if column.optional { "optional" } else { "required" };
            let name = column.name;
            match column.kind {
                Kind::Words => format!("{kind} binary {name} (string);"),
                Kind::Number => format!("{kind} int32 {name};"),
                Kind::Day => format!("{kind} int32 {name} (date);"),
                Kind::Share => format!("{kind} double {name};"),
            }
        })
        .collect();
    let text = format!("message {} {{ {} }}", layout.name, fields.join(" "));
    parse_message_type(&text).map(Arc::new).map_err(unread)
}

/// An error while writing: the disk's, as a rule.
fn unwritten(error: ParquetError) -> ArchiveError {
    ArchiveError::Disk(of_disk(error).unwrap_or_else(io::Error::other))
}

/// An error while reading: the disk's, or the file is not what was written.
fn unread(error: ParquetError) -> ArchiveError {
    match of_disk(error) {
        Ok(disk) if disk.kind() != io::ErrorKind::UnexpectedEof => ArchiveError::Disk(disk),
        Ok(_) => broken("it ends too early"),
        Err(other) => broken(&other.to_string()),
    }
}

/// The disk's error in one of the library's; else that one again.
fn of_disk(error: ParquetError) -> Result<io::Error, ParquetError> {
    match error {
        ParquetError::External(inner) => match inner.downcast::<io::Error>() {
            Ok(disk) => Ok(*disk),
            Err(other) => Err(ParquetError::External(other)),
        },
        other => Err(other),
    }
}

fn broken(what: &str) -> ArchiveError {
    ArchiveError::Damaged { what: format!("a table is not as it was written: {what}") }
}
