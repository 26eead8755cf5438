//! Pseudo-random numbers: the same from the same seed, on every machine.

/// Marsaglia's xorshift of 64 bits with a multiplication, as Vigna's xorshift64*.
#[derive(Clone, Debug)]
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        // Zero would stay zero; nearby seeds should not start alike.
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A number from 0 up to but not `count`; 0 if there is none.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        let wide = u128::from(self.next()) * count as u128;
        usize::try_from(wide >> 64).unwrap_or(0)
    }

    /// One time in so many.
    pub(crate) fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    /// A length that is at least x once in e^(x/scale) times.
    pub(crate) fn allowance(&mut self, scale: f64) -> i64 {
        let bits = u32::try_from(self.next() >> 32).unwrap_or(0);
        let fraction = (f64::from(bits) + 1.0) / 4_294_967_296.0;
        #[allow(
            clippy::cast_possible_truncation,
            reason = "at most 23 times a scale that is itself small; a cast of a float saturates"
        )]
        let allowance = (-libm::log(fraction) * scale) as i64;
        allowance
    }
}
