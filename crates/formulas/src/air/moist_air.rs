//! Moist air: the equations that every formula of this system is built on.
//!
//! ASHRAE Handbook—Fundamentals (2017), chapter 1, SI form. Inside this module temperatures are in °C,
//! pressures in Pa, humidity ratios in kg of vapour a kg of dry air, as in the source. Saturation below
//! 0.01 °C is over ice; the source switches at 0 °C, which makes the dew point jump.

use super::exponential::exp;
use crate::{Confirmed, Problem, Source};

/// The chapter that the equations come from, confirmed through the library that cites each.
pub(super) const CHAPTER: Source = Source {
    document: "ASHRAE Handbook—Fundamentals (2017), chapter 1, as PsychroLib 2.5.0 cites it",
    section: "eq. 3, 5, 6, 20, 26, 30, 33 and 35",
    confirmed: Confirmed::Quoted,
};

pub(super) const LOWEST: f64 = -100.0; // °C
pub(super) const HIGHEST: f64 = 200.0; // °C
const TRIPLE_POINT: f64 = 0.01; // °C
const GAS_CONSTANT: f64 = 287.042; // J/(kg K), of dry air
/// Ratio of the molar masses of water and dry air.
const MASS_RATIO: f64 = 0.621_945;

/// Moist air at a pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct MoistAir {
    /// Dry-bulb temperature, °C.
    pub(crate) dry_bulb: f64,
    /// Humidity ratio, kg/kg.
    pub(crate) humidity_ratio: f64,
    /// Pressure, Pa.
    pub(crate) pressure: f64,
}

/// Pressure of the standard atmosphere at a height in metres: eq. 3.
pub(crate) fn standard_pressure(altitude: f64) -> Result<f64, Problem> {
    if !(-500.0..=11_000.0).contains(&altitude) {
        return Err(Problem::out_of_range(
            "valid for altitudes from -500 m to 11,000 m (36,000 ft), the lowest layer of the standard \
             atmosphere",
        ));
    }
    // The power by its logarithm, which is much quicker and good to the fifteenth digit.
    Ok(101_325.0 * libm::exp(5.255_9 * libm::log(1.0 - 2.255_77e-5 * altitude)))
}

/// Pressure of water vapour in saturated air, Pa: eq. 5 over ice, eq. 6 over water.
pub(crate) fn saturation_pressure(celsius: f64) -> f64 {
    exp(saturation_logarithm(celsius, celsius <= TRIPLE_POINT).value)
}

/// A function of the temperature at one temperature: value, slope and the slope's own slope.
#[derive(Clone, Copy, Debug)]
struct Curve {
    value: f64,
    slope: f64,
    bend: f64,
}

/// Natural logarithm of the saturation pressure over ice or over water.
fn saturation_logarithm(celsius: f64, ice: bool) -> Curve {
    let t = celsius + 273.15;
    let by_t = 1.0 / t;
    // c₁/T + c₂ + c₃T + c₄T² + c₅T³ + c₆T⁴ + c₇ ln T
    let (c1, c2, c3, c4, c5, c6, c7) = if ice {
        (
            -5.674_535_9e3,
            6.392_524_7,
            -9.677_843e-3,
            6.221_570_1e-7,
            2.074_782_5e-9,
            -9.484_024e-13,
            4.163_501_9,
        )
    } else {
        (
            -5.800_220_6e3,
            1.391_499_3,
            -4.864_023_9e-2,
            4.176_476_8e-5,
            -1.445_209_3e-8,
            0.0,
            6.545_967_3,
        )
    };
    Curve {
        value: c1 * by_t + c2 + t * (c3 + t * (c4 + t * (c5 + t * c6))) + c7 * libm::log(t),
        slope: c3 + t * (2.0 * c4 + t * (3.0 * c5 + t * 4.0 * c6)) + by_t * (c7 - by_t * c1),
        bend: 2.0 * c4 + t * (6.0 * c5 + t * 12.0 * c6) + by_t * by_t * (2.0 * by_t * c1 - c7),
    }
}

