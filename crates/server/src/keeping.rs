//! The one thread that decides what goes into the jobs' logs: it runs [`sync::Keeper`] between the
//! requests, the store's writer and a thread that reads logs back.
//!
//! Everything comes to it as a message, so nothing waits while it holds a lock, and the order in which
//! it gives appends to the writer is the order in which it numbered them.

use std::{
    collections::BTreeMap,
    path::Path,
    sync::mpsc::{Receiver, Sender, channel},
    thread::JoinHandle,
};

use store::{AppendedAfter, Chunk, Place, Store, StoreError, Writer};
use sync::{
    JobId, Keeper, KeeperEffect, Link, LoadedLog, Refusal, RequestId, Stored, WriteId, limits,
    wire::{Poke, Pushed},
};
use tokio::sync::{broadcast, oneshot};

use crate::{error::ServerError, problem::refusal};

/// What becomes of a push.
pub(crate) type Answer = Result<Pushed, Refusal>;

enum Message {
    Push { job: JobId, links: Vec<Link>, answer: oneshot::Sender<Answer> },
    Loaded { job: JobId, log: LoadedLog },
    Stored { write: WriteId, outcome: Stored },
    Stop,
}

/// The thread, as the requests see it. Dropped, it finishes what it was given.
#[derive(Debug)]
pub(crate) struct Keeping {
    messages: Sender<Message>,
    thread: Option<JoinHandle<()>>,
}

impl Keeping {
    /// Starts it on the store in `folder`; what is kept is told to `pokes`.
    pub(crate) fn start(
        folder: &Path,
        pokes: broadcast::Sender<Poke>,
    ) -> Result<Self, ServerError> {
        let system = |why: std::io::Error| ServerError::System {
            doing: "starting a thread",
            why: why.to_string(),
        };
        let writer = Writer::start(folder)?;
        let reader = Store::open(folder)?;
        let (messages, arriving) = channel();
        let (asks, asked) = channel();
        let loaded = messages.clone();
        std::thread::Builder::new()
            .name("log-reader".into())
            .spawn(move || read_logs(&reader, &asked, &loaded))
            .map_err(system)?;
        let told = messages.clone();
        let thread = std::thread::Builder::new()
            .name("log-keeper".into())
            .spawn(move || Thread::new(writer, asks, told, pokes).go(&arriving))
            .map_err(system)?;
        Ok(Self { messages, thread: Some(thread) })
    }

    /// Asks for changes to be kept; answered when they are on disk, or not.
    pub(crate) async fn push(&self, job: JobId, links: Vec<Link>) -> Answer {
        let (answer, answered) = oneshot::channel();
        let gone = Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS };
        if self.messages.send(Message::Push { job, links, answer }).is_err() {
            return Err(gone);
        }
        answered.await.unwrap_or(Err(gone))
    }
}

impl Drop for Keeping {
    fn drop(&mut self) {
        if self.messages.send(Message::Stop).is_ok()
            && let Some(thread) = self.thread.take()
        {
            // A thread that panicked has dropped what it was given; whoever waits sees that.
            let _ended = thread.join();
        }
    }
}

struct Thread {
    keeper: Keeper,
    writer: Writer,
    asks: Sender<JobId>,
    told: Sender<Message>,
    pokes: broadcast::Sender<Poke>,
    waiting: BTreeMap<RequestId, oneshot::Sender<Answer>>,
    last_request: u64,
}

impl Thread {
    fn new(
        writer: Writer,
        asks: Sender<JobId>,
        told: Sender<Message>,
        pokes: broadcast::Sender<Poke>,
    ) -> Self {
        let (keeper, waiting) = (Keeper::new(), BTreeMap::new());
        Self { keeper, writer, asks, told, pokes, waiting, last_request: 0 }
    }

    fn go(mut self, arriving: &Receiver<Message>) {
        while let Ok(message) = arriving.recv() {
            if matches!(message, Message::Stop) {
                break;
            }
            self.take(message);
        }
        // The writer finishes what it was given, and tells it to a channel that is read to its end.
        let Self { mut keeper, writer, asks, told, pokes, mut waiting, last_request: _ } = self;
        drop(writer);
        drop((asks, told));
        while let Ok(message) = arriving.try_recv() {
            let Message::Stored { write, outcome } = message else { continue };
            for effect in keeper.stored(write, &outcome) {
                if let KeeperEffect::Answer { request, job, answer } = effect {
                    tell(&mut waiting, &pokes, request, job, answer);
                }
            }
        }
    }

