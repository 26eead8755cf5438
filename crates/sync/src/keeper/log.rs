//! One job's log as a list of names: what fits it next.
//!
//! A change fits if every change it names is in the log before it, if it is the next one of its
//! device, and if its operations are numbered on from those before it; the job's beginning fits only
//! an empty log. So every stretch of a log from its beginning is a whole document, and two different
//! changes never carry the same number of one device.

use std::collections::BTreeMap;

use record::{Hash, Link};

use crate::{Cursor, Place, Refusal, wire::Kept};

/// The names in a job's log.
#[derive(Debug, Clone)]
pub(super) struct Log {
    head: Place,
    cursor: Cursor,
    changes: BTreeMap<Hash, Known>,
    /// The digest up to each change.
    chains: Vec<Hash>,
    /// How many changes of each device are in it.
    devices: BTreeMap<Vec<u8>, u64>,
}

#[derive(Debug, Clone, Copy)]
struct Known {
    seq: u64,
    last_operation: u64,
}

/// What became of a push.
#[derive(Debug)]
pub(super) struct Taken {
    /// Those changes that were not there, in order.
    pub(super) fresh: Vec<Link>,
    /// All of them, with their numbers.
    pub(super) kept: Vec<Kept>,
    /// The digest before the one with the lowest number.
    pub(super) before: Hash,
}

impl Default for Log {
    fn default() -> Self {
        Self {
            head: Place::START,
            cursor: Cursor::START,
            changes: BTreeMap::new(),
            chains: Vec::new(),
            devices: BTreeMap::new(),
        }
    }
}

impl Log {
    /// The log that holds these changes, in order. What is kept there is taken as it is.
    pub(super) fn of(links: &[Link]) -> Self {
        let mut log = Self::default();
        for link in links {
            log.add(link);
        }
        log
    }

    pub(super) fn head(&self) -> Place {
        self.head
    }

    /// Takes on what is new of `links`, all or none.
    pub(super) fn take(&mut self, links: &[Link]) -> Result<Taken, Refusal> {
        let mut fresh: Vec<&Link> = Vec::new();
        let mut operations = BTreeMap::new();
        let mut devices = BTreeMap::new();
        for link in links {
            if self.changes.contains_key(&link.hash) || operations.contains_key(&link.hash) {
                continue;
            }
            let of_device = devices
                .entry(link.device.as_slice())
                .or_insert_with(|| self.devices.get(&link.device).copied().unwrap_or_default());
            self.check(link, &operations, *of_device)?;
            *of_device = link.device_seq;
            operations.insert(link.hash, link.last_operation);
            fresh.push(link);
        }
        let fresh: Vec<Link> = fresh.into_iter().cloned().collect();
        for link in &fresh {
            self.add(link);
        }
        let kept: Vec<Kept> = links
            .iter()
            .filter_map(|link| {
                let place = self.changes.get(&link.hash)?;
                Some(Kept { hash: link.hash, seq: place.seq })
            })
            .collect();
        let lowest = kept.iter().map(|kept| kept.seq).min().unwrap_or_default();
        let before = usize::try_from(lowest).ok().and_then(|lowest| lowest.checked_sub(2));
        let before = before.and_then(|at| self.chains.get(at)).copied();
        Ok(Taken { fresh, kept, before: before.unwrap_or(Cursor::START.chain) })
    }

    /// Whether `link` may come after the log and after the `new` ones taken with it.
    fn check(&self, link: &Link, new: &BTreeMap<Hash, u64>, of_device: u64) -> Result<(), Refusal> {
        let last_operation = |dep: &Hash| {
            let place = self.changes.get(dep).map(|place| place.last_operation);
            place.or_else(|| new.get(dep).copied())
        };
        let missing: Vec<Hash> =
            link.deps.iter().filter(|dep| last_operation(dep).is_none()).copied().collect();
        if !missing.is_empty() {
            return Err(Refusal::MissingChanges { missing });
        }
        let refused = |why: String| Err(Refusal::ChangeRefused { change: link.hash, why });
        if link.deps.is_empty() && !(self.changes.is_empty() && new.is_empty()) {
            return refused("it begins another job under the same id".into());
        }
        if link.device_seq <= of_device {
            return refused(format!(
                "it is number {} of its device, and another change already is; two devices use one \
                 id, or a device was set back to an old copy",
                link.device_seq
            ));
        }
        if link.device_seq != of_device + 1 {
            return refused(format!(
                "it says it is number {} of its device, where {} comes next",
                link.device_seq,
                of_device + 1
            ));
        }
        let next = link.deps.iter().filter_map(last_operation).max().unwrap_or_default() + 1;
        if link.first_operation != next {
            return refused(format!(
                "its operations begin at {}, where {next} comes next",
                link.first_operation
            ));
        }
        Ok(())
    }

    fn add(&mut self, link: &Link) {
        let seq = self.head.seq + 1;
        self.head = Place { seq, hash: link.hash };
        self.cursor = self.cursor.then(&link.hash);
        self.chains.push(self.cursor.chain);
        self.changes.insert(link.hash, Known { seq, last_operation: link.last_operation });
        let last = self.devices.entry(link.device.clone()).or_default();
        *last = link.device_seq.max(*last);
    }
}
