//! Looks now and then what was written to the store: pokes the devices for what other programs on this machine
//! wrote, such as the command line, and names the jobs that came to rest.

use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
    time::Duration,
};

use store::Store;
use sync::{JobId, wire::Poke};

use crate::{naming, shared::Shared};

/// How often to look. Looking costs a few microseconds.
const EVERY: Duration = Duration::from_millis(1_500);

/// Looks until the server stops.
pub(crate) async fn watch(shared: Arc<Shared>) {
    let mut stopping = shared.stopping.clone();
    let mut seen = match Store::open(shared.pool.folder()) {
        Ok(store) => {
            Some(Seen { store, version: None, heads: BTreeMap::new(), unnamed: BTreeSet::new() })
        }
        Err(error) => {
            tracing::warn!(%error, "what other programs write is not looked for");
            return;
        }
    };
    loop {
        tokio::select! {
            _stop = stopping.wait_for(|stopping| *stopping) => return,
            () = tokio::time::sleep(EVERY) => {}
        }
        let Some(mut looking) = seen.take() else { return };
        let heard = shared.take_heard();
        let looked = tokio::task::spawn_blocking(move || {
            // For people to look at: tried again when the device speaks again.
            if !heard.is_empty()
                && let Err(error) = looking.store.devices_seen(&heard)
            {
                tracing::warn!(%error, "when devices spoke was not noted");
            }
            let pokes = looking.look();
            (looking, pokes)
        });
        let Ok((looking, pokes)) = looked.await else { return };
        for poke in pokes {
            let _listeners = shared.pokes.send(poke);
        }
        seen = Some(looking);
    }
}

struct Seen {
    store: Store,
    version: Option<i64>,
    heads: BTreeMap<store::JobId, u64>,
    /// Jobs that grew since their line was brought up to date.
    unnamed: BTreeSet<store::JobId>,
}

impl Seen {
    /// Pokes for the jobs whose log grew since the last look.
    fn look(&mut self) -> Vec<Poke> {
        let Ok(version) = self.store.written_by_others() else { return Vec::new() };
        if self.version == Some(version) && self.unnamed.is_empty() {
            return Vec::new();
        }
        let Ok(jobs) = self.store.jobs() else { return Vec::new() };
        let first = self.version.replace(version).is_none();
        let mut pokes = Vec::new();
        for job in jobs {
            let known = self.heads.insert(job.id.clone(), job.head_seq);
            let grew = known != Some(job.head_seq);
            if grew && (!first || job.summary.is_empty()) {
                self.unnamed.insert(job.id.clone());
            }
            // Opening a document takes a while: not in the middle of somebody's work.
            if !grew && job.head_seq > 0 && self.unnamed.remove(&job.id) {
                naming::name(&self.store, &job.id, &job.summary);
            }
            if let Ok(id) = JobId::new(job.id.as_str())
                && grew
                && !first
            {
                pokes.push(Poke { job: id, head: job.head_seq });
            }
        }
        pokes
    }
}

#[cfg(test)]
mod tests {
    use store::{Chunk, Store};

    use super::*;
    use crate::tests::{new_job, one_more};

    #[test]
    fn what_another_program_writes_is_told_and_a_job_at_rest_gets_its_line() {
        let folder = tempfile::tempdir().unwrap();
        let other = Store::open(folder.path()).unwrap();
        let store = Store::open(folder.path()).unwrap();
        let (heads, unnamed) = (BTreeMap::new(), BTreeSet::new());
        let mut seen = Seen { store, version: None, heads, unnamed };
        assert_eq!(seen.look(), []);

        let (mut record, author, changes) = new_job(1);
        let id = store::JobId::new("2026-041").unwrap();
        let chunk = |bytes: &[u8]| {
            let link = sync::Link::read(bytes).unwrap().remove(0);
            Chunk { hash: link.hash.0, bytes: link.bytes }
        };
        other.create_job(&id, "").unwrap();
        other.append(&id, &[chunk(&changes[0])]).unwrap();
        let poke = |head| Poke { job: JobId::new("2026-041").unwrap(), head };
        assert_eq!(seen.look(), [poke(1)]);
        assert_eq!(other.jobs().unwrap()[0].summary, "");
        assert_eq!(seen.look(), []);
        assert_eq!(other.jobs().unwrap()[0].summary, "travel trailer");
        other.append(&id, &[chunk(&one_more(&mut record, &author))]).unwrap();
        assert_eq!(seen.look(), [poke(2)]);
        assert_eq!((seen.look(), seen.look()), (vec![], vec![]));
        assert!(seen.unnamed.is_empty());
    }
}