    fn take(&mut self, message: Message) {
        let effects = match message {
            Message::Push { job, links, answer } => {
                self.last_request += 1;
                let request = RequestId(self.last_request);
                self.waiting.insert(request, answer);
                self.keeper.push(request, &job, links)
            }
            Message::Loaded { job, log } => self.keeper.loaded(&job, log),
            Message::Stored { write, outcome } => self.keeper.stored(write, &outcome),
            Message::Stop => Vec::new(),
        };
        for effect in effects {
            self.carry_out(effect);
        }
    }

    fn carry_out(&mut self, effect: KeeperEffect) {
        match effect {
            KeeperEffect::Load { job } => {
                let log = LoadedLog::Failed(Refusal::Other);
                if self.asks.send(job.clone()).is_err() {
                    let _own_end = self.told.send(Message::Loaded { job, log });
                }
            }
            KeeperEffect::Append { write, job, after, changes } => {
                let chunks = changes
                    .into_iter()
                    .map(|link| Chunk { hash: link.hash.0, bytes: link.bytes })
                    .collect();
                let after = Place { seq: after.seq, hash: after.hash.0 };
                let told = self.told.clone();
                let Ok(id) = store::JobId::new(job.as_str()) else { return };
                let done = move |outcome: Result<AppendedAfter, StoreError>| {
                    let outcome = match outcome {
                        Ok(AppendedAfter::Kept { head_seq: _ }) => Stored::Durable,
                        Ok(AppendedAfter::HeadMoved) => Stored::HeadMoved,
                        Err(error) => Stored::Failed(match refusal(&error) {
                            Refusal::ServerFull => Refusal::ServerFull,
                            _ => Refusal::Busy { retry_after_ms: limits::BUSY_RETRY_MS },
                        }),
                    };
                    let _nobody_waits = told.send(Message::Stored { write, outcome });
                };
                self.writer.append_after(id, after, chunks, Box::new(done));
            }
            KeeperEffect::Answer { request, job, answer } => {
                tell(&mut self.waiting, &self.pokes, request, job, answer);
            }
        }
    }
}

/// Answers whoever waits, and wakes the others.
fn tell(
    waiting: &mut BTreeMap<RequestId, oneshot::Sender<Answer>>,
    pokes: &broadcast::Sender<Poke>,
    request: RequestId,
    job: JobId,
    answer: Answer,
) {
    if let Ok(pushed) = &answer {
        // Nobody listening is as good.
        let _listeners = pokes.send(Poke { job, head: pushed.head });
    }
    if let Some(waiting) = waiting.remove(&request) {
        let _left = waiting.send(answer);
    }
}

/// Reads logs back as they are asked for, until nobody asks any more.
fn read_logs(store: &Store, asked: &Receiver<JobId>, loaded: &Sender<Message>) {
    while let Ok(job) = asked.recv() {
        let log = read_log(store, &job);
        if loaded.send(Message::Loaded { job, log }).is_err() {
            return;
        }
    }
}

fn read_log(store: &Store, job: &JobId) -> LoadedLog {
    let Ok(id) = store::JobId::new(job.as_str()) else {
        return LoadedLog::Failed(Refusal::NoSuchJob);
    };
    let changes = match store.changes(&id, 0, usize::MAX) {
        Ok(changes) => changes,
        Err(StoreError::NoSuchJob { job: _ }) => return LoadedLog::Absent,
        Err(error) => return LoadedLog::Failed(refusal(&error)),
    };
    let mut links = Vec::with_capacity(changes.len());
    for change in changes {
        match Link::read(&change.bytes) {
            Ok(read) => links.extend(read),
            Err(error) => {
                tracing::error!(%job, seq = change.seq, %error, "a kept change cannot be read");
                return LoadedLog::Failed(Refusal::Other);
            }
        }
    }
    LoadedLog::Whole(links)
}
