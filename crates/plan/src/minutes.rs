//! Hands-on time in half minutes: our estimates tell no more apart, and sums of halves are exact.

use std::fmt;
use std::iter::Sum;

/// A length of time in half minutes, read and written as minutes: `0.5`, `3`, `12.5`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct HalfMinutes(pub u32);

impl HalfMinutes {
    /// The same in minutes.
    #[must_use]
    pub fn to_minutes(self) -> f64 {
        f64::from(self.0) / 2.0
    }

    /// Whole minutes, a half one counted as a whole.
    #[must_use]
    pub fn whole_minutes(self) -> u32 {
        self.0.div_ceil(2)
    }
}

impl fmt::Display for HalfMinutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let half = if self.0.is_multiple_of(2) { "" } else { ".5" };
        write!(f, "{}{half}", self.0 / 2)
    }
}

impl Sum for HalfMinutes {
    fn sum<I: Iterator<Item = Self>>(times: I) -> Self {
        times.fold(Self(0), |all, one| Self(all.0.saturating_add(one.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::HalfMinutes;

    #[test]
    fn halves_are_written_as_minutes_and_add_up() {
        for (half_minutes, text) in [(1, "0.5"), (2, "1"), (25, "12.5"), (0, "0")] {
            assert_eq!(HalfMinutes(half_minutes).to_string(), text);
        }
        let all: HalfMinutes = [1, 1, 3].map(HalfMinutes).into_iter().sum();
        assert_eq!((all, all.whole_minutes()), (HalfMinutes(5), 3));
        assert!((all.to_minutes() - 2.5).abs() < 1e-12);
    }
}