/// Saturation pressures at the lowest temperature, and where ice and water meet, Pa: eq. 5 and, last, eq. 6.
const AT_LOWEST: f64 = 0.001_405_102_123_874_154;
const AT_TRIPLE_POINT: f64 = 611.657_024_390_876_6;
const WATER_AT_TRIPLE_POINT: f64 = 611.657_027_934_65;
/// The same of ice at 0 °C.
const ICE_AT_ZERO: f64 = 611.153_570_890_765_8;

/// Temperature at which vapour of this pressure saturates, °C: eq. 5 and 6 inverted.
pub(crate) fn dew_point(vapour_pressure: f64) -> Result<f64, Problem> {
    if vapour_pressure < AT_LOWEST {
        return Err(Problem::out_of_range(
            "air this dry has no dew point above -100 degC (-148 degF); valid for damper air",
        ));
    }
    let ice = vapour_pressure <= AT_TRIPLE_POINT;
    let wanted = libm::log(vapour_pressure);
    // What a step of Halley's leaves of an error e is 1e-6·e³: the curve is nearly a hyperbola, on which it would leave
    // nothing.
    let (low, high) = if ice { (LOWEST, TRIPLE_POINT) } else { (TRIPLE_POINT, HIGHEST) };
    let (steepness, at) = magnus_constants(ice);
    let magnus = wanted - 6.415_4;
    Ok(root(low, high, at * magnus / (steepness - magnus), 0.1, |celsius| {
        saturation_logarithm(celsius, ice).less(wanted)
    }))
}

/// Magnus' formula with Sonntag's constants, `ln p = 6.4154 + m·t/(n + t)`, from which roots are searched: it is good to
/// 0.06 K up to 60 °C, and takes no logarithm.
fn magnus_constants(ice: bool) -> (f64, f64) {
    if ice { (22.46, 272.62) } else { (17.62, 243.12) }
}

/// The same without its constant.
fn magnus(celsius: f64) -> Curve {
    let (m, n) = magnus_constants(celsius <= TRIPLE_POINT);
    let by = 1.0 / (n + celsius);
    let slope = m * n * by * by;
    Curve { value: m * celsius * by, slope, bend: -2.0 * slope * by }
}

/// Humidity ratio of air saturated with vapour of this pressure, whose logarithm has these slopes.
fn saturation_ratio(vapour: f64, logarithm: Curve, pressure: f64) -> Curve {
    let by_dry = 1.0 / (pressure - vapour);
    let value = MASS_RATIO * vapour * by_dry;
    // p/(P − p) by the temperature: its slope is itself times (ln p)'·P/(P − p).
    let growth = logarithm.slope * pressure * by_dry;
    // And that one's: (ln p)''·P/(P − p) more, and p·(ln p)'/(P − p) for what the dry air loses.
    let bend =
        growth * (growth + logarithm.slope * vapour * by_dry) + logarithm.bend * pressure * by_dry;
    Curve { value, slope: value * growth, bend: value * bend }
}

/// Coefficients of eq. 33, above freezing, or eq. 35, below: `W = ((a − b·t*)·W_s − 1.006·(t − t*))/(a + 1.86·t − c·t*)`.
fn coefficients(above: bool) -> (f64, f64, f64) {
    if above { (2_501.0, 2.326, 4.186) } else { (2_830.0, 0.24, 2.1) }
}

/// Humidity ratio by the wet bulb and the ratio of air saturated there.
fn ratio_by_saturation(dry_bulb: f64, wet_bulb: f64, saturated: Curve) -> Curve {
    let (a, b, c) = coefficients(wet_bulb >= 0.0);
    let latent = a - b * wet_bulb;
    let by_below = 1.0 / (a + 1.86 * dry_bulb - c * wet_bulb);
    let value = (latent * saturated.value - 1.006 * (dry_bulb - wet_bulb)) * by_below;
    let slope = (latent * saturated.slope - b * saturated.value + 1.006 + value * c) * by_below;
    let bend = (latent * saturated.bend - 2.0 * b * saturated.slope + 2.0 * slope * c) * by_below;
    Curve { value, slope, bend }
}

