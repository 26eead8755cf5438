//! How far a share that was counted can be trusted.

/// An interval of a share, from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

/// The 0.975 quantile of the standard normal distribution: 95 % lie within this on both sides.
const Z: f64 = 1.959_963_984_540_054;

/// The Wilson score interval of `part` out of `whole`, at 95 %; none of nothing.
///
/// `(p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)`, with p = part/whole and n = whole. Unlike the simple interval it
/// stays within 0 and 1 and is of use for small numbers and for shares near none or all. NIST/SEMATECH e-Handbook of
/// Statistical Methods, 7.2.4.1; E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209–212.
#[must_use]
pub fn wilson(part: u32, whole: u32) -> Option<Interval> {
    if whole == 0 || part > whole {
        return None;
    }
    let n = f64::from(whole);
    let p = f64::from(part) / n;
    let z2 = Z * Z;
    let middle = p + z2 / (2.0 * n);
    let half = Z * libm::sqrt(p * (1.0 - p) / n + z2 / (4.0 * n * n));
    let divisor = 1.0 + z2 / n;
    // Exactly 0 and 1 at the ends, where rounding leaves a last bit.
    let low = if part == 0 { 0.0 } else { (middle - half) / divisor };
    let high = if part == whole { 1.0 } else { (middle + half) / divisor };
    Some(Interval { low, high })
}

#[cfg(test)]
mod tests {
    use super::wilson;

    /// `reference/shares`: 500 intervals by statsmodels.
    const SHARES: &str = include_str!("../../../reference/shares/intervals.csv");

    #[test]
    fn the_interval_is_that_of_statsmodels() {
        let mut compared = 0;
        for line in csv::Reader::from_reader(SHARES.as_bytes()).records() {
            let line = line.unwrap();
            let number = |at: usize| line[at].parse::<f64>().unwrap();
            let interval = wilson(line[0].parse().unwrap(), line[1].parse().unwrap()).unwrap();
            assert!((interval.low - number(2)).abs() < 1e-12, "{line:?}: {interval:?}");
            assert!((interval.high - number(3)).abs() < 1e-12, "{line:?}: {interval:?}");
            compared += 1;
        }
        assert_eq!(compared, 500);
    }

    #[test]
    fn none_of_none_has_no_interval_and_all_of_few_is_wide() {
        assert_eq!(wilson(0, 0), None);
        assert_eq!(wilson(3, 2), None);
        let none = wilson(0, 5).unwrap();
        assert!(none.low.abs() < f64::EPSILON && (none.high - 0.4345).abs() < 1e-4, "{none:?}");
        let all = wilson(5, 5).unwrap();
        assert!(
            (all.low - 0.5655).abs() < 1e-4 && (all.high - 1.0).abs() < f64::EPSILON,
            "{all:?}"
        );
    }
}
