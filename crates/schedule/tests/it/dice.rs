//! Numbers for random visits: Knuth's linear congruential generator of MMIX, high bits.

pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Self(seed);
        dice.below(2);
        dice
    }

    pub(crate) fn below(&mut self, count: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % count.max(1)
    }

    pub(crate) fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }
}