/// Humidity ratio by the wet bulb. Not positive for a wet bulb that even dry air does not reach.
fn ratio_by_wet_bulb(dry_bulb: f64, wet_bulb: f64, pressure: f64) -> Curve {
    let logarithm = saturation_logarithm(wet_bulb, wet_bulb <= TRIPLE_POINT);
    let saturated = saturation_ratio(exp(logarithm.value), logarithm, pressure);
    ratio_by_saturation(dry_bulb, wet_bulb, saturated)
}

impl Curve {
    /// The same function less a constant.
    fn less(self, constant: f64) -> Self {
        Self { value: self.value - constant, ..self }
    }

    /// Where Halley's step leads from here, towards the root.
    fn halley(self, from: f64) -> f64 {
        let Self { value, slope, bend } = self;
        from - 2.0 * value * slope / (2.0 * slope * slope - value * bend)
    }
}

/// Root of a rising function, by Halley's steps where they stay between the ends and at least halve what is left, by
/// halves elsewhere; the nearer end where the root lies beyond. A step of Halley's that is no longer than `enough` is the
/// last.
fn root(
    mut low: f64,
    mut high: f64,
    start: f64,
    enough: f64,
    function: impl Fn(f64) -> Curve,
) -> f64 {
    let mut at = if start > low && start < high { start } else { 0.5 * (low + high) };
    let mut last = high - low;
    // Halving alone would be below the spacing of the numbers after sixty steps.
    for _ in 0..120 {
        let curve = function(at);
        if curve.value < 0.0 {
            low = at;
        } else {
            high = at;
        }
        let halley = curve.halley(at);
        let step = (halley - at).abs();
        let between = halley >= low && halley <= high;
        if between && step <= enough {
            return halley;
        }
        let next = if between && step <= 0.5 * last { halley } else { 0.5 * (low + high) };
        last = (next - at).abs();
        at = next;
        // The ends have met.
        if last <= 1e-9 {
            return at;
        }
    }
    at
}

impl MoistAir {
    fn checked_temperature(dry_bulb: f64) -> Result<(), Problem> {
        if (LOWEST..=HIGHEST).contains(&dry_bulb) {
            return Ok(());
        }
        Err(Problem::out_of_range(
            "valid for air from -100 degC to 200 degC (-148 degF to 392 degF)",
        ))
    }

    /// Air of a relative humidity (a fraction). The name is that of the input, for messages.
    pub(crate) fn by_relative_humidity(
        name: &str,
        dry_bulb: f64,
        humidity: f64,
        pressure: f64,
    ) -> Result<Self, Problem> {
        Self::checked_temperature(dry_bulb)?;
        if !(0.0..=1.0).contains(&humidity) {
            return Err(Problem::input(name, "is not possible; accepted: 0 % to 100 %"));
        }
        Self::by_vapour_pressure(dry_bulb, humidity * saturation_pressure(dry_bulb), pressure)
    }

    /// Air of a wet-bulb temperature.
    pub(crate) fn by_wet_bulb(
        name: &str,
        dry_bulb: f64,
        wet_bulb: f64,
        pressure: f64,
    ) -> Result<Self, Problem> {
        Self::checked_temperature(dry_bulb)?;
        if wet_bulb > dry_bulb {
            return Err(Problem::input(
                name,
                "is above the dry bulb; accepted: at most the dry bulb (are the two exchanged?)",
            ));
        }
        if saturation_pressure(wet_bulb) >= pressure {
            return Err(boiling());
        }
        let humidity_ratio = if wet_bulb < LOWEST {
            -1.0
        } else {
            ratio_by_wet_bulb(dry_bulb, wet_bulb, pressure).value
        };
        if humidity_ratio <= 0.0 {
            return Err(Problem::input(
                name,
                "is lower than even dry air would make it; accepted: nearer to the dry bulb",
            ));
        }
        Ok(Self { dry_bulb, humidity_ratio, pressure })
    }

