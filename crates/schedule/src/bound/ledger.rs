//! The least cost at which each state was reached: a hash table that is only ever asked, never walked
//! through, so that its order cannot matter.

/// A state of the search: what is done, and the place and site states packed into a number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Key {
    pub(super) done: u128,
    pub(super) site: u64,
}

/// A cost that no state has: an empty slot.
const EMPTY: u16 = u16::MAX;

/// States with their least costs, by open addressing.
pub(super) struct Ledger {
    slots: Vec<(Key, u16)>,
    filled: usize,
}

impl Ledger {
    pub(super) fn new() -> Self {
        Self { slots: vec![(Key::default(), EMPTY); 1 << 12], filled: 0 }
    }

    /// How many states it holds.
    pub(super) fn len(&self) -> usize {
        self.filled
    }

    /// The slot that holds a state, or would.
    fn slot(&self, key: Key) -> usize {
        let mask = self.slots.len() - 1;
        let mut hash = key.site;
        for half in key.done.to_le_bytes().chunks_exact(8) {
            let word = half.iter().rev().fold(0, |word, &byte| word << 8 | u64::from(byte));
            hash = (hash.rotate_left(5) ^ word).wrapping_mul(0x517C_C1B7_2722_0A95);
        }
        hash ^= hash >> 29;
        let mut slot = usize::try_from(hash >> 32).unwrap_or(0) & mask;
        while self.slots[slot].1 != EMPTY && self.slots[slot].0 != key {
            slot = (slot + 1) & mask;
        }
        slot
    }

    /// The least cost of a state.
    pub(super) fn cost(&self, key: Key) -> Option<u16> {
        let cost = self.slots[self.slot(key)].1;
        (cost != EMPTY).then_some(cost)
    }

    /// Notes a cost; says whether it is less than what was known.
    pub(super) fn lower(&mut self, key: Key, cost: u16) -> bool {
        let slot = self.slot(key);
        let known = self.slots[slot].1;
        if known <= cost && known != EMPTY {
            return false;
        }
        self.slots[slot] = (key, cost);
        if known == EMPTY {
            self.filled += 1;
            if self.filled * 3 > self.slots.len() * 2 {
                self.grow();
            }
        }
        true
    }

    fn grow(&mut self) {
        let larger = vec![(Key::default(), EMPTY); self.slots.len() * 2];
        for entry in std::mem::replace(&mut self.slots, larger) {
            if entry.1 != EMPTY {
                let slot = self.slot(entry.0);
                self.slots[slot] = entry;
            }
        }
    }
}
