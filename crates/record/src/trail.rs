//! The record's whole history: who changed what, when, after which other changes.

use std::collections::{BTreeMap, BTreeSet};

use crate::{Author, Hash, Record, author::device_in_hexadecimal};

/// One change as other devices take it in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The change's name: SHA-256 over `bytes` from the ninth byte on.
    pub hash: Hash,
    /// The change itself, for [`Record::apply`] and [`Record::load`]. Store each as its own piece.
    pub bytes: Vec<u8>,
    /// The changes before it.
    pub deps: Vec<Hash>,
    /// The device that made it, in hexadecimal.
    pub device: String,
    /// The person who made it.
    pub person: String,
    /// When, in seconds since 1970-01-01 00:00 UTC, as the device's clock stood.
    pub at_unix_seconds: i64,
    /// What was done, in words.
    pub message: String,
}

/// One line of the trail.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrailEntry {
    /// The change's name.
    pub hash: Hash,
    /// The device that made it, in hexadecimal.
    pub device: String,
    /// The person who made it.
    pub person: String,
    /// When, in seconds since 1970-01-01 00:00 UTC, as the device's clock stood.
    pub at_unix_seconds: i64,
    /// What was done, in words.
    pub message: String,
    /// The changes before it.
    pub deps: Vec<Hash>,
}

/// Person and act as the change's message: the person on the first line.
pub(crate) fn message(author: &Author, act: &str) -> String {
    format!("{}\n{act}", author.person)
}

/// Person and act from a change's message.
pub(crate) fn person_and_act(message: Option<&str>) -> (String, String) {
    let (person, act) = message.unwrap_or_default().split_once('\n').unwrap_or_default();
    (person.to_owned(), act.to_owned())
}

pub(crate) fn change_out(change: &automerge::Change) -> Change {
    let (person, message) = person_and_act(change.message());
    Change {
        hash: change.hash().into(),
        bytes: change.raw_bytes().to_vec(),
        deps: change.deps().iter().map(|dep| Hash::from(*dep)).collect(),
        device: device_in_hexadecimal(change.actor_id().to_bytes()),
        person,
        at_unix_seconds: change.timestamp(),
        message,
    }
}

impl Record {
    /// The changes that whoever has these heads lacks, each after those it names. Heads that are not
    /// here count as nothing.
    #[must_use]
    pub fn changes_after(&self, heads: &[Hash]) -> Vec<Change> {
        let heads: Vec<_> = heads
            .iter()
            .filter(|head| self.known.contains_key(head))
            .map(|head| automerge::ChangeHash::from(*head))
            .collect();
        self.doc.get_changes(&heads).iter().map(change_out).collect()
    }

    /// Every change, each after those it names; where that leaves a choice, by time and then by hash,
    /// so that all devices show the same order.
    #[must_use]
    pub fn trail(&self) -> Vec<TrailEntry> {
        let mut entries: BTreeMap<Hash, TrailEntry> = BTreeMap::new();
        let mut followers: BTreeMap<Hash, Vec<Hash>> = BTreeMap::new();
        let mut open: BTreeMap<Hash, usize> = BTreeMap::new();
        let mut free = BTreeSet::new();
        for change in self.doc.get_changes_meta(&[]) {
            let hash = Hash::from(change.hash);
            let deps: Vec<_> = change.deps.iter().map(|dep| Hash::from(*dep)).collect();
            for dep in &deps {
                followers.entry(*dep).or_default().push(hash);
            }
            if deps.is_empty() {
                free.insert((change.timestamp, hash));
            }
            open.insert(hash, deps.len());
            let (person, message) = person_and_act(change.message.as_deref());
            let entry = TrailEntry {
                hash,
                device: device_in_hexadecimal(change.actor.to_bytes()),
                person,
                at_unix_seconds: change.timestamp,
                message,
                deps,
            };
            entries.insert(hash, entry);
        }
        let mut trail = Vec::with_capacity(entries.len());
        while let Some((_, hash)) = free.pop_first() {
            trail.extend(entries.remove(&hash));
            for follower in followers.remove(&hash).unwrap_or_default() {
                if let (Some(count), Some(entry)) =
                    (open.get_mut(&follower), entries.get(&follower))
                {
                    *count -= 1;
                    if *count == 0 {
                        free.insert((entry.at_unix_seconds, follower));
                    }
                }
            }
        }
        trail
    }
}