    /// Air of a dew point.
    pub(crate) fn by_dew_point(
        name: &str,
        dry_bulb: f64,
        dew_point: f64,
        pressure: f64,
    ) -> Result<Self, Problem> {
        Self::checked_temperature(dry_bulb)?;
        if dew_point > dry_bulb {
            return Err(Problem::input(
                name,
                "is above the dry bulb; accepted: at most the dry bulb (are the two exchanged?)",
            ));
        }
        if dew_point < LOWEST {
            return Err(Problem::out_of_range("valid for dew points from -100 degC (-148 degF)"));
        }
        Self::by_vapour_pressure(dry_bulb, saturation_pressure(dew_point), pressure)
    }

    /// Eq. 20: `W = 0.621945·p_w/(p − p_w)`.
    fn by_vapour_pressure(dry_bulb: f64, vapour: f64, pressure: f64) -> Result<Self, Problem> {
        if vapour >= pressure {
            return Err(boiling());
        }
        let humidity_ratio = MASS_RATIO * vapour / (pressure - vapour);
        Ok(Self { dry_bulb, humidity_ratio, pressure })
    }

    /// Pressure of the vapour alone, Pa.
    pub(crate) fn vapour_pressure(self) -> f64 {
        self.pressure * self.humidity_ratio / (MASS_RATIO + self.humidity_ratio)
    }

    /// Vapour pressure by that of saturated air at the same temperature, a fraction.
    pub(crate) fn relative_humidity(self) -> f64 {
        self.vapour_pressure() / saturation_pressure(self.dry_bulb)
    }

    /// Temperature at which it begins to condense, °C.
    pub(crate) fn dew_point(self) -> Result<f64, Problem> {
        dew_point(self.vapour_pressure())
    }

    /// Thermodynamic wet-bulb temperature, °C: eq. 33 and 35 inverted. The dew point is that of this air.
    pub(crate) fn wet_bulb_above(self, dew_point: f64) -> f64 {
        let (mut low, mut high) = (dew_point.min(self.dry_bulb), self.dry_bulb);
        if low < TRIPLE_POINT && high > 0.0 {
            match self.wet_bulb_is_above_freezing() {
                Some(true) => low = low.max(TRIPLE_POINT).min(high),
                Some(false) => high = high.min(0.0).max(low),
                None => self.halve_around_freezing(&mut low, &mut high),
            }
        }
        // What a step of Halley's leaves of an error e is 4e-4·e³ at most.
        root(low, high, self.near_wet_bulb(dew_point), 0.05, |wet_bulb| {
            ratio_by_wet_bulb(self.dry_bulb, wet_bulb, self.pressure).less(self.humidity_ratio)
        })
    }

    /// On which side of freezing the wet bulb lies; none if it may be either, since the equations leap there.
    fn wet_bulb_is_above_freezing(self) -> Option<bool> {
        // Eq. 33 or 35 solved for the pressure of saturated vapour, with the divisors multiplied out.
        let damper = |wet_bulb, vapour, above| {
            let (a, b, c) = coefficients(above);
            let below = a + 1.86 * self.dry_bulb - c * wet_bulb;
            let wanted = self.humidity_ratio * below + 1.006 * (self.dry_bulb - wet_bulb);
            (a - b * wet_bulb) * MASS_RATIO * vapour < wanted * (self.pressure - vapour)
        };
        // Before and behind each leap; between them the functions rise.
        let sides = [
            damper(0.0, ICE_AT_ZERO, false),
            damper(0.0, ICE_AT_ZERO, true),
            damper(TRIPLE_POINT, AT_TRIPLE_POINT, true),
            damper(TRIPLE_POINT, WATER_AT_TRIPLE_POINT, true),
        ];
        sides.iter().all(|side| *side == sides[0]).then_some(sides[0])
    }

