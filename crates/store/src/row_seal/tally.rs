//! How many sealed rows a table has, and what their seals mix to.

use rusqlite::{Connection, OptionalExtension};

use super::Table;
use crate::{StoreError, error::During};

/// A table's rows, counted and mixed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Tally {
    pub(super) count: i64,
    pub(super) mix: [u8; 32],
}

impl Tally {
    /// Mixes a seal in, or one that is in out again; of one that is damaged, what there is of it.
    pub(super) fn mix_in(&mut self, seal: &[u8]) {
        for (mixed, byte) in self.mix.iter_mut().zip(seal) {
            *mixed ^= byte;
        }
    }
}

/// The tally that is kept; that of an empty table where there is none.
pub(super) fn tally(connection: &Connection, table: &Table) -> Result<Tally, StoreError> {
    let kept: Option<(i64, Vec<u8>)> = connection
        .prepare_cached("select count, mix from tally where of = ?1")
        .and_then(|mut statement| {
            statement.query_row([table.name], |row| Ok((row.get(0)?, row.get(1)?))).optional()
        })
        .during(format_args!("reading the tally of the table {}", table.name))?;
    let (count, bytes) = kept.unwrap_or_default();
    let mut tally = Tally { count, mix: [0; 32] };
    tally.mix_in(&bytes);
    Ok(tally)
}

/// Takes away tallies under names that no table has: one whose name rotted is made anew under its own.
pub(super) fn forget_unknown(connection: &Connection) -> Result<(), StoreError> {
    let names: Vec<String> =
        super::TABLES.iter().map(|table| format!("'{}'", table.name)).collect();
    connection
        .execute(&format!("delete from tally where of not in ({})", names.join(", ")), [])
        .during("sorting the tallies")?;
    Ok(())
}

pub(super) fn set_tally(
    connection: &Connection,
    table: &Table,
    tally: Tally,
) -> Result<(), StoreError> {
    connection
        .prepare_cached(
            "insert into tally (of, count, mix) values (?1, ?2, ?3)
             on conflict (of) do update set count = excluded.count, mix = excluded.mix",
        )
        .and_then(|mut statement| statement.execute((table.name, tally.count, tally.mix)))
        .during(format_args!("writing the tally of the table {}", table.name))?;
    Ok(())
}
