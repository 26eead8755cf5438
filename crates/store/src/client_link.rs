//! Addresses at which a client reads a job's page or its agreement: unguessable, for a time, revocable, their views counted.

use rusqlite::OptionalExtension;

use crate::{
    JobId, Sha256Hex, Store, StoreError, error::During, invoice::IS_PAID, row_seal::changing,
};

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

/// What a link leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeadsTo {
    /// The job's page, made of the files that were kept with the link.
    Page {
        /// Whether it shows itself only once the job's invoices are paid; until then its file `waiting.html` stands for it.
        after_payment: bool,
    },
    /// The job's agreement, as it stands when it is asked for.
    Agreement,
}

/// The file that stands for a page that waits for payment.
const WAITING: &str = "waiting.html";
/// What such a page may load besides.
const WAITING_LOOK: &str = "waiting.css";
/// The page itself.
const FIRST: &str = "index.html";

/// A link to be kept.
#[derive(Debug, Clone, Copy)]
pub struct NewClientLink<'a> {
    /// The SHA-256 of its secret.
    pub secret_sha256: [u8; 32],
    /// The job that it shows, which is there already.
    pub job: &'a JobId,
    /// What it leads to.
    pub leads_to: LeadsTo,
    /// Now, in milliseconds since the start of 1970, universal time.
    pub now_ms: i64,
    /// From when on it shows nothing.
    pub expires_ms: i64,
    /// What it shows; the blobs are there already.
    pub files: &'a [ClientFile],
}

