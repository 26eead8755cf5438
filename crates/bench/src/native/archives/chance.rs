//! Chance that is the same in every run.

/// SplitMix64: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014.
pub(super) struct Chance(u64);

impl Chance {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to under 1.
    pub(super) fn part(&mut self) -> f64 {
        let high = u32::try_from(self.next() >> 32).unwrap_or(0);
        f64::from(high) / 4_294_967_296.0
    }

    /// From 0 to under `most`.
    pub(super) fn below(&mut self, most: usize) -> usize {
        let most = u64::try_from(most.max(1)).unwrap_or(1);
        usize::try_from(self.next() % most).unwrap_or(0)
    }

    /// One of several; the first ones more often, as words are.
    pub(super) fn often<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        let most = self.below(all.len()) + 1;
        let at = self.below(most);
        &all[at]
    }

    /// One of several, each as often.
    pub(super) fn one<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        let at = self.below(all.len());
        &all[at]
    }
}
