//! Addresses at which a client reads a job's page: unguessable, for a time, revocable, their views counted.

use rusqlite::OptionalExtension;

use crate::{JobId, Sha256Hex, Store, StoreError, error::During};

/// A file that a link shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClientFile {
    /// Its place in the page's folder: `photos/0001.jpg`.
    pub name: String,
    /// Its media type, as a web server names it.
    pub media_type: String,
    /// Its bytes, which the store has as a blob.
    pub blob: Sha256Hex,
}

/// A link as the store knows it: not the secret, which is in the address alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredClientLink {
    /// The beginning of the secret's SHA-256, to name the link by.
    pub id: String,
    /// The job that it shows.
    pub job: JobId,
    /// When it was made, in milliseconds since the start of 1970, universal time; the other times likewise.
    pub made_unix_ms: i64,
    /// From when on it shows nothing.
    pub expires_unix_ms: i64,
    /// When it was revoked, if it was.
    pub revoked_unix_ms: Option<i64>,
    /// When its page was opened, the first time first.
    pub views_unix_ms: Vec<i64>,
}

/// How many letters of the hash name a link.
const ID_LETTERS: usize = 12;

impl Store {
    /// Keeps a link to these files under the SHA-256 of its secret, good until `expires_ms`. The blobs are
    /// there already; the job too.
    pub fn add_client_link(
        &self,
        secret_sha256: [u8; 32],
        job: &JobId,
        now_ms: i64,
        expires_ms: i64,
        files: &[ClientFile],
    ) -> Result<(), StoreError> {
        let doing = "keeping a client's link";
        self.write(doing, |transaction| {
            transaction
                .execute(
                    "insert into client_link (hash, job, made_ms, expires_ms) values (?1, ?2, ?3, ?4)",
                    (secret_sha256, job.as_str(), now_ms, expires_ms),
                )
                .during(doing)?;
            let mut insert = transaction
                .prepare("insert into client_file (link, name, media_type, blob) values (?1, ?2, ?3, ?4)")
                .during(doing)?;
            for file in files {
                insert
                    .execute((secret_sha256, &file.name, &file.media_type, file.blob.as_str()))
                    .during(doing)?;
            }
            Ok(())
        })
    }

    /// The file of this name that the link shows at `now_ms`; nothing for a stranger's guess, an expired or revoked
    /// link, and a name that is not there, so that nobody can tell these apart.
    pub fn client_file(
        &self,
        secret_sha256: [u8; 32],
        name: &str,
        now_ms: i64,
    ) -> Result<Option<ClientFile>, StoreError> {
        let doing = "looking up a client's file";
        let found: Option<(String, String)> = self
            .connection
            .prepare_cached(
                "select media_type, blob from client_file join client_link on link = hash
                 where link = ?1 and name = ?2 and revoked_ms is null and ?3 < expires_ms",
            )
            .and_then(|mut statement| {
                let row = (secret_sha256, name, now_ms);
                statement.query_row(row, |row| Ok((row.get(0)?, row.get(1)?))).optional()
            })
            .during(doing)?;
        found
            .map(|(media_type, blob)| {
                Ok(ClientFile { name: name.to_owned(), media_type, blob: Sha256Hex::new(&blob)? })
            })
            .transpose()
    }

    /// Notes that the page was opened.
    pub fn client_viewed(&self, secret_sha256: [u8; 32], now_ms: i64) -> Result<(), StoreError> {
        let doing = "noting a client's view";
        self.write(doing, |transaction| {
            transaction
                .execute(
                    "insert into client_view (link, at_ms) select hash, ?2 from client_link where hash = ?1",
                    (secret_sha256, now_ms),
                )
                .during(doing)?;
            Ok(())
        })
    }

    /// All links, over and revoked ones too, the newest first.
    pub fn client_links(&self) -> Result<Vec<StoredClientLink>, StoreError> {
        let doing = "listing the clients' links";
        let mut statement = self
            .connection
            .prepare_cached(
                "select lower(hex(hash)), job, made_ms, expires_ms, revoked_ms from client_link
                 order by made_ms desc, hash",
            )
            .during(doing)?;
        let mut views = self
            .connection
            .prepare_cached(
                "select at_ms from client_view join client_link on link = hash
                 where lower(hex(hash)) = ?1 order by at_ms",
            )
            .during(doing)?;
        let mut rows = statement.query([]).during(doing)?;
        let mut links = Vec::new();
        while let Some(row) = rows.next().during(doing)? {
            let hash: String = row.get(0).during(doing)?;
            let job: String = row.get(1).during(doing)?;
            let seen = views
                .query_map([&hash], |row| row.get(0))
                .and_then(Iterator::collect::<Result<Vec<i64>, _>>)
                .during(doing)?;
            links.push(StoredClientLink {
                id: hash.chars().take(ID_LETTERS).collect(),
                job: JobId::new(&job)?,
                made_unix_ms: row.get(2).during(doing)?,
                expires_unix_ms: row.get(3).during(doing)?,
                revoked_unix_ms: row.get(4).during(doing)?,
                views_unix_ms: seen,
            });
        }
        Ok(links)
    }

    /// Shuts the link with this id; whether there was one that was not shut yet.
    pub fn revoke_client_link(&self, id: &str, now_ms: i64) -> Result<bool, StoreError> {
        let doing = "revoking a client's link";
        self.write(doing, |transaction| {
            let count = transaction
                .execute(
                    "update client_link set revoked_ms = ?2
                     where substr(lower(hex(hash)), 1, ?3) = ?1 and revoked_ms is null",
                    (id, now_ms, i64::try_from(ID_LETTERS).unwrap_or(i64::MAX)),
                )
                .during(doing)?;
            Ok(count > 0)
        })
    }
}
