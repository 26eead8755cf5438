//! Numbers that spread retries: SplitMix64 (Steele, Lea and Flood, "Fast Splittable Pseudorandom
//! Number Generators", OOPSLA 2014, figure 17), from a seed that the caller draws.

#[derive(Debug, Clone)]
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ mixed >> 31
    }

    /// A number from 0 to `most`.
    pub(crate) fn up_to(&mut self, most: u64) -> u64 {
        match most.checked_add(1) {
            Some(count) => self.next() % count,
            None => self.next(),
        }
    }
}
