//! Another job of this device, looked into without opening it.

use field::Visit;
use sync::JobId;

use super::{App, core::core, say, texts};

impl App {
    /// What is asked of a job that is on this device; else why it cannot be read, in a sentence.
    pub(crate) async fn other_job<R>(
        self,
        job: &JobId,
        look: impl FnOnce(&Visit) -> R,
    ) -> Result<R, String> {
        let core = core().ok_or_else(|| say("shell-work-missing"))?;
        let work = self.work().await?;
        let changes = core.disk.changes(job).await?;
        let author = self.author(&core.identity.borrow());
        let visit = (work.open)(&changes, author).map_err(|said| texts().of(&said))?;
        Ok(look(&visit))
    }
}
