//! What must hold at every moment, and what must hold in the end.

use std::collections::BTreeSet;

use record::Record;
use sync::{Hash, JobId, Standing};

use super::{
    phone::Phone,
    server::{Server, cursor_at},
    world::World,
};

impl World {
    /// After each step of a phone: what it says now is true now.
    pub(super) fn check_sayings(&mut self, phone: usize) -> Result<(), String> {
        let Phone { replica, watched, photos_watched, .. } = &self.phones[phone];
        let standings: Vec<_> = watched
            .iter()
            .map(|(job, hash)| (job.clone(), *hash, replica.change(job, hash)))
            .collect();
        let photos: Vec<_> = photos_watched
            .iter()
            .map(|(job, blob)| (job.clone(), *blob, replica.blob(job, *blob).unwrap().standing))
            .collect();
        for (job, hash, standing) in standings {
            let this = &mut self.phones[phone];
            match standing {
                Some(Standing::Kept) => {
                    this.said_kept.insert((job, hash));
                }
                Some(Standing::Copied) => {
                    let on_server = |server: &Server| {
                        let log = server.disk.logs.get(&job);
                        log.is_some_and(|log| log.iter().any(|link| link.hash == hash))
                    };
                    if !self.put_back && !on_server(&self.server) {
                        return Err(format!("{hash} is called copied and is not on the server"));
                    }
                    this.watched.remove(&(job.clone(), hash));
                    this.said_copied.insert((job, hash));
                }
                Some(Standing::Refused { why }) => return Err(format!("refused: {why}")),
                Some(Standing::Writing | Standing::NotKept { .. }) => {}
                Some(Standing::Gone) => return Err(format!("{hash} is called gone")),
                None => return Err(format!("{hash} is not known any more")),
            }
        }
        for (job, blob, standing) in photos {
            let this = &mut self.phones[phone];
            match standing {
                Standing::Kept => {
                    this.photos_said_kept.insert((job, blob));
                }
                Standing::Copied => {
                    if !self.put_back && !self.server.disk.blobs.contains_key(&blob) {
                        return Err(format!("photo {blob} is called copied and is not there"));
                    }
                    this.photos_watched.remove(&(job.clone(), blob));
                    this.photos_said_copied.insert((job, blob));
                }
                Standing::Refused { why } => return Err(format!("photo refused: {why}")),
                Standing::Writing | Standing::NotKept { .. } => {}
                Standing::Gone => return Err(format!("photo {blob} is called gone")),
            }
        }
        self.check_cursors(phone)
    }

    /// The cursor on a phone's disk counts changes that are on that disk, and stands where it says.
    fn check_cursors(&self, phone: usize) -> Result<(), String> {
        if self.put_back {
            return Ok(());
        }
        for (id, job) in &self.phones[phone].disk.jobs {
            let Some(log) = self.server.disk.logs.get(id) else { continue };
            let length = usize::try_from(job.cursor.seq).unwrap();
            if log.len() < length || cursor_at(log, length) != job.cursor {
                return Err(format!("phone {phone}: a cursor stands where the log does not"));
            }
        }
        Ok(())
    }

    /// Whether all is quiet: nothing left to send, write or read. A phone that knows of more than it has read still
    /// asks, and may learn that an acknowledged change went with a log that was put back.
    pub(super) fn is_quiet(&self) -> bool {
        let done = |phone: &Phone| {
            phone.writing.is_empty()
                && self.server.disk.logs.keys().all(|job| {
                    let log = &self.server.disk.logs[job];
                    phone.replica.cursor(job) == Some(cursor_at(log, log.len()))
                })
                && phone.replica.jobs().all(|job| {
                    let summary = phone.replica.job(job).unwrap();
                    summary.all_copied() && summary.behind == 0
                })
        };
        self.server.appends.is_empty() && self.phones.iter().all(done)
    }

    /// After healing.
    pub(super) fn check_end(&self) -> Result<(), String> {
        if !self.is_quiet() {
            let left: Vec<_> = self
                .phones
                .iter()
                .flat_map(|phone| phone.replica.jobs().map(|job| phone.replica.job(job).unwrap()))
                .collect();
            return Err(format!("not all is copied long after healing: {left:?}"));
        }
        let stored: BTreeSet<(JobId, Hash)> = self
            .server
            .disk
            .logs
            .iter()
            .flat_map(|(job, log)| log.iter().map(|link| (job.clone(), link.hash)))
            .collect();
        let count: usize = self.server.disk.logs.values().map(Vec::len).sum();
        if count != stored.len() {
            return Err("a change is in the log twice".into());
        }
        if let Some((job, hash)) = stored.difference(&self.made).next() {
            return Err(format!("{job}: {hash} was invented"));
        }
        for phone in &self.phones {
            for (what, said) in [("kept", &phone.said_kept), ("copied", &phone.said_copied)] {
                if let Some((job, hash)) = said.difference(&stored).next() {
                    return Err(format!("{job}: {hash} was called {what} and is not stored"));
                }
            }
            for (_, blob) in phone.photos_said_kept.union(&phone.photos_said_copied) {
                if self.server.disk.blobs.get(blob) != self.photo_bytes.get(blob) {
                    return Err(format!("photo {blob} was kept and is not stored as it was"));
                }
            }
        }
        for (job, log) in &self.server.disk.logs {
            let replay = Record::load(log.iter().map(|link| link.bytes.as_slice()))
                .map_err(|error| error.to_string())?;
            if !replay.missing().is_empty() {
                return Err(format!("{job}: the log is not whole"));
            }
            for phone in &self.phones {
                let Some(record) = phone.records.get(job) else {
                    return Err(format!("phone {} has no {job}", phone.number));
                };
                if record.heads() != replay.heads() || record.inspection() != replay.inspection() {
                    return Err(format!("{job}: phone {} differs from the log", phone.number));
                }
            }
        }
        Ok(())
    }
}
