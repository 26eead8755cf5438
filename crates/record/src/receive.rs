//! Taking in changes of other devices: in any order, any number of times, all or nothing.

use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};

use automerge::{Automerge, AutomergeError, Change};

use crate::{
    Hash, Record, RecordError, RefusalKind,
    author::device_in_hexadecimal,
    chunk::{self, Chunk, Kind},
};

/// What became of changes that were taken in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Received {
    /// Changes that are now part of the record: new ones, and earlier ones that had waited for them.
    pub added: Vec<Hash>,
    /// How many of them were there before.
    pub already_there: usize,
    /// Changes that wait for a predecessor.
    pub waiting: Vec<Hash>,
    /// The predecessors they wait for.
    pub missing: Vec<Hash>,
}

impl Record {
    /// Takes in changes as bytes: one, or several one after the other. A change that is already there
    /// does nothing. A change whose predecessors are missing is kept and waits for them.
    ///
    /// # Errors
    /// A sentence that says what is wrong; then none of the changes was taken in.
    pub fn apply(&mut self, bytes: &[u8]) -> Result<Received, RecordError> {
        if bytes.is_empty() {
            return Err(RecordError::Empty);
        }
        let changes = chunk::chunks(bytes, 1)?
            .into_iter()
            .map(|chunk| match chunk.kind {
                Kind::Change => Self::read_change(chunk),
                Kind::Document => Err(RecordError::Refused(RefusalKind::Unfit.refusal(
                    "this is a whole saved record, where single changes are accepted; load it and merge it",
                    ))),
            })
            .collect::<Result<Vec<_>, _>>()?;
        self.receive(changes)
    }

    /// Takes in everything that another record of the same job has.
    ///
    /// # Errors
    /// When the other record belongs to another job, or a device was used twice; then nothing was
    /// taken in.
    pub fn merge(&mut self, other: &Self) -> Result<Received, RecordError> {
        if other.beginning != self.beginning {
            return Err(RecordError::OtherJob {
                change: other.beginning,
                beginning: self.beginning,
            });
        }
        let mut changes = self.doc.get_changes_added(&other.doc);
        changes.extend(other.waiting.values().cloned());
        self.receive(changes)
    }

    /// The predecessors that waiting changes name and that are not here.
    #[must_use]
    pub fn missing(&self) -> Vec<Hash> {
        let missing: BTreeSet<_> = self
            .waiting
            .values()
            .flat_map(Change::deps)
            .map(|hash| Hash::from(*hash))
            .filter(|hash| !self.known.contains_key(hash) && !self.waiting.contains_key(hash))
            .collect();
        missing.into_iter().collect()
    }

    /// Reads one change whose frame and checksum are sound.
    pub(crate) fn read_change(chunk: Chunk<'_>) -> Result<Change, RecordError> {
        let place = format!("change {}", Hash::from(chunk.hash));
        let change = guarded(&place, || Change::try_from(chunk.bytes))?;
        if change.hash() == chunk.hash {
            Ok(change)
        } else {
            Err(RecordError::damaged(place, format!("it calls itself {}", change.hash())))
        }
    }

    pub(crate) fn receive(
        &mut self,
        changes: impl IntoIterator<Item = Change>,
    ) -> Result<Received, RecordError> {
        let mut received = Received::default();
        let mut pool = self.waiting.clone();
        let mut new = BTreeSet::new();
        for change in changes {
            let hash = Hash::from(change.hash());
            if self.known.contains_key(&hash) || pool.contains_key(&hash) {
                received.already_there += 1;
                continue;
            }
            if change.deps().is_empty() {
                return Err(RecordError::OtherJob { change: hash, beginning: self.beginning });
            }
            new.insert(hash);
            pool.insert(hash, change);
        }
        let ready = take_ready(&mut pool, &self.known);
        let mut sequences = self.sequences.clone();
        let mut operations = BTreeMap::new();
        let mut sorting = Sorting { new, pool, unfit: BTreeMap::new(), blocked: BTreeSet::new() };
        let mut fitting = Vec::new();
        for change in ready {
            let verdict = next_of_its_device(&change, &mut sequences)
                .and_then(|()| next_of_its_operations(&change, &self.known, &mut operations));
            fitting.extend(sorting.passed(change, verdict)?.map(|(change, ())| change));
        }
        match added(&self.doc, &fitting) {
            Ok(doc) => self.doc = doc,
            // One of them does not hold together: find out which, one by one.
            Err(_) => {
                let mut doc = self.doc.clone();
                let mut sound = Vec::new();
                for change in std::mem::take(&mut fitting) {
                    let verdict = added(&doc, std::slice::from_ref(&change));
                    if let Some((change, with)) = sorting.passed(change, verdict)? {
                        doc = with;
                        sound.push(change);
                    }
                }
                self.doc = doc;
                fitting = sound;
            }
        }
        for change in &fitting {
            let last = self.sequences.entry(change.actor_id().to_bytes().to_vec()).or_default();
            *last = change.seq().max(*last);
            let hash = Hash::from(change.hash());
            self.known.insert(hash, change.max_op());
            received.added.push(hash);
        }
        self.look_again();
        self.waiting = sorting.pool;
        self.unfit.extend(sorting.unfit);
        received.waiting = self.waiting.keys().copied().collect();
        received.missing = self.missing();
        Ok(received)
    }
}

/// Changes on their way in.
struct Sorting {
    /// Those that the caller gave: one of them being unfit refuses them all.
    new: BTreeSet<Hash>,
    /// Those that wait.
    pool: BTreeMap<Hash, Change>,
    /// Those that had waited and turned out unfit; they must not stand in the way of others.
    unfit: BTreeMap<Hash, RecordError>,
    /// Those that are unfit or come after an unfit one.
    blocked: BTreeSet<Hash>,
}

