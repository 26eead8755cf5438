//! Chance from a seed: SplitMix64 (Steele, Lea and Flood, "Fast Splittable Pseudorandom Number
//! Generators", OOPSLA 2014, figure 17).

pub(super) struct Dice(pub(super) u64);

impl Dice {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ mixed >> 31
    }

    /// From `least` to `most`, both included.
    pub(super) fn within(&mut self, least: u64, most: u64) -> u64 {
        least + self.next() % (most - least + 1)
    }

    /// True in `permille` of 1,000 cases.
    pub(super) fn often(&mut self, permille: u64) -> bool {
        self.next() % 1_000 < permille
    }

    pub(super) fn index(&mut self, length: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(length).unwrap()).unwrap()
    }
}
