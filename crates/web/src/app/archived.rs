//! All jobs together, as the screen of the archive asks for them.

use super::{App, core::core, say, say_with};
use crate::line::{ArchiveLine, NoAnswer};

impl App {
    /// The line to the server for all jobs; none for a device that was never paired.
    pub(crate) fn archive_line(self) -> Option<ArchiveLine> {
        let key = core()?.identity.borrow().key.clone()?;
        Some(ArchiveLine { key })
    }

    /// Why there is no answer, in a sentence.
    pub(crate) fn no_archive(self, why: &NoAnswer) -> String {
        match why {
            NoAnswer::NoLine => say("archive-no-line"),
            NoAnswer::Refused(reason, detail) => match reason.as_str() {
                "one_job" => say("archive-one-job"),
                "turned_days" => say("archive-turned-days"),
                "no_day" => say("office-no-day"),
                "under_way" => say("archive-export-busy"),
                "not_paired" | "device_removed" => say("archive-unpaired"),
                _ => say_with("archive-refused", &[("why", detail)]),
            },
        }
    }
}
