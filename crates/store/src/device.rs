//! Devices that may speak to the server, and the one-time codes that let them in.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, Row};

use crate::{JobId, Store, StoreError, error::During, row_seal::changing};

/// A device as the store knows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredDevice {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// Whose it is.
    pub person: String,
    /// What that person's task is, such as `inspector`.
    pub role: String,
    /// The only job that it may see; all if `None`.
    pub job: Option<JobId>,
    /// When it was added, in milliseconds since the start of 1970, universal time.
    pub added_unix_ms: i64,
    /// When it last spoke, as far as [`Store::devices_seen`] was told.
    pub seen_unix_ms: Option<i64>,
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
    /// Keeps a one-time code, by its SHA-256, good until `expires_ms`; the device that comes with it
    /// may see `job` alone, if one is given.
    pub fn add_pairing_code(
        &self,
        code_sha256: [u8; 32],
        now_ms: i64,
        expires_ms: i64,
        job: Option<&JobId>,
    ) -> Result<(), StoreError> {
        let doing = "keeping a pairing code";
        self.write(doing, |transaction| {
            changing(transaction, "pairing_code", "hash = ?1", &[&code_sha256], || {
                transaction
                .execute(
                    "insert into pairing_code (hash, made_ms, expires_ms, job) values (?1, ?2, ?3, ?4)
                     on conflict (hash) do nothing",
                    (code_sha256, now_ms, expires_ms, job.map(JobId::as_str)),
                )
                .during(doing)?;
                Ok(())
            })
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
            let code: Option<(i64, Option<i64>, Option<String>)> = transaction
                .query_row(
                    "select expires_ms, used_ms, job from pairing_code where hash = ?1",
                    [code_sha256],
                    |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
                )
                .optional()
                .during(doing)?;
            let job = match code {
                None => return Ok(Pairing::UnknownCode),
                Some((_, Some(_), _)) => return Ok(Pairing::UsedCode),
                Some((expires, None, _)) if now_ms >= expires => return Ok(Pairing::ExpiredCode),
                Some((_, None, job)) => job,
            };
            add(transaction, now_ms, device, job.as_deref())?;
            changing(transaction, "pairing_code", "hash = ?1", &[&code_sha256], || {
                transaction
                    .execute(
                        "update pairing_code set used_ms = ?2, device = ?3 where hash = ?1",
                        (code_sha256, now_ms, &device.id),
                    )
                    .during(doing)?;
                Ok(())
            })?;
            Ok(Pairing::Paired)
        })
    }

    /// Lets a device in without a code, as for one that this program itself is.
    pub fn add_device(&self, now_ms: i64, device: &NewDevice) -> Result<(), StoreError> {
        self.write("adding a device", |transaction| add(transaction, now_ms, device, None))
    }

    /// The device with this key, removed ones too; `None` for a stranger.
    pub fn device_by_key(&self, key: &[u8]) -> Result<Option<StoredDevice>, StoreError> {
        self.connection
            .prepare_cached(
                "select id, name, person, role, job, added_ms, seen_ms, removed_ms from device
                 where key = ?1",
            )
            .and_then(|mut statement| statement.query_row([key], stored_device).optional())
            .during("looking up a device")
    }

    /// All devices, removed ones too, by id.
    pub fn devices(&self) -> Result<Vec<StoredDevice>, StoreError> {
        self.connection
            .prepare_cached(
                "select id, name, person, role, job, added_ms, seen_ms, removed_ms from device
                 order by id",
            )
            .and_then(|mut statement| {
                statement.query_map([], stored_device)?.collect::<Result<Vec<_>, _>>()
            })
            .during("listing the devices")
    }

    /// Notes when devices last spoke, by id.
    pub fn devices_seen(&self, seen: &BTreeMap<String, i64>) -> Result<(), StoreError> {
        let doing = "noting when devices spoke";
        self.write(doing, |transaction| {
            let mut update = transaction
                .prepare_cached("update device set seen_ms = ?2 where id = ?1")
                .during(doing)?;
            for (id, seen_ms) in seen {
                changing(transaction, "device", "id = ?1", &[id], || {
                    update.execute((id, seen_ms)).during(doing)?;
                    Ok(())
                })?;
            }
            Ok(())
        })
    }

    /// Shuts a device out from now on; `false` if it was not in.
    pub fn remove_device(&self, id: &str, now_ms: i64) -> Result<bool, StoreError> {
        let doing = "removing a device";
        self.write(doing, |transaction| {
            let removed = changing(transaction, "device", "id = ?1", &[&id], || {
                transaction
                    .execute(
                        "update device set removed_ms = ?2 where id = ?1 and removed_ms is null",
                        (id, now_ms),
                    )
                    .during(doing)
            })?;
            Ok(removed == 1)
        })
    }
}

fn add(
    transaction: &rusqlite::Transaction<'_>,
    now_ms: i64,
    device: &NewDevice,
    job: Option<&str>,
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
    changing(transaction, "device", "id = ?1", &[&device.id], || {
        transaction
            .execute(
                "insert into device (id, name, person, key, added_ms, job)
             values (?1, ?2, ?3, ?4, ?5, ?6)",
                (&device.id, &device.name, &device.person, &device.key, now_ms, job),
            )
            .during(doing)?;
        Ok(())
    })
}

fn stored_device(row: &Row<'_>) -> rusqlite::Result<StoredDevice> {
    let job: Option<String> = row.get(4)?;
    Ok(StoredDevice {
        id: row.get(0)?,
        name: row.get(1)?,
        person: row.get(2)?,
        role: row.get(3)?,
        // A scope that cannot be read must not widen: the column then counts as of a wrong type.
        job: job.map(|id| JobId::new(&id)).transpose().map_err(|_| {
            rusqlite::Error::InvalidColumnType(4, "job".into(), rusqlite::types::Type::Text)
        })?,
        added_unix_ms: row.get(5)?,
        seen_unix_ms: row.get(6)?,
        removed_unix_ms: row.get(7)?,
    })
}
