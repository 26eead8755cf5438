//! Pseudo-random normal numbers that are the same on every machine.

#![allow(clippy::excessive_precision, reason = "coefficients stand as published, digit for digit")]

/// The generator `SplitMix64` (Steele, Lea and Flood, 2014), turned into normal numbers by the inverse of
/// their distribution function. The same seed gives the same numbers everywhere; it reads no clock and no
/// source of randomness.
#[derive(Clone, Debug)]
pub(crate) struct Normal {
    state: u64,
}

impl Normal {
    pub(crate) fn seeded(seed: u64) -> Self {
        Self { state: seed }
    }

    fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number between 0 and 1, neither included.
    fn uniform(&mut self) -> f64 {
        #[allow(clippy::cast_precision_loss, reason = "53 bits fit a float exactly")]
        let fraction = (self.bits() >> 11) as f64;
        (fraction + 0.5) / 9_007_199_254_740_992.0
    }

    /// A standard normal number.
    pub(crate) fn draw(&mut self) -> f64 {
        normal_quantile(self.uniform())
    }
}

/// Sum of powers, the highest coefficient first.
fn horner(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// Inverse of the standard normal distribution function, to sixteen digits.
///
/// Wichura, Applied Statistics 37 (1988) 477, algorithm AS 241, PPND16.
pub(crate) fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * horner(&CENTRE_ABOVE, r) / horner(&CENTRE_BELOW, r);
    }
    let r = libm::sqrt(-libm::log(if q < 0.0 { p } else { 1.0 - p }));
    let tail = if r <= 5.0 {
        horner(&TAIL_ABOVE, r - 1.6) / horner(&TAIL_BELOW, r - 1.6)
    } else {
        horner(&FAR_ABOVE, r - 5.0) / horner(&FAR_BELOW, r - 5.0)
    };
    if q < 0.0 { -tail } else { tail }
}

const CENTRE_ABOVE: [f64; 8] = [
    2.509_080_928_730_122_672_7e3,
    3.343_057_558_358_812_810_5e4,
    6.726_577_092_700_870_085_3e4,
    4.592_195_393_154_987_145_7e4,
    1.373_169_376_550_946_112_5e4,
    1.971_590_950_306_551_442_7e3,
    1.331_416_678_917_843_774_5e2,
    3.387_132_872_796_366_608,
];
const CENTRE_BELOW: [f64; 8] = [
    5.226_495_278_852_854_561e3,
    2.872_908_573_572_194_267_4e4,
    3.930_789_580_009_271_061e4,
    2.121_379_430_158_659_586_7e4,
    5.394_196_021_424_751_107_7e3,
    6.871_870_074_920_579_083e2,
    4.231_333_070_160_091_125_2e1,
    1.0,
];
const TAIL_ABOVE: [f64; 8] = [
    7.745_450_142_783_414_076_4e-4,
    2.272_384_498_926_918_458_33e-2,
    2.417_807_251_774_506_117_7e-1,
    1.270_458_252_452_368_382_58,
    3.647_848_324_763_204_605_04,
    5.769_497_221_460_691_405_5,
    4.630_337_846_156_545_295_9,
    1.423_437_110_749_683_577_34,
];
const TAIL_BELOW: [f64; 8] = [
    1.050_750_071_644_416_843_24e-9,
    5.475_938_084_995_344_946e-4,
    1.519_866_656_361_645_719_66e-2,
    1.481_039_764_274_800_745_9e-1,
    6.897_673_349_851_000_045_5e-1,
    1.676_384_830_183_803_849_4,
    2.053_191_626_637_758_821_87,
    1.0,
];
const FAR_ABOVE: [f64; 8] = [
    2.010_334_399_292_288_132_65e-7,
    2.711_555_568_743_487_578_15e-5,
    1.242_660_947_388_078_438_6e-3,
    2.653_218_952_657_612_309_3e-2,
    2.965_605_718_285_048_912_3e-1,
    1.784_826_539_917_291_335_8,
    5.463_784_911_164_114_369_9,
    6.657_904_643_501_103_777_2,
];
const FAR_BELOW: [f64; 8] = [
    2.044_263_103_389_939_785_64e-15,
    1.421_511_758_316_445_888_7e-7,
    1.846_318_317_510_054_681_8e-5,
    7.868_691_311_456_132_591e-4,
    1.487_536_129_085_061_485_25e-2,
    1.369_298_809_227_358_053_1e-1,
    5.998_322_065_558_879_376_9e-1,
    1.0,
];

#[cfg(test)]
mod tests {
    use super::{Normal, normal_quantile};

    /// The distribution function itself, by the complementary error function.
    #[test]
    fn the_quantile_inverts_the_distribution() {
        for p in
            [1e-12, 1e-6, 0.001, 0.025, 0.05, 0.074, 0.076, 0.3, 0.5, 0.7, 0.95, 0.975, 0.999_9]
        {
            let back = 0.5 * libm::erfc(-normal_quantile(p) / std::f64::consts::SQRT_2);
            assert!((back / p - 1.0).abs() < 1e-13, "{p}: {back}");
        }
        assert!((normal_quantile(0.975) - 1.959_963_984_540_054).abs() < 1e-14);
    }

    /// The first outputs for the seed 0 as the generator's published implementation gives them.
    #[test]
    fn the_generator_gives_its_published_sequence() {
        let mut generator = Normal::seeded(0);
        for bits in [0xe220_a839_7b1d_cdaf_u64, 0x6e78_9e6a_a1b9_65f4, 0x06c4_5d18_8009_454f] {
            assert_eq!(generator.bits(), bits);
        }
    }

    #[test]
    fn a_hundred_thousand_draws_have_the_moments_of_a_normal_distribution() {
        let mut generator = Normal::seeded(7);
        let (mut sum, mut squares, mut fourth) = (0.0, 0.0, 0.0);
        for _ in 0..100_000 {
            let z = generator.draw();
            sum += z;
            squares += z * z;
            fourth += z * z * z * z;
        }
        // Four standard errors of each moment.
        assert!((sum / 1e5).abs() < 0.013, "{sum}");
        assert!((squares / 1e5 - 1.0).abs() < 0.018, "{squares}");
        assert!((fourth / 1e5 - 3.0).abs() < 0.13, "{fourth}");
    }
}
