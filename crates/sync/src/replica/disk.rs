//! The writes on their way to a device's disk: one batch at a time, what comes meanwhile joins the
//! next one, and what failed is tried again before anything later.

use super::{Batch, Write};
use crate::WriteId;

#[derive(Debug, Default)]
pub(super) struct Disk {
    next: Vec<Write>,
    writing: Option<(WriteId, Batch)>,
    last: u64,
    /// After a failure: not before.
    pub(super) rest_until: u64,
    pub(super) failures: u32,
}

impl Disk {
    pub(super) fn add(&mut self, write: Write) {
        self.next.push(write);
    }

    pub(super) fn begin(&mut self, now: u64) -> Option<(WriteId, Batch)> {
        if self.writing.is_some() || self.next.is_empty() || now < self.rest_until {
            return None;
        }
        self.last += 1;
        let batch = Batch { writes: std::mem::take(&mut self.next) };
        self.writing = Some((WriteId(self.last), batch));
        self.writing.clone()
    }

    /// The writes of a batch that is durable; none if it is not the one under way.
    pub(super) fn written(&mut self, write: WriteId) -> Option<Batch> {
        let (_, batch) = self.writing.take_if(|(writing, _)| *writing == write)?;
        self.failures = 0;
        self.rest_until = 0;
        Some(batch)
    }

    /// The writes of a batch that failed; they go first next time.
    pub(super) fn failed(&mut self, write: WriteId, now: u64) -> Option<Batch> {
        let (_, batch) = self.writing.take_if(|(writing, _)| *writing == write)?;
        let later = std::mem::replace(&mut self.next, batch.writes.clone());
        self.next.extend(later);
        self.failures = self.failures.saturating_add(1);
        let pause = (250_u64 << self.failures.min(6)).min(crate::limits::LONGEST_RETRY_MS);
        self.rest_until = now.saturating_add(pause);
        Some(batch)
    }

    /// When to begin the next batch, if one waits.
    pub(super) fn next_time(&self) -> Option<u64> {
        (self.writing.is_none() && !self.next.is_empty()).then_some(self.rest_until)
    }
}
