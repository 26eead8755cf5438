//! The release or page that is being made: one at a time, and how far it has come.

use std::sync::{Arc, Mutex, PoisonError};

use store::JobId;

use super::ReleaseStep;

/// What is being made now.
#[derive(Debug, Default)]
pub(crate) struct UnderWay(Mutex<Option<(JobId, ReleaseStep)>>);

impl UnderWay {
    /// Begins, unless something is being made already. It ends when the turn is dropped, also where nobody waits for the
    /// answer any more.
    pub(super) fn begin(self: &Arc<Self>, job: &JobId) -> Option<Turn> {
        let mut now = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if now.is_some() {
            return None;
        }
        *now = Some((job.clone(), ReleaseStep::Checking));
        Some(Turn(Arc::clone(self)))
    }

    /// How far the job's release has come, if one is being made.
    pub(super) fn step_of(&self, job: &JobId) -> Option<ReleaseStep> {
        let now = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        now.as_ref().filter(|(known, _)| known == job).map(|(_, step)| *step)
    }
}

/// The turn of whoever makes something.
#[derive(Debug)]
pub(super) struct Turn(Arc<UnderWay>);

impl Turn {
    /// It has come this far.
    pub(super) fn at(&self, step: ReleaseStep) {
        let mut now = self.0.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, at)) = now.as_mut() {
            *at = step;
        }
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        *self.0.0.lock().unwrap_or_else(PoisonError::into_inner) = None;
    }
}