impl Sorting {
    /// The change and what was made of it, if it is fit and follows no unfit one.
    fn passed<T>(
        &mut self,
        change: Change,
        verdict: Result<T, RecordError>,
    ) -> Result<Option<(Change, T)>, RecordError> {
        let hash = Hash::from(change.hash());
        if change.deps().iter().any(|dep| self.blocked.contains(&Hash::from(*dep))) {
            self.blocked.insert(hash);
            self.pool.insert(hash, change);
            return Ok(None);
        }
        match verdict {
            Ok(made) => Ok(Some((change, made))),
            Err(error) if self.new.contains(&hash) => Err(error),
            Err(error) => {
                self.blocked.insert(hash);
                self.unfit.insert(hash, error);
                Ok(None)
            }
        }
    }
}

/// A copy of the document with changes added, if each of them can then be read out of it again as it
/// was given: what the document would not give back, it did not understand.
fn added(doc: &Automerge, changes: &[Change]) -> Result<Automerge, RecordError> {
    let (Some(first), mut with) = (changes.first(), doc.clone()) else { return Ok(doc.clone()) };
    let place = match changes.len() {
        1 => format!("change {}", Hash::from(first.hash())),
        several => format!("one of {several} changes"),
    };
    let heads = doc.get_heads();
    let (with, back) = guarded(&place, || {
        with.apply_changes(changes.to_vec())?;
        let back = with.get_changes(&heads);
        Ok::<_, AutomergeError>((with, back))
    })?;
    let back: BTreeMap<_, _> =
        back.iter().map(|change| (change.hash(), change.raw_bytes())).collect();
    if changes.iter().all(|change| back.get(&change.hash()) == Some(&change.raw_bytes())) {
        Ok(with)
    } else {
        Err(RecordError::damaged(place, "its content does not hold together"))
    }
}

/// Takes the changes out whose predecessors are all there, each after those it names.
fn take_ready(pool: &mut BTreeMap<Hash, Change>, known: &BTreeMap<Hash, u64>) -> Vec<Change> {
    let mut waiting_for: BTreeMap<Hash, Vec<Hash>> = BTreeMap::new();
    let mut open = BTreeMap::new();
    let mut free = Vec::new();
    for (hash, change) in pool.iter() {
        let deps: BTreeSet<_> = change.deps().iter().map(|dep| Hash::from(*dep)).collect();
        let unknown: Vec<_> = deps.into_iter().filter(|dep| !known.contains_key(dep)).collect();
        if unknown.is_empty() {
            free.push(*hash);
        }
        open.insert(*hash, unknown.len());
        for dep in unknown {
            waiting_for.entry(dep).or_default().push(*hash);
        }
    }
    let mut ready = Vec::new();
    while let Some(hash) = free.pop() {
        ready.extend(pool.remove(&hash));
        for follower in waiting_for.remove(&hash).unwrap_or_default() {
            if let Some(count) = open.get_mut(&follower) {
                *count -= 1;
                if *count == 0 {
                    free.push(follower);
                }
            }
        }
    }
    ready
}

/// Whether this is the change that its device makes next.
fn next_of_its_device(
    change: &Change,
    sequences: &mut BTreeMap<Vec<u8>, u64>,
) -> Result<(), RecordError> {
    let device = change.actor_id().to_bytes();
    let last = sequences.entry(device.to_vec()).or_default();
    let hash = Hash::from(change.hash());
    if change.seq() <= *last {
        return Err(RecordError::DeviceTwice {
            device: device_in_hexadecimal(device),
            sequence: change.seq(),
            change: hash,
        });
    }
    if change.seq() != *last + 1 {
        return Err(RecordError::damaged(
            format!("change {hash}"),
            format!(
                "it says it is its device's number {}, where {} comes next",
                change.seq(),
                *last + 1
            ),
        ));
    }
    *last = change.seq();
    Ok(())
}

/// Whether the change's operations are numbered on from those before it.
fn next_of_its_operations(
    change: &Change,
    known: &BTreeMap<Hash, u64>,
    new: &mut BTreeMap<Hash, u64>,
) -> Result<(), RecordError> {
    let last = |dep: &automerge::ChangeHash| {
        let dep = Hash::from(*dep);
        known.get(&dep).or_else(|| new.get(&dep)).copied().unwrap_or_default()
    };
    let next = change.deps().iter().map(last).max().unwrap_or_default() + 1;
    let hash = Hash::from(change.hash());
    if change.start_op().get() != next {
        return Err(RecordError::damaged(
            format!("change {hash}"),
            format!("its operations begin at {}, where {next} comes next", change.start_op()),
        ));
    }
    new.insert(hash, change.max_op());
    Ok(())
}

/// Runs the document library on bytes from outside. It assumes that a change with a sound checksum was
/// written by itself and panics on some that were not; such a panic becomes a sentence. (Where
/// panics abort, as in the browser, it ends the page instead.)
pub(crate) fn guarded<T, E: std::fmt::Display>(
    place: &str,
    run: impl FnOnce() -> Result<T, E>,
) -> Result<T, RecordError> {
    match catch_unwind(AssertUnwindSafe(run)) {
        Ok(Ok(value)) => Ok(value),
        Ok(Err(error)) => Err(RecordError::damaged(place, error)),
        Err(_) => Err(RecordError::damaged(place, "its content does not hold together")),
    }
}
