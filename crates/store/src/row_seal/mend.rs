//! Putting right rows that are damaged or gone, where seal or tally prove what stood there.

use rusqlite::{Connection, ToSql, types::Value};

use super::tally::{Tally, forget_unknown, set_tally, tally};
use super::{Row, Table, known, remove, rows, set_seal};
use crate::{Sha256Hex, Store, StoreError, error::During};

impl Store {
    /// Mends a damaged row, told by the seal that what stands there would have; whether it could.
    pub(crate) fn mend_row(
        &self,
        name: &str,
        content: &Sha256Hex,
        copy: Option<&Self>,
    ) -> Result<bool, StoreError> {
        let table = known(name);
        let theirs = sound_rows(table, copy)?;
        self.mending(table, |connection| {
            let here = rows(connection, table, "true", &[])?;
            let Some(row) = here
                .iter()
                .find(|row| !row.is_sound() && Sha256Hex::from_digest(row.right) == *content)
            else {
                return Ok(false);
            };
            // The tally, or a copy, knows what stands here: the seal rotted.
            let mut others = sums(here.iter().filter(|other| other.key != row.key));
            others.count += 1;
            others.mix_in(&row.right);
            let known_there = theirs.iter().any(|one| one.right == row.right);
            if others == tally(connection, table)? || known_there {
                set_seal(connection, table, row)?;
                return Ok(true);
            }
            // It is here already, taken in again meanwhile.
            if here.iter().any(|other| other.is_sound() && other.kept == row.kept) {
                remove(connection, table, row)?;
                set_tally(connection, table, sums(here.iter().filter(|one| one.key != row.key)))?;
                return Ok(true);
            }
            // The seal knows what a copy has: what stands here rotted.
            let Some(kept) = theirs.iter().find(|one| one.kept == row.kept) else {
                return Ok(false);
            };
            let mut kept = kept.clone();
            for (name, value) in &mut kept.values {
                let own = row.values.iter().find(|(column, _)| column == name);
                if let (true, Some((_, own))) = (table.left_out.contains(&name.as_str()), own) {
                    value.clone_from(own);
                }
            }
            remove(connection, table, row)?;
            insert(connection, table, &kept)?;
            Ok(true)
        })
    }

    /// Puts back rows that are gone, where a copy has those that the tally misses; whether it could.
    pub(crate) fn mend_missing_rows(
        &self,
        name: &str,
        copy: Option<&Self>,
    ) -> Result<bool, StoreError> {
        let table = known(name);
        let theirs = sound_rows(table, copy)?;
        self.mending(table, |connection| {
            let here = rows(connection, table, "true", &[])?;
            let mut missed = tally(connection, table)?;
            let present = sums(here.iter());
            missed.count -= present.count;
            missed.mix_in(&present.mix);
            if missed.count <= 0 {
                return Ok(false);
            }
            let candidates: Vec<&Row> =
                theirs.iter().filter(|one| !here.iter().any(|row| row.kept == one.kept)).collect();
            let Some(lost) = fitting(&candidates, missed) else { return Ok(false) };
            for row in &lost {
                insert(connection, table, row)?;
            }
            Ok(true)
        })
    }

    /// Counts a table's rows again, where one half of the tally, or a copy's, proves that none is gone; whether it could.
    pub(crate) fn mend_tally(&self, name: &str, copy: Option<&Self>) -> Result<bool, StoreError> {
        let table = known(name);
        let theirs = match copy {
            Some(copy) => Some(tally(&copy.connection, table)?),
            None => None,
        };
        self.mending(table, |connection| {
            let here = rows(connection, table, "true", &[])?;
            let present = sums(here.iter());
            let kept = tally(connection, table)?;
            let proved = kept.mix == present.mix
                || kept.count == present.count
                || theirs.is_some_and(|theirs| theirs == present);
            if !proved || here.iter().any(|row| !row.is_sound()) {
                return Ok(false);
            }
            set_tally(connection, table, present)?;
            forget_unknown(connection)?;
            Ok(true)
        })
    }

    /// After something was taken in again whose row was gone: it is counted once, not twice.
    pub(crate) fn count_once(&self, name: &str, key: &str) -> Result<(), StoreError> {
        let table = known(name);
        self.mending(table, |connection| {
            let here = rows(connection, table, "true", &[])?;
            let present = sums(here.iter());
            let own = here.iter().find(|row| row.key == [Value::Text(key.to_owned())]);
            let Some(row) = own else { return Ok(false) };
            // A seal that is mixed in twice is out again.
            let mut twice = present;
            twice.count += 1;
            twice.mix_in(&row.right);
            let counted_twice = twice == tally(connection, table)?;
            if counted_twice {
                set_tally(connection, table, present)?;
            }
            Ok(counted_twice)
        })?;
        Ok(())
    }

    /// One transaction in which rows may refer to others that come back later.
    fn mending(
        &self,
        table: &Table,
        work: impl FnOnce(&Connection) -> Result<bool, StoreError>,
    ) -> Result<bool, StoreError> {
        let doing = format!("mending the table {}", table.name);
        let outcome = self.write(&doing, |transaction| {
            transaction.pragma_update(None, "defer_foreign_keys", "on").during(&doing)?;
            work(transaction)
        });
        match outcome {
            // What it refers to is not back yet, or another row stands in its place.
            Err(StoreError::Damaged { .. }) => Ok(false),
            other => other,
        }
    }
}

fn sound_rows(table: &Table, copy: Option<&Store>) -> Result<Vec<Row>, StoreError> {
    let Some(copy) = copy else { return Ok(Vec::new()) };
    let all = rows(&copy.connection, table, "true", &[])?;
    Ok(all.into_iter().filter(Row::is_sound).collect())
}

fn sums<'a>(rows: impl Iterator<Item = &'a Row>) -> Tally {
    rows.fold(Tally::default(), |mut sum, row| {
        sum.count += 1;
        sum.mix_in(row.kept.as_deref().unwrap_or_default());
        sum
    })
}

/// The rows among these that together are what is missed: one, two, or all of them.
fn fitting<'a>(candidates: &[&'a Row], missed: Tally) -> Option<Vec<&'a Row>> {
    let fits = |rows: &[&Row]| sums(rows.iter().copied()) == missed;
    if let Some(one) = candidates.iter().find(|one| fits(&[one])) {
        return Some(vec![one]);
    }
    if missed.count == 2 {
        for (at, one) in candidates.iter().enumerate() {
            for other in candidates.iter().skip(at + 1) {
                if fits(&[one, other]) {
                    return Some(vec![one, other]);
                }
            }
        }
    }
    fits(candidates).then(|| candidates.to_vec())
}

/// Puts a row back as a copy has it, with its seal.
fn insert(connection: &Connection, table: &Table, row: &Row) -> Result<(), StoreError> {
    let doing = format!("mending the table {}", table.name);
    let mut columns: Vec<&str> = row.values.iter().map(|(name, _)| name.as_str()).collect();
    columns.push("row_seal");
    let places: Vec<String> = (1..=columns.len()).map(|number| format!("?{number}")).collect();
    let mut values: Vec<&dyn ToSql> =
        row.values.iter().map(|(_, value)| value as &dyn ToSql).collect();
    values.push(&row.kept);
    connection
        .execute(
            &format!(
                "insert into {} ({}) values ({})",
                table.name,
                columns.join(", "),
                places.join(", ")
            ),
            values.as_slice(),
        )
        .during(doing)?;
    Ok(())
}