    /// Where a root lies on either side of freezing, halving from the whole interval takes the one that the source's
    /// own library takes.
    fn halve_around_freezing(self, low: &mut f64, high: &mut f64) {
        while *low < TRIPLE_POINT && *high > 0.0 && *high - *low > 1e-9 {
            let middle = 0.5 * (*low + *high);
            let ratio = ratio_by_wet_bulb(self.dry_bulb, middle, self.pressure).value;
            if ratio < self.humidity_ratio {
                *low = middle;
            } else {
                *high = middle;
            }
        }
    }

    /// The wet bulb, mostly within a hundredth of a kelvin, without a logarithm or a power.
    ///
    /// The heat that air gives in cooling to it is what the water takes in evaporating, `1.006·(t − t*) =
    /// 2501·(W_s(t*) − W)`. W_s grows from the dew point as e^(k·x), and e^y is nearly (2 + y)/(2 − y): that is a quadratic
    /// equation. From its root a step of Halley's by Magnus' formula.
    fn near_wet_bulb(self, dew_point: f64) -> f64 {
        let at_dew = magnus(dew_point);
        let k = at_dew.slope;
        let a = 2_501.0 * self.humidity_ratio * k / 1.006;
        let c = k * (self.dry_bulb - dew_point);
        let b = 2.0 * a + 2.0 + c;
        let guess = dew_point + 4.0 * c / (k * (b + libm::sqrt(b * b - 8.0 * c)));
        let logarithm = magnus(guess);
        let y = logarithm.value - at_dew.value;
        // e^y after Padé.
        let growth = (12.0 + y * (6.0 + y)) / (12.0 - y * (6.0 - y));
        let saturated = saturation_ratio(self.vapour_pressure() * growth, logarithm, self.pressure);
        ratio_by_saturation(self.dry_bulb, guess, saturated).less(self.humidity_ratio).halley(guess)
    }

    /// Enthalpy, J for each kg of dry air, counted from dry air and liquid water at 0 °C: eq. 30.
    pub(crate) fn enthalpy(self) -> f64 {
        let t = self.dry_bulb;
        1e3 * (1.006 * t + self.humidity_ratio * (2_501.0 + 1.86 * t))
    }

    /// Enthalpy as customary tables print it, Btu for each lb of dry air, counted from dry air at 0 °F and
    /// liquid water at 32 °F: `h = 0.240·t + W·(1061 + 0.444·t)`.
    pub(crate) fn customary_enthalpy(self) -> f64 {
        let t = self.dry_bulb * 1.8 + 32.0;
        0.24 * t + self.humidity_ratio * (1_061.0 + 0.444 * t)
    }

    /// Volume for each kg of dry air, m³: eq. 26.
    pub(crate) fn volume(self) -> f64 {
        GAS_CONSTANT * (self.dry_bulb + 273.15) * (1.0 + 1.607_858 * self.humidity_ratio)
            / self.pressure
    }

    /// Density of the air with its vapour, kg/m³.
    pub(crate) fn density(self) -> f64 {
        (1.0 + self.humidity_ratio) / self.volume()
    }
}

fn boiling() -> Problem {
    Problem::out_of_range(
        "the vapour alone would have the pressure of the atmosphere: water boils here; valid for drier or \
         cooler air",
    )
}

#[cfg(test)]
mod tests {
    use super::{
        AT_LOWEST, AT_TRIPLE_POINT, Curve, ICE_AT_ZERO, LOWEST, MoistAir, TRIPLE_POINT,
        WATER_AT_TRIPLE_POINT, dew_point, magnus, ratio_by_wet_bulb, saturation_logarithm,
        saturation_pressure, standard_pressure,
    };

