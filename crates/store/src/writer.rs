//! One writer for many: appends that arrive together are committed together, with one flush, and
//! each caller is told after it.

use std::{
    path::Path,
    sync::mpsc::{Receiver, SyncSender, TrySendError, sync_channel},
    thread::JoinHandle,
};

use rusqlite::Transaction;

use crate::{
    AppendedAfter, Chunk, JobId, Place, Store, StoreError,
    error::{During, again},
    log::append_after,
};

/// At most so many appends share one commit.
const GROUP: usize = 256;
/// So many may wait; more are turned away.
const WAITING: usize = 4_096;

/// Called once, on the writer's thread, when the append is on disk or has failed. It must not wait.
pub type Told = Box<dyn FnOnce(Result<AppendedAfter, StoreError>) + Send>;

/// A thread that alone appends to a store. Appends are carried out in the order in which they were
/// given. Dropped, it finishes what it was given.
#[derive(Debug)]
pub struct Writer {
    queue: Option<SyncSender<Append>>,
    thread: Option<JoinHandle<()>>,
}

struct Append {
    job: JobId,
    after: Place,
    chunks: Vec<Chunk>,
    told: Told,
}

impl Writer {
    /// Starts the thread, with a handle of its own on the store in `folder`.
    pub fn start(folder: &Path) -> Result<Self, StoreError> {
        Self::around(Store::open(folder)?)
    }

    pub(crate) fn around(store: Store) -> Result<Self, StoreError> {
        let (queue, waiting) = sync_channel(WAITING);
        let thread = std::thread::Builder::new()
            .name("store-writer".into())
            .spawn(move || write_groups(&store, &waiting))
            .during("starting the writer's thread")?;
        Ok(Self { queue: Some(queue), thread: Some(thread) })
    }

    /// Appends as [`Store::append_after`], together with what others give meanwhile. `told` is called
    /// in any case; at once with [`StoreError::Busy`] if too many wait.
    pub fn append_after(&self, job: JobId, after: Place, chunks: Vec<Chunk>, told: Told) {
        let Some(queue) = &self.queue else { return };
        let append = Append { job, after, chunks, told };
        match queue.try_send(append) {
            Ok(()) => {}
            Err(TrySendError::Full(append) | TrySendError::Disconnected(append)) => {
                let doing = format!("appending to job \"{}\": too many wait", append.job);
                (append.told)(Err(StoreError::Busy { doing }));
            }
        }
    }
}

impl Drop for Writer {
    fn drop(&mut self) {
        self.queue = None;
        if let Some(thread) = self.thread.take() {
            // A thread that panicked has dropped what it was given; whoever waits sees that.
            let _ended = thread.join();
        }
    }
}

fn write_groups(store: &Store, waiting: &Receiver<Append>) {
    while let Ok(first) = waiting.recv() {
        let mut group = vec![first];
        while group.len() < GROUP {
            let Ok(next) = waiting.try_recv() else { break };
            group.push(next);
        }
        let outcomes = store.write("appending for several devices", |transaction| {
            Ok(group.iter().map(|append| one(transaction, append)).collect::<Vec<_>>())
        });
        match outcomes {
            Ok(outcomes) => {
                for (append, outcome) in group.into_iter().zip(outcomes) {
                    (append.told)(outcome);
                }
            }
            Err(error) => {
                for append in group {
                    (append.told)(Err(again(&error)));
                }
            }
        }
    }
}

/// One append of a group; if it fails, it alone is taken back.
fn one(transaction: &Transaction<'_>, append: &Append) -> Result<AppendedAfter, StoreError> {
    let doing = "appending for several devices";
    transaction.execute_batch("savepoint one").during(doing)?;
    let outcome = append_after(transaction, &append.job, append.after, &append.chunks);
    if outcome.is_err() {
        transaction.execute_batch("rollback to one").during(doing)?;
    }
    transaction.execute_batch("release one").during(doing)?;
    outcome
}
