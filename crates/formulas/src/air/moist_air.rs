//! Moist air: the equations that every formula of this system is built on.
//!
//! ASHRAE Handbook—Fundamentals (2017), chapter 1, SI form. Inside this module temperatures are in °C,
//! pressures in Pa, humidity ratios in kg of vapour a kg of dry air, as in the source. Saturation below
//! 0.01 °C is over ice; the source switches at 0 °C, which makes the dew point jump.

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
    Ok(101_325.0 * libm::pow(1.0 - 2.255_77e-5 * altitude, 5.255_9))
}

/// Pressure of water vapour in saturated air, Pa: eq. 5 over ice, eq. 6 over water.
pub(crate) fn saturation_pressure(celsius: f64) -> f64 {
    libm::exp(saturation_logarithm(celsius, celsius <= TRIPLE_POINT).0)
}

/// Natural logarithm of the saturation pressure over ice or over water, and its slope with the temperature.
fn saturation_logarithm(celsius: f64, ice: bool) -> (f64, f64) {
    let t = celsius + 273.15;
    if ice {
        (
            -5.674_535_9e3 / t + 6.392_524_7 - 9.677_843e-3 * t
                + 6.221_570_1e-7 * t * t
                + 2.074_782_5e-9 * t * t * t
                - 9.484_024e-13 * t * t * t * t
                + 4.163_501_9 * libm::log(t),
            5.674_535_9e3 / (t * t) - 9.677_843e-3
                + 2.0 * 6.221_570_1e-7 * t
                + 3.0 * 2.074_782_5e-9 * t * t
                - 4.0 * 9.484_024e-13 * t * t * t
                + 4.163_501_9 / t,
        )
    } else {
        (
            -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t * t
                - 1.445_209_3e-8 * t * t * t
                + 6.545_967_3 * libm::log(t),
            5.800_220_6e3 / (t * t) - 4.864_023_9e-2 + 2.0 * 4.176_476_8e-5 * t
                - 3.0 * 1.445_209_3e-8 * t * t
                + 6.545_967_3 / t,
        )
    }
}

/// Temperature at which vapour of this pressure saturates, °C: eq. 5 and 6 inverted.
pub(crate) fn dew_point(vapour_pressure: f64) -> Result<f64, Problem> {
    if vapour_pressure < saturation_pressure(LOWEST) {
        return Err(Problem::out_of_range(
            "air this dry has no dew point above -100 degC (-148 degF); valid for damper air",
        ));
    }
    let ice = vapour_pressure <= saturation_pressure(TRIPLE_POINT);
    let (low, high) = if ice { (LOWEST, TRIPLE_POINT) } else { (TRIPLE_POINT, HIGHEST) };
    let wanted = libm::log(vapour_pressure);
    // Magnus' formula over water, with Sonntag's constants, is near enough to start with.
    let magnus = wanted - 6.412_1;
    let start = 243.12 * magnus / (17.62 - magnus);
    Ok(root(low, high, start, |celsius| {
        let (logarithm, slope) = saturation_logarithm(celsius, ice);
        (logarithm - wanted, slope)
    }))
}

/// Humidity ratio of saturated air, and its slope with the temperature.
fn saturation_ratio(celsius: f64, pressure: f64) -> (f64, f64) {
    let (logarithm, slope) = saturation_logarithm(celsius, celsius <= TRIPLE_POINT);
    let saturated = libm::exp(logarithm);
    let dry = pressure - saturated;
    (MASS_RATIO * saturated / dry, MASS_RATIO * saturated * slope * pressure / (dry * dry))
}

/// Humidity ratio by the wet bulb, and its slope with it: eq. 33 above freezing, eq. 35 below. Not positive for a
/// wet bulb that even dry air does not reach.
fn ratio_by_wet_bulb(dry_bulb: f64, wet_bulb: f64, pressure: f64) -> (f64, f64) {
    let (saturated, steepness) = saturation_ratio(wet_bulb, pressure);
    let (latent, cooling, below, less) = if wet_bulb >= 0.0 {
        (2_501.0 - 2.326 * wet_bulb, 2.326, 2_501.0 + 1.86 * dry_bulb - 4.186 * wet_bulb, 4.186)
    } else {
        (2_830.0 - 0.24 * wet_bulb, 0.24, 2_830.0 + 1.86 * dry_bulb - 2.1 * wet_bulb, 2.1)
    };
    let ratio = (latent * saturated - 1.006 * (dry_bulb - wet_bulb)) / below;
    let slope = (latent * steepness - cooling * saturated + 1.006 + ratio * less) / below;
    (ratio, slope)
}

/// Root of a rising function with its slope, by Newton's steps where they stay between the ends and at least halve
/// what is left, by halves elsewhere; the nearer end where the root lies beyond.
fn root(mut low: f64, mut high: f64, start: f64, function: impl Fn(f64) -> (f64, f64)) -> f64 {
    let mut at = if start > low && start < high { start } else { 0.5 * (low + high) };
    let mut last = high - low;
    // Halving alone would be below the spacing of the numbers after sixty steps.
    for _ in 0..120 {
        let (value, slope) = function(at);
        if value < 0.0 {
            low = at;
        } else {
            high = at;
        }
        let newton = at - value / slope;
        let next = if newton >= low && newton <= high && (newton - at).abs() <= 0.5 * last {
            newton
        } else {
            0.5 * (low + high)
        };
        last = (next - at).abs();
        at = next;
        // After a step of Newton's this small the next would be its square; else the ends have met.
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
            ratio_by_wet_bulb(dry_bulb, wet_bulb, pressure).0
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

    /// Thermodynamic wet-bulb temperature, °C: eq. 33 and 35 inverted.
    pub(crate) fn wet_bulb(self) -> Result<f64, Problem> {
        let low = self.dew_point()?;
        let (mut low, mut high) = (low.min(self.dry_bulb), self.dry_bulb);
        let at = |wet_bulb| {
            let (ratio, slope) = ratio_by_wet_bulb(self.dry_bulb, wet_bulb, self.pressure);
            (ratio - self.humidity_ratio, slope)
        };
        // The equations leap where ice begins, and a wet bulb near it may have a root on either side: halving from the
        // whole interval takes the one that the source's own library takes.
        while low < TRIPLE_POINT && high > 0.0 && high - low > 1e-9 {
            let middle = 0.5 * (low + high);
            if at(middle).0 < 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        // In air of middling dampness it lies somewhat nearer to the dew point.
        Ok(root(low, high, low + 0.45 * (high - low), at))
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
    use super::{dew_point, saturation_pressure, standard_pressure};

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

    /// Computed with PsychroLib 2.5.0, `GetStandardAtmPressure` in SI.
    #[test]
    fn standard_pressure_falls_with_altitude() {
        for (metres, pascals) in [(0.0, 101_325.0), (1_609.0, 83_431.0), (2_000.0, 79_495.1)] {
            assert!((standard_pressure(metres).unwrap() - pascals).abs() < 0.06, "{metres}");
        }
        standard_pressure(12_000.0).unwrap_err();
    }
}