    /// Computed with PsychroLib 2.5.0, `GetSatVapPres` in SI.
    #[test]
    fn saturation_pressure_agrees_with_the_library() {
        for (celsius, pascals) in [
            (-20.0, 103.260_4),
            (-5.0, 401.764_1),
            (5.0, 872.486_7),
            (25.0, 3_169.216_5),
            (50.0, 12_349.856_5),
            (100.0, 101_418.716_8),
        ] {
            let got = saturation_pressure(celsius);
            assert!((got - pascals).abs() < 1e-4, "{celsius}: {got}");
            assert!((dew_point(got).unwrap() - celsius).abs() < 1e-9);
        }
    }

    #[test]
    fn the_pressures_written_down_are_those_of_the_equations() {
        for (celsius, ice, pascals) in [
            (LOWEST, true, AT_LOWEST),
            (0.0, true, ICE_AT_ZERO),
            (TRIPLE_POINT, true, AT_TRIPLE_POINT),
            (TRIPLE_POINT, false, WATER_AT_TRIPLE_POINT),
        ] {
            let got = libm::exp(saturation_logarithm(celsius, ice).value);
            assert!((got / pascals - 1.0).abs() < 1e-14, "{celsius}: {got}");
        }
    }

    /// The slopes that Halley's steps go by, beside differences over a hundredth of a kelvin.
    #[test]
    fn slopes_and_bends_are_those_of_their_functions() {
        let pressure = 85_000.0;
        let functions: [&dyn Fn(f64) -> Curve; 4] = [
            &|celsius| saturation_logarithm(celsius, true),
            &|celsius| saturation_logarithm(celsius, false),
            &magnus,
            &|celsius| ratio_by_wet_bulb(60.0, celsius, pressure),
        ];
        let close = |one: f64, other: f64| (one - other).abs() <= 1e-4 * one.abs().max(1e-6);
        for function in functions {
            for celsius in [-40.0, -5.0, 5.0, 25.0, 50.0] {
                let (before, at, behind) =
                    (function(celsius - 0.01), function(celsius), function(celsius + 0.01));
                let slope = (behind.value - before.value) / 0.02;
                let bend = (behind.slope - before.slope) / 0.02;
                assert!(close(slope, at.slope), "{celsius}: {slope}, {at:?}");
                assert!(close(bend, at.bend), "{celsius}: {bend}, {at:?}");
            }
        }
    }

    /// Whatever air, its wet bulb gives back its humidity ratio, except between the leaps of the equations at freezing.
    #[test]
    fn a_wet_bulb_gives_back_the_air_it_was_found_from() {
        for dry_bulb in -30..=60 {
            for percent in [0.5, 2.0, 10.0, 35.0, 60.0, 85.0, 99.9, 100.0] {
                let dry_bulb = f64::from(dry_bulb);
                let air =
                    MoistAir::by_relative_humidity("humidity", dry_bulb, percent / 100.0, 9e4)
                        .unwrap();
                let wet_bulb = air.wet_bulb_above(air.dew_point().unwrap());
                let back = ratio_by_wet_bulb(dry_bulb, wet_bulb, 9e4).value;
                let leaps = (-1e-8..=TRIPLE_POINT + 1e-8).contains(&wet_bulb);
                assert!(
                    (back - air.humidity_ratio).abs() < 1e-10 || leaps,
                    "{dry_bulb}, {percent} %: {wet_bulb}"
                );
            }
        }
    }

    /// Computed with PsychroLib 2.5.0, `GetStandardAtmPressure` in SI.
    #[test]
    fn standard_pressure_falls_with_altitude() {
        for (metres, pascals) in [(0.0, 101_325.0), (1_609.0, 83_431.0), (2_000.0, 79_495.1)] {
            assert!((standard_pressure(metres).unwrap() - pascals).abs() < 0.06, "{metres}");
        }
        standard_pressure(12_000.0).unwrap_err();
    }
}
