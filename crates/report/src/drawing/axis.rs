//! An axis with ticks at round numbers.

/// From one round number to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Axis {
    /// The first tick.
    pub from: f64,
    /// The last tick.
    pub to: f64,
    step: f64,
    decimals: usize,
}

impl Axis {
    /// The axis that covers these numbers with about `ticks` ticks; none if a number is not finite, or nothing is given.
    pub(crate) fn covering(numbers: impl IntoIterator<Item = f64>, ticks: f64) -> Option<Self> {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for number in numbers {
            if !number.is_finite() {
                return None;
            }
            (low, high) = (low.min(number), high.max(number));
        }
        if low > high {
            return None;
        }
        // Equal numbers still need room to both sides.
        let room = (low.abs().max(high.abs()) * 1e-3).max(1e-9);
        let (low, high) = if high - low < room { (low - room, high + room) } else { (low, high) };
        let (step, decimals) = round_step((high - low) / ticks)?;
        let (from, to) = ((low / step + 1e-9).floor() * step, (high / step - 1e-9).ceil() * step);
        (from.is_finite() && to > from).then_some(Self { from, to, step, decimals })
    }

    /// All ticks.
    pub(crate) fn ticks(&self) -> Vec<f64> {
        let mut ticks = Vec::new();
        let mut count = 0.0;
        loop {
            let tick = self.from + count * self.step;
            if tick > self.to + self.step / 2.0 {
                return ticks;
            }
            ticks.push(tick);
            count += 1.0;
        }
    }

    /// Where a number stands between two places: `start` for the first tick, `end` for the last.
    pub(crate) fn place(&self, number: f64, (start, end): (f64, f64)) -> f64 {
        start + (number - self.from) / (self.to - self.from) * (end - start)
    }

    /// A tick's number.
    pub(crate) fn label(&self, tick: f64) -> String {
        let decimals = self.decimals;
        let text = format!("{tick:.decimals$}");
        if text.trim_start_matches('-').chars().all(|it| it == '0' || it == '.') {
            text.trim_start_matches('-').to_owned()
        } else {
            text
        }
    }
}

/// The next of 1, 2 or 5 times a power of ten, and how many decimals its multiples have.
fn round_step(rough: f64) -> Option<(f64, usize)> {
    let written = format!("{rough:e}");
    let (_, power) = written.split_once('e')?;
    let power: i32 = power.parse().ok()?;
    for (digit, more) in [("1", 0), ("2", 0), ("5", 0), ("1", 1)] {
        let step: f64 = format!("{digit}e{}", power + more).parse().ok()?;
        if step >= rough * (1.0 - 1e-9) {
            return Some((step, usize::try_from(-(power + more)).unwrap_or(0)));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(numbers: &[f64], ticks: f64) -> Vec<String> {
        let axis = Axis::covering(numbers.iter().copied(), ticks).unwrap();
        axis.ticks().into_iter().map(|tick| axis.label(tick)).collect()
    }

    #[test]
    fn ticks_stand_at_round_numbers_and_cover_all() {
        assert_eq!(labels(&[8.22, 9.05], 5.0), ["8.2", "8.4", "8.6", "8.8", "9.0", "9.2"]);
        assert_eq!(labels(&[0.0, 10.0], 5.0), ["0", "2", "4", "6", "8", "10"]);
        assert_eq!(labels(&[-3.0, 12.0], 4.0), ["-5", "0", "5", "10", "15"]);
        assert_eq!(labels(&[120_000.0, 480_000.0], 4.0).first().unwrap(), "100000");
    }

    #[test]
    fn numbers_stand_where_arithmetic_says() {
        let axis = Axis::covering([0.0, 10.0], 5.0).unwrap();
        assert!((axis.place(2.5, (100.0, 300.0)) - 150.0).abs() < 1e-9);
        assert!((axis.place(2.5, (300.0, 100.0)) - 250.0).abs() < 1e-9);
    }

    #[test]
    fn equal_numbers_get_room_and_what_is_no_number_gets_no_axis() {
        for one in [0.0, 9.1, -40.0, 1e9] {
            let axis = Axis::covering([one, one], 4.0).unwrap();
            assert!(axis.from < one && one < axis.to, "{axis:?}");
        }
        assert_eq!(Axis::covering([1.0, f64::NAN], 4.0), None);
        assert_eq!(Axis::covering([1.0, f64::INFINITY], 4.0), None);
        assert_eq!(Axis::covering([], 4.0), None);
    }
}
