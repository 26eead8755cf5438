//! What may be said of what is kept here and copied there; every word of it from the replica.

use leptos::prelude::*;
use sync::{BlobHash, Connection, JobId, JobSummary, Refusal, Standing};

use super::{App, core::core, say, say_with};

/// Whether what was done is on this device's disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Keeping {
    /// On its way to the disk.
    Writing,
    /// All of it is on the disk.
    Kept,
    /// The disk refused it; it is tried again. Why, in a sentence.
    NotKept(String),
    /// So many entries and photos were on the disk, which does not give them any more.
    Gone(usize),
}

/// How the device stands to the server.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Line {
    /// The last exchange worked.
    Working,
    /// The last exchange failed; it is tried again by itself.
    Waiting,
    /// The device has no network.
    Off,
    /// The server does not take this device any more. Why, in a sentence.
    ShutOut(String),
    /// It was never paired.
    Unpaired,
}

/// What of a job is on the server.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Copying {
    /// Entries that are only here.
    pub(crate) only_here: usize,
    /// Photos that are only here.
    pub(crate) photos_only_here: usize,
    /// Their bytes that the server has not got.
    pub(crate) bytes_only_here: u64,
    /// Entries and photos that were on the disk here, which does not give them any more.
    pub(crate) gone: usize,
    /// Everything is there.
    pub(crate) all_copied: bool,
    /// Why the server did not take or give something, last time.
    pub(crate) trouble: Option<String>,
    /// How the line is.
    pub(crate) line: Line,
}

/// What is true of one photo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct ItemStanding {
    /// Writing, kept, copied, or why not.
    pub(crate) standing: Standing,
    /// How many bytes the server has.
    pub(crate) sent: u64,
    /// How many there are.
    pub(crate) size: u64,
}

impl App {
    /// Whether everything done in the open job is on this device's disk.
    pub(crate) fn kept(self) -> Signal<Keeping> {
        Signal::derive(move || self.keeping())
    }

    /// The same, asked once.
    pub(super) fn keeping(self) -> Keeping {
        self.standing.track();
        let (writing, gone) =
            self.summary_of_open().map_or((0, 0), |summary| (summary.writing, summary.gone));
        match self.disk_trouble.get() {
            _ if writing == 0 && gone > 0 => Keeping::Gone(gone),
            _ if writing == 0 => Keeping::Kept,
            Some(why) => Keeping::NotKept(why),
            None => Keeping::Writing,
        }
    }

    /// What of the open job is on the server.
    pub(crate) fn copied(self) -> Signal<Copying> {
        Signal::derive(move || {
            self.standing.track();
            let summary = self.summary_of_open().unwrap_or_default();
            self.copying(&summary)
        })
    }

    /// What of a job in the list is on the server.
    pub(crate) fn copied_of(self, job: JobId) -> Signal<Copying> {
        Signal::derive(move || {
            self.standing.track();
            let summary = core().and_then(|core| core.replica.borrow().job(&job));
            self.copying(&summary.unwrap_or_default())
        })
    }

    /// How the line is.
    pub(crate) fn line(self) -> Signal<Line> {
        Signal::derive(move || {
            self.standing.track();
            self.line_now()
        })
    }

    /// What is true of one photo; `None` if it is not of this device.
    pub(crate) fn photo_standing(self, id: &str) -> Signal<Option<ItemStanding>> {
        let blob = BlobHash::new(id).ok();
        Signal::derive(move || {
            self.standing.track();
            let (job, blob) = (self.open.get()?, blob?);
            let found = core()?.replica.borrow().blob(&job, blob)?;
            Some(ItemStanding { standing: found.standing, sent: found.sent, size: found.size })
        })
    }

    fn summary_of_open(self) -> Option<JobSummary> {
        let job = self.open.get()?;
        core()?.replica.borrow().job(&job)
    }

    fn copying(self, summary: &JobSummary) -> Copying {
        Copying {
            only_here: summary.only_here,
            photos_only_here: summary.blobs_only_here,
            bytes_only_here: summary.bytes_only_here,
            gone: summary.gone,
            all_copied: summary.all_copied(),
            trouble: summary.trouble.as_ref().map(refusal_words),
            line: self.line_now(),
        }
    }

    fn line_now(self) -> Line {
        let paired = self.paired_with.get().is_some();
        let online = self.online.get();
        let connection = core().map(|core| core.replica.borrow().connection());
        match connection {
            _ if !paired => Line::Unpaired,
            Some(Connection::ShutOut { refusal }) => Line::ShutOut(refusal_words(&refusal)),
            _ if !online => Line::Off,
            Some(Connection::Waiting { until: _ }) => Line::Waiting,
            Some(Connection::Working) | None => Line::Working,
        }
    }
}

/// What the server refused, in the language that is chosen.
fn refusal_words(refusal: &Refusal) -> String {
    match refusal {
        Refusal::NotPaired => say("refused-not-paired"),
        Refusal::DeviceRemoved => say("refused-removed"),
        Refusal::NoSuchJob => say("refused-no-such-job"),
        Refusal::MissingChanges { .. } => say("refused-missing-changes"),
        Refusal::OtherLog { .. } => say("refused-other-log"),
        Refusal::ChangeRefused { why, .. } => say_with("refused-change", &[("why", why)]),
        Refusal::Unreadable { why } => say_with("refused-unreadable", &[("why", why)]),
        Refusal::TooLarge { why } => say_with("refused-too-large", &[("why", why)]),
        Refusal::WrongOffset { .. } => say("refused-wrong-offset"),
        Refusal::BlobDamaged => say("refused-damaged"),
        Refusal::Busy { .. } => say("refused-busy"),
        Refusal::ServerFull => say("refused-full"),
        Refusal::Other => say("refused-other"),
    }
}
