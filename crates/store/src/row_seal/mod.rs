//! Seals on the rows of all tables but the logs, whose changes have seals of their own.
//!
//! A row's seal is the SHA-256 of what stands in its columns. A tally for each table counts its rows and mixes their seals
//! (exclusive or), so that a row that is gone is missed, and one that is put back is proved to be the one.

mod mend;
mod tally;

use rusqlite::{Connection, ToSql, types::Value};
use sha2::{Digest, Sha256};

use crate::{Fault, Sha256Hex, Store, StoreError, error::During};
use tally::{Tally, set_tally, tally};

/// A table whose rows are sealed.
pub(crate) struct Table {
    pub(crate) name: &'static str,
    /// The columns that tell its rows apart.
    key: &'static [&'static str],
    /// Columns that change all the time, or say nothing that could be missed: they are not sealed.
    left_out: &'static [&'static str],
    /// What one row is, in words, and the columns that name it.
    what: &'static str,
    named_by: &'static [&'static str],
}

/// All of them. When a step of the layout adds a column, an empty one leaves the seals as they are.
const TABLES: &[Table] = &[
    // How far a job's log goes is known by its changes, its line in lists by its record; a job or blob that is taken in
    // again is the same one.
    Table {
        left_out: &["summary", "created_ms", "head_seq"],
        ..table("job", &["id"], "the record of job", &["id"])
    },
    Table {
        left_out: &["created_ms"],
        ..table("blob", &["hash"], "the record of blob", &["hash"])
    },
    table("setting", &["key"], "setting", &["key"]),
    table("device", &["id"], "device", &["name"]),
    table("pairing_code", &["hash"], "pairing code", &["hash"]),
    table("job_blob", &["job", "hash"], "a photo's record in job", &["job", "hash"]),
    table("client_link", &["hash"], "the client's address", &["hash"]),
    table("client_file", &["link", "name"], "the client's file", &["name"]),
    table("client_view", &["rowid"], "a view of the client's address", &["link"]),
    table("invoice", &["series", "number"], "invoice", &["series", "number"]),
    table("payment", &["rowid"], "a payment of invoice", &["series", "number", "day"]),
    table("sealed_file", &["name"], "the seal of file", &["name"]),
];

const fn table(
    name: &'static str,
    key: &'static [&'static str],
    what: &'static str,
    named_by: &'static [&'static str],
) -> Table {
    Table { name, key, left_out: &[], what, named_by }
}

/// A row as it stands there.
#[derive(Debug, Clone)]
struct Row {
    key: Vec<Value>,
    /// Every column but the key's row number and the seal.
    values: Vec<(String, Value)>,
    /// The seal that was kept with it.
    kept: Option<Vec<u8>>,
    /// The seal that what stands there would have.
    right: [u8; 32],
}

impl Row {
    fn is_sound(&self) -> bool {
        self.kept.as_deref() == Some(self.right.as_slice())
    }

    /// What the row is, in words.
    fn in_words(&self, table: &Table) -> String {
        let name = |column: &&str| {
            let value = self.values.iter().find(|(name, _)| name == column).map(|(_, value)| value);
            match value {
                Some(Value::Text(text)) => text.clone(),
                Some(Value::Integer(number)) => number.to_string(),
                Some(Value::Blob(bytes)) => {
                    bytes.iter().take(6).map(|byte| format!("{byte:02x}")).collect()
                }
                _ => "?".to_owned(),
            }
        };
        let names: Vec<String> = table.named_by.iter().map(name).collect();
        format!("{} {}", table.what, names.join(" "))
    }
}

/// Seals the rows that `work` adds or changes: those that the clause finds after it. A row that was damaged before stays
/// so to see.
pub(crate) fn changing<T>(
    connection: &Connection,
    name: &str,
    clause: &str,
    parameters: &[&dyn ToSql],
    work: impl FnOnce() -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    let table = known(name);
    let before = rows(connection, table, clause, parameters)?;
    let answer = work()?;
    let mut sum = tally(connection, table)?;
    let earlier = sum;
    for row in rows(connection, table, clause, parameters)? {
        let damaged =
            before.iter().any(|old| old.key == row.key && old.kept.is_some() && !old.is_sound());
        if damaged || row.is_sound() {
            continue;
        }
        match &row.kept {
            Some(old) => sum.mix_in(old),
            None => sum.count += 1,
        }
        sum.mix_in(&row.right);
        set_seal(connection, table, &row)?;
    }
    if sum != earlier {
        set_tally(connection, table, sum)?;
    }
    Ok(answer)
}

/// Takes away the rows that the clause finds.
pub(crate) fn removing(
    connection: &Connection,
    name: &str,
    clause: &str,
    parameters: &[&dyn ToSql],
) -> Result<(), StoreError> {
    let table = known(name);
    let mut sum = tally(connection, table)?;
    for row in rows(connection, table, clause, parameters)? {
        sum.mix_in(row.kept.as_deref().unwrap_or_default());
        sum.count -= i64::from(row.kept.is_some());
        remove(connection, table, &row)?;
    }
    set_tally(connection, table, sum)
}

/// Seals every row that has no seal yet.
pub(crate) fn seal_all(connection: &Connection) -> Result<(), StoreError> {
    for table in TABLES {
        changing(connection, table.name, "row_seal is null", &[], || Ok(()))?;
    }
    Ok(())
}

