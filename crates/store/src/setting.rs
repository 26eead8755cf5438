//! A few words of the machine's own, such as which device this is.

use rusqlite::OptionalExtension;

use crate::{Store, StoreError, error::During, row_seal::changing};

impl Store {
    /// The value kept under `key`.
    pub fn setting(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.connection
            .prepare_cached("select value from setting where key = ?1")
            .and_then(|mut statement| statement.query_row([key], |row| row.get(0)).optional())
            .during(format_args!("reading setting {key:?}"))
    }

    /// Keeps `value` under `key`, in place of what was there.
    pub fn set_setting(&self, key: &str, value: &str) -> Result<(), StoreError> {
        let doing = format!("keeping setting {key:?}");
        self.write(&doing, |transaction| {
            changing(transaction, "setting", "key = ?1", &[&key], || {
                transaction
                    .execute(
                        "insert into setting (key, value) values (?1, ?2)
                         on conflict (key) do update set value = excluded.value",
                        [key, value],
                    )
                    .during(&doing)?;
                Ok(())
            })
        })
    }

    /// The value kept under `key`; if there is none yet, `first` from now on.
    ///
    /// For what is made up once, such as a device's id: of two programs that start together, both
    /// get the same answer.
    pub fn setting_or_first(&self, key: &str, first: &str) -> Result<String, StoreError> {
        let doing = format!("keeping setting {key:?}");
        self.write(&doing, |transaction| {
            changing(transaction, "setting", "key = ?1", &[&key], || {
                transaction
                    .execute(
                        "insert into setting (key, value) values (?1, ?2) on conflict (key) do nothing",
                        [key, first],
                    )
                    .during(&doing)?;
                Ok(())
            })?;
            transaction
                .query_row("select value from setting where key = ?1", [key], |row| row.get(0))
                .during(&doing)
        })
    }
}
