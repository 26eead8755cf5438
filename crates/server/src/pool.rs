//! Handles on the store, lent out one request at a time to threads that may wait for the disk.

use std::{
    path::{Path, PathBuf},
    sync::{Arc, Mutex},
};

use store::{Store, StoreError};
use sync::{Refusal, limits};
use tokio::sync::Semaphore;

use crate::problem::Problem;

/// So many requests use the store at once; the others wait their turn.
const HANDLES: usize = 8;

/// Handles on one store.
#[derive(Debug)]
pub(crate) struct Pool {
    folder: PathBuf,
    idle: Mutex<Vec<Store>>,
    turns: Semaphore,
}

impl Pool {
    /// A pool on the store in `folder`. All handles are opened now: when many phones come at once, as after
    /// a start, none waits for that.
    pub(crate) fn open(folder: &Path) -> Result<Self, StoreError> {
        let idle = (0..HANDLES).map(|_| Store::open(folder)).collect::<Result<Vec<_>, _>>()?;
        Ok(Self {
            folder: idle.first().map_or(folder, Store::folder).to_owned(),
            idle: Mutex::new(idle),
            turns: Semaphore::new(HANDLES),
        })
    }

    /// The data folder, in full.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Does `work` with a handle on a thread that may wait.
    pub(crate) async fn with<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Store) -> Result<T, Problem> + Send + 'static,
    ) -> Result<T, Problem> {
        let busy = || Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS };
        let Ok(_turn) = self.turns.acquire().await else { return Err(busy().into()) };
        let pool = Arc::clone(self);
        let done = tokio::task::spawn_blocking(move || pool.with_here(work)).await;
        done.unwrap_or_else(|stopped| {
            tracing::error!(%stopped, "a request's work did not end");
            Err(Refusal::Other.into())
        })
    }

    /// The same on this thread.
    pub(crate) fn with_here<T>(
        &self,
        work: impl FnOnce(&Store) -> Result<T, Problem>,
    ) -> Result<T, Problem> {
        let idle = self.idle.lock().ok().and_then(|mut idle| idle.pop());
        let store = match idle {
            Some(store) => store,
            None => Store::open(&self.folder)?,
        };
        let answer = work(&store);
        if let Ok(mut idle) = self.idle.lock() {
            idle.push(store);
        }
        answer
    }
}
