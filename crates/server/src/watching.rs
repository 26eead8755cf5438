//! Looks now and then whether other programs on this machine wrote to the store, such as the command
//! line, and pokes the devices for them.

use std::{collections::BTreeMap, sync::Arc, time::Duration};

use store::Store;
use sync::{JobId, wire::Poke};

use crate::shared::Shared;

/// How often to look. Looking costs a few microseconds.
const EVERY: Duration = Duration::from_millis(1_500);

/// Looks until the server stops.
pub(crate) async fn watch(shared: Arc<Shared>) {
    let mut stopping = shared.stopping.clone();
    let mut seen = match Store::open(shared.pool.folder()) {
        Ok(store) => Some(Seen { store, version: None, heads: BTreeMap::new() }),
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
        let looked = tokio::task::spawn_blocking(move || {
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
    heads: BTreeMap<String, u64>,
}

impl Seen {
    /// Pokes for the jobs whose log grew since the last look.
    fn look(&mut self) -> Vec<Poke> {
        let Ok(version) = self.store.written_by_others() else { return Vec::new() };
        if self.version == Some(version) {
            return Vec::new();
        }
        let Ok(jobs) = self.store.jobs() else { return Vec::new() };
        let first = self.version.replace(version).is_none();
        let mut pokes = Vec::new();
        for job in jobs {
            let known = self.heads.insert(job.id.to_string(), job.head_seq);
            if let Ok(id) = JobId::new(job.id.as_str())
                && !first
                && known != Some(job.head_seq)
            {
                pokes.push(Poke { job: id, head: job.head_seq });
            }
        }
        pokes
    }
}