/// A link as the store knows it: not the secret, which is in the address alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredClientLink {
    /// The beginning of the secret's SHA-256, to name the link by.
    pub id: String,
    /// The job that it shows.
    pub job: JobId,
    /// What it leads to.
    pub leads_to: LeadsTo,
    /// Whether it waits for a payment now.
    pub waits: bool,
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
    /// Keeps a link with its files.
    pub fn add_client_link(&self, link: NewClientLink<'_>) -> Result<(), StoreError> {
        let doing = "keeping a client's link";
        let NewClientLink { secret_sha256, job, leads_to, now_ms, expires_ms, files } = link;
        let (leads_to, after_payment) = match leads_to {
            LeadsTo::Page { after_payment } => ("page", after_payment),
            LeadsTo::Agreement => ("agreement", false),
        };
        self.write(doing, |transaction| {
            changing(transaction, "client_link", "hash = ?1", &[&secret_sha256], || {
                transaction
                .execute(
                    "insert into client_link (hash, job, made_ms, expires_ms, leads_to, after_payment)
                     values (?1, ?2, ?3, ?4, ?5, ?6)",
                    (secret_sha256, job.as_str(), now_ms, expires_ms, leads_to, after_payment),
                )
                .during(doing)?;
                Ok(())
            })?;
            let mut insert = transaction
                .prepare("insert into client_file (link, name, media_type, blob) values (?1, ?2, ?3, ?4)")
                .during(doing)?;
            changing(transaction, "client_file", "link = ?1", &[&secret_sha256], || {
                for file in files {
                    insert
                        .execute((secret_sha256, &file.name, &file.media_type, file.blob.as_str()))
                        .during(doing)?;
                }
                Ok(())
            })
        })
    }

    /// The file of this name that the link shows at `now_ms`; nothing for a stranger's guess, an expired or revoked
    /// link, and a name that is not there, so that nobody can tell these apart. Of a page that waits for payment, what
    /// says so is shown in its place, under its own name, and nothing else.
    pub fn client_file(
        &self,
        secret_sha256: [u8; 32],
        name: &str,
        now_ms: i64,
    ) -> Result<Option<ClientFile>, StoreError> {
        let doing = "looking up a client's file";
        let waits: Option<bool> = self
            .connection
            .prepare_cached(&format!(
                "select after_payment and not ({IS_PAID}) from client_link
                 where hash = ?1 and revoked_ms is null and ?2 < expires_ms and leads_to = 'page'"
            ))
            .and_then(|mut statement| {
                statement.query_row((secret_sha256, now_ms), |row| row.get(0)).optional()
            })
            .during(doing)?;
        let name = match (waits, name) {
            (None, _) => return Ok(None),
            (Some(false), name) => name,
            (Some(true), FIRST) => WAITING,
            (Some(true), WAITING_LOOK) => WAITING_LOOK,
            (Some(true), _) => return Ok(None),
        };
        let found: Option<(String, String)> = self
            .connection
            .prepare_cached(
                "select media_type, blob from client_file where link = ?1 and name = ?2",
            )
            .and_then(|mut statement| {
                let row = (secret_sha256, name);
                statement.query_row(row, |row| Ok((row.get(0)?, row.get(1)?))).optional()
            })
            .during(doing)?;
        found
            .map(|(media_type, blob)| {
                Ok(ClientFile { name: name.to_owned(), media_type, blob: Sha256Hex::new(&blob)? })
            })
            .transpose()
    }

    /// The job whose agreement the link leads to at `now_ms`; nothing for everybody else, as in [`Self::client_file`].
    pub fn agreement_of_link(
        &self,
        secret_sha256: [u8; 32],
        now_ms: i64,
    ) -> Result<Option<JobId>, StoreError> {
        let found: Option<String> = self
            .connection
            .prepare_cached(
                "select job from client_link
                 where hash = ?1 and revoked_ms is null and ?2 < expires_ms and leads_to = 'agreement'",
            )
            .and_then(|mut statement| {
                statement.query_row((secret_sha256, now_ms), |row| row.get(0)).optional()
            })
            .during("looking up an agreement's link")?;
        found.map(|job| JobId::new(&job)).transpose()
    }

    /// Notes that the page was opened.
    pub fn client_viewed(&self, secret_sha256: [u8; 32], now_ms: i64) -> Result<(), StoreError> {
        let doing = "noting a client's view";
        self.write(doing, |transaction| {
            changing(transaction, "client_view", "rowid = last_insert_rowid()", &[], || {
                transaction
                    .execute(
                        "insert into client_view (link, at_ms) select hash, ?2 from client_link where hash = ?1",
                        (secret_sha256, now_ms),
                    )
                    .during(doing)?;
                Ok(())
            })
        })
    }

    /// All links, over and revoked ones too, the newest first.
    pub fn client_links(&self) -> Result<Vec<StoredClientLink>, StoreError> {
        let doing = "listing the clients' links";
        let mut statement = self
            .connection
            .prepare_cached(
                &format!(
                    "select lower(hex(hash)), job, made_ms, expires_ms, revoked_ms, leads_to, after_payment,
                            after_payment and not ({IS_PAID})
                     from client_link order by made_ms desc, hash"
                ),
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
            let (leads_to, after_payment): (String, bool) =
                (row.get(5).during(doing)?, row.get(6).during(doing)?);
            let leads_to = match leads_to.as_str() {
                "agreement" => LeadsTo::Agreement,
                _ => LeadsTo::Page { after_payment },
            };
            links.push(StoredClientLink {
                leads_to,
                waits: row.get(7).during(doing)?,
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

    /// Lets every page of a job that was given an address wait for payment, or none. A page that has no file to stand for it
    /// meanwhile stays as it is; its link says that it does not wait.
    pub fn set_pages_wait(&self, job: &JobId, wait: bool) -> Result<(), StoreError> {
        let doing = "letting a client's pages wait";
        self.write(doing, |transaction| {
            changing(transaction, "client_link", "job = ?1", &[&job.as_str()], || {
                transaction
                .execute(
                    "update client_link set after_payment = ?2
                     where job = ?1 and leads_to = 'page'
                       and (not ?2 or exists (select 1 from client_file where link = client_link.hash and name = ?3))",
                    (job.as_str(), wait, WAITING),
                )
                .during(doing)?;
                Ok(())
            })
        })
    }

    /// Shuts the link with this id; whether there was one that was not shut yet.
    pub fn revoke_client_link(&self, id: &str, now_ms: i64) -> Result<bool, StoreError> {
        let doing = "revoking a client's link";
        self.write(doing, |transaction| {
            let letters = i64::try_from(ID_LETTERS).unwrap_or(i64::MAX);
            let named = "substr(lower(hex(hash)), 1, ?2) = ?1";
            let count = changing(transaction, "client_link", named, &[&id, &letters], || {
                transaction
                    .execute(
                        "update client_link set revoked_ms = ?2
                         where substr(lower(hex(hash)), 1, ?3) = ?1 and revoked_ms is null",
                        (id, now_ms, letters),
                    )
                    .during(doing)
            })?;
            Ok(count > 0)
        })
    }
}