impl Store {
    /// Every row that is not as it was sealed, and every table that has lost or gained rows.
    pub(crate) fn verify_rows(&self) -> Result<Vec<Fault>, StoreError> {
        let transaction = self.read("checking the rows")?;
        let mut faults = Vec::new();
        for table in TABLES {
            let mut sum = Tally::default();
            let mut damaged = 0;
            for row in rows(&transaction, table, "true", &[])? {
                sum.count += 1;
                sum.mix_in(row.kept.as_deref().unwrap_or_default());
                if row.is_sound() {
                    continue;
                }
                damaged += 1;
                faults.push(Fault::RowDamaged {
                    table: table.name,
                    row: row.in_words(table),
                    content: Sha256Hex::from_digest(row.right),
                });
            }
            let kept = tally(&transaction, table)?;
            if kept.count > sum.count && kept.mix != sum.mix {
                let count = u64::try_from(kept.count - sum.count).unwrap_or(0);
                faults.push(Fault::RowsMissing { table: table.name, what: table.what, count });
            } else if kept.count != sum.count || (damaged == 0 && kept.mix != sum.mix) {
                faults.push(Fault::TallyDamaged { table: table.name, what: table.what });
            }
        }
        Ok(faults)
    }
}

fn known(name: &str) -> &'static Table {
    TABLES.iter().find(|table| table.name == name).expect("the callers name sealed tables alone")
}

/// The rows that a clause finds, by their keys.
fn rows(
    connection: &Connection,
    table: &Table,
    clause: &str,
    parameters: &[&dyn ToSql],
) -> Result<Vec<Row>, StoreError> {
    let doing = format!("reading the table {}", table.name);
    let key = table.key.join(", ");
    let name = table.name;
    let mut statement = connection
        .prepare_cached(&format!("select {key}, * from {name} where {clause} order by {key}"))
        .during(&doing)?;
    let columns: Vec<String> = statement.column_names().map(str::to_owned).collect();
    let of_key = table.key.len();
    let mut found = statement.query(parameters).during(&doing)?;
    let mut rows = Vec::new();
    while let Some(row) = found.next().during(&doing)? {
        let mut all = Vec::with_capacity(columns.len());
        for at in 0..columns.len() {
            all.push(row.get::<_, Value>(at).during(&doing)?);
        }
        let values: Vec<(String, Value)> =
            columns[of_key..].iter().cloned().zip(all.split_off(of_key)).collect();
        let (seal, values): (Vec<_>, Vec<_>) =
            values.into_iter().partition(|(column, _)| column == "row_seal");
        let kept = seal.into_iter().find_map(|(_, value)| match value {
            Value::Null => None,
            Value::Blob(bytes) => Some(bytes),
            other => Some(format!("{other:?}").into_bytes()),
        });
        let right = seal_of(table, &values);
        rows.push(Row { key: all, values, kept, right });
    }
    Ok(rows)
}

/// SHA-256 of the table's name and of each column that holds something: its name, the type, the length and the bytes.
fn seal_of(table: &Table, values: &[(String, Value)]) -> [u8; 32] {
    let mut digest = Sha256::new();
    let mut part = |kind: u8, bytes: &[u8]| {
        digest.update([kind]);
        digest.update(u64::try_from(bytes.len()).unwrap_or(u64::MAX).to_be_bytes());
        digest.update(bytes);
    };
    part(b'#', table.name.as_bytes());
    for (name, value) in values {
        if table.left_out.contains(&name.as_str()) {
            continue;
        }
        let (kind, bytes) = match value {
            Value::Null => continue,
            Value::Integer(number) => (b'i', number.to_be_bytes().to_vec()),
            Value::Real(number) => (b'r', number.to_be_bytes().to_vec()),
            Value::Text(text) => (b't', text.as_bytes().to_vec()),
            Value::Blob(bytes) => (b'b', bytes.clone()),
        };
        part(b'=', name.as_bytes());
        part(kind, &bytes);
    }
    digest.finalize().into()
}

fn set_seal(connection: &Connection, table: &Table, row: &Row) -> Result<(), StoreError> {
    with_key(connection, table, row, "update {} set row_seal = ?1", Some(&row.right))
}

fn remove(connection: &Connection, table: &Table, row: &Row) -> Result<(), StoreError> {
    with_key(connection, table, row, "delete from {}", None)
}

fn with_key(
    connection: &Connection,
    table: &Table,
    row: &Row,
    act: &str,
    seal: Option<&[u8; 32]>,
) -> Result<(), StoreError> {
    let doing = format!("writing the table {}", table.name);
    let first = if seal.is_some() { 2 } else { 1 };
    let clause: Vec<String> = (first..)
        .zip(table.key)
        .map(|(number, column): (usize, _)| format!("{column} is ?{number}"))
        .collect();
    let act = act.replace("{}", table.name);
    let mut parameters: Vec<&dyn ToSql> = Vec::new();
    if let Some(seal) = &seal {
        parameters.push(*seal);
    }
    parameters.extend(row.key.iter().map(|value| value as &dyn ToSql));
    connection
        .prepare_cached(&format!("{act} where {}", clause.join(" and ")))
        .and_then(|mut statement| statement.execute(parameters.as_slice()))
        .during(doing)?;
    Ok(())
}
