//! Devices that may speak to the server, and the one-time codes that let them in.

use rusqlite::{OptionalExtension, Row};

use crate::{Store, StoreError, error::During};

/// A device as the store knows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredDevice {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// Whose it is.
    pub person: String,
    /// When it was added, in milliseconds since the start of 1970, universal time.
    pub added_unix_ms: i64,
    /// When it was removed, if it was; then nothing it says counts.
    pub removed_unix_ms: Option<i64>,
}

/// A device to let in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewDevice {
    /// A new id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// Whose it is.
    pub person: String,
    /// What its requests prove: a public key, or the SHA-256 of a secret. No two devices share one.
    pub key: Vec<u8>,
}

/// What became of a pairing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pairing {
    /// The device is in, and the code is used up.
    Paired,
    /// No such code was made.
    UnknownCode,
    /// The code's time is over.
    ExpiredCode,
    /// The code was used before.
    UsedCode,
}

impl Store {
    /// Keeps a one-time code, by its SHA-256, good until `expires_ms`.
    pub fn add_pairing_code(
        &self,
        code_sha256: [u8; 32],
        now_ms: i64,
        expires_ms: i64,
    ) -> Result<(), StoreError> {
        let doing = "keeping a pairing code";
        self.write(doing, |transaction| {
            transaction
                .execute(
                    "insert into pairing_code (hash, made_ms, expires_ms) values (?1, ?2, ?3)
                     on conflict (hash) do nothing",
                    (code_sha256, now_ms, expires_ms),
                )
                .during(doing)?;
            Ok(())
        })
    }

    /// Lets a device in for a code that is good at `now_ms`, and uses the code up: both or neither. Of
    /// two devices with one code, one gets in.
    pub fn pair(
        &self,
        code_sha256: [u8; 32],
        now_ms: i64,
        device: &NewDevice,
    ) -> Result<Pairing, StoreError> {
        let doing = "pairing a device";
        self.write(doing, |transaction| {
            let code: Option<(i64, Option<i64>)> = transaction
                .query_row(
                    "select expires_ms, used_ms from pairing_code where hash = ?1",
                    [code_sha256],
                    |row| Ok((row.get(0)?, row.get(1)?)),
                )
                .optional()
                .during(doing)?;
            match code {
                None => return Ok(Pairing::UnknownCode),
                Some((_, Some(_))) => return Ok(Pairing::UsedCode),
                Some((expires, None)) if now_ms >= expires => return Ok(Pairing::ExpiredCode),
                Some((_, None)) => {}
            }
            add(transaction, now_ms, device)?;
            transaction
                .execute(
                    "update pairing_code set used_ms = ?2, device = ?3 where hash = ?1",
                    (code_sha256, now_ms, &device.id),
                )
                .during(doing)?;
            Ok(Pairing::Paired)
        })
    }

    /// Lets a device in without a code, as for one that this program itself is.
    pub fn add_device(&self, now_ms: i64, device: &NewDevice) -> Result<(), StoreError> {
        self.write("adding a device", |transaction| add(transaction, now_ms, device))
    }

    /// The device with this key, removed ones too; `None` for a stranger.
    pub fn device_by_key(&self, key: &[u8]) -> Result<Option<StoredDevice>, StoreError> {
        self.connection
            .prepare_cached(
                "select id, name, person, added_ms, removed_ms from device where key = ?1",
            )
            .and_then(|mut statement| statement.query_row([key], stored_device).optional())
            .during("looking up a device")
    }

    /// All devices, removed ones too, by id.
    pub fn devices(&self) -> Result<Vec<StoredDevice>, StoreError> {
        self.connection
            .prepare_cached("select id, name, person, added_ms, removed_ms from device order by id")
            .and_then(|mut statement| {
                statement.query_map([], stored_device)?.collect::<Result<Vec<_>, _>>()
            })
            .during("listing the devices")
    }

    /// Shuts a device out from now on; `false` if it was not in.
    pub fn remove_device(&self, id: &str, now_ms: i64) -> Result<bool, StoreError> {
        let doing = "removing a device";
        self.write(doing, |transaction| {
            let removed = transaction
                .execute(
                    "update device set removed_ms = ?2 where id = ?1 and removed_ms is null",
                    (id, now_ms),
                )
                .during(doing)?;
            Ok(removed == 1)
        })
    }
}

fn add(
    transaction: &rusqlite::Transaction<'_>,
    now_ms: i64,
    device: &NewDevice,
) -> Result<(), StoreError> {
    let doing = "adding a device";
    let taken: Option<i64> = transaction
        .query_row(
            "select 1 from device where id = ?1 or key = ?2",
            (&device.id, &device.key),
            |row| row.get(0),
        )
        .optional()
        .during(doing)?;
    if taken.is_some() {
        return Err(StoreError::Refused {
            what: format!(
                "device \"{}\": its id or its key is taken; a device makes new ones to be let in again",
                device.id
            ),
        });
    }
    transaction
        .execute(
            "insert into device (id, name, person, key, added_ms) values (?1, ?2, ?3, ?4, ?5)",
            (&device.id, &device.name, &device.person, &device.key, now_ms),
        )
        .during(doing)?;
    Ok(())
}

fn stored_device(row: &Row<'_>) -> rusqlite::Result<StoredDevice> {
    Ok(StoredDevice {
        id: row.get(0)?,
        name: row.get(1)?,
        person: row.get(2)?,
        added_unix_ms: row.get(3)?,
        removed_unix_ms: row.get(4)?,
    })
}
