//! The sun and the clear sky in plain numbers: degrees, metres, W/m².

use jiff::{Timestamp, tz::Offset};
use solar_positioning::{Location, PreparedPositions, SolarPositions, delta_t, time::JulianDate};

use crate::Problem;

/// Julian date of 1970-01-01T00:00:00.
const EPOCH: f64 = 2_440_587.5;
pub(super) const DAY: f64 = 86_400.0; // s
const SOLAR_CONSTANT: f64 = 1_366.1; // W/m²
/// Air temperature that refraction is reckoned with.
const AIR: f64 = 12.0; // °C

/// A place on earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// Degrees, north positive.
    pub(super) latitude: f64,
    /// Degrees, east positive.
    pub(super) longitude: f64,
    /// Metres above the sea.
    pub(super) altitude: f64,
}

/// Where the sun stands, degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sun {
    pub(super) zenith: f64,
    pub(super) apparent_zenith: f64,
    /// Clockwise from north.
    pub(super) azimuth: f64,
}

/// Pressure of the standard atmosphere, Pa: `p = 100·((44331.514 − h)/11880.516)^(1/0.1902632)`.
pub(super) fn pressure(altitude: f64) -> f64 {
    100.0 * libm::pow((44_331.514 - altitude) / 11_880.516, 1.0 / 0.190_263_2)
}

fn outside() -> Problem {
    Problem::out_of_range(
        "valid from 1950 to 2100, and from -500 m to 11,000 m above the sea (36,000 ft)",
    )
}

/// The year with its fraction, if the algorithm is used for it.
pub(super) fn checked_year(seconds: f64) -> Result<f64, Problem> {
    let year = 1970.0 + seconds / (365.25 * DAY);
    if (1950.0..=2100.0).contains(&year) { Ok(year) } else { Err(outside()) }
}

pub(super) fn checked_place(place: Place) -> Result<(), Problem> {
    if !(-500.0..=11_000.0).contains(&place.altitude) {
        return Err(outside());
    }
    if !(-90.0..=90.0).contains(&place.latitude) || !(-180.0..=180.0).contains(&place.longitude) {
        return Err(Problem::out_of_range(
            "valid for latitudes from -90 deg to 90 deg and longitudes from -180 deg to 180 deg",
        ));
    }
    Ok(())
}

/// What the moment alone decides, which is nearly all of the algorithm's work.
pub(super) fn prepared(seconds: f64) -> Result<PreparedPositions, Problem> {
    let year = 1970.0 + seconds / (365.25 * DAY);
    let time = delta_t::estimate(year)
        .and_then(|delta_t| JulianDate::new(EPOCH + seconds / DAY, delta_t))
        .map_err(|_| outside())?;
    SolarPositions::new().for_time_from_julian(time).map_err(|_| outside())
}

/// Azimuth as somebody on the north pole would have it who stands on the meridian of Greenwich.
pub(super) fn azimuth_at_the_pole(prepared: &PreparedPositions) -> Result<f64, Problem> {
    let pole = Location { latitude: 90.0, longitude: 0.0 };
    prepared.at(pole, 0.0, None).map(|sun| sun.azimuth()).map_err(|_| outside())
}

/// Position of the sun (Reda and Andreas, NREL/TP-560-34302), seconds since 1970 in UTC.
pub(super) fn position(seconds: f64, place: Place) -> Result<Sun, Problem> {
    checked_year(seconds)?;
    checked_place(place)?;
    let location = Location { latitude: place.latitude, longitude: place.longitude };
    let found = prepared(seconds)?.at(location, place.altitude, None).map_err(|_| outside())?;
    let zenith = found.zenith_angle();
    let lift = Refraction::at(place.altitude).lift(90.0 - zenith);
    Ok(Sun { zenith, apparent_zenith: zenith - lift, azimuth: found.azimuth() })
}

/// How much higher the sun is seen than it stands: eq. 42 of the algorithm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Refraction {
    /// Of pressure and temperature, degrees.
    factor: f64,
}

impl Refraction {
    /// Through a standard atmosphere at 12 °C.
    pub(super) fn at(altitude: f64) -> Self {
        let pressure = pressure(altitude) / 100.0;
        Self { factor: (pressure / 1_010.0) * (283.0 / (273.0 + AIR)) * 1.02 / 60.0 }
    }

    /// Degrees, for the height at which the sun stands without it. Below the horizon, its own width and the
    /// refraction there are nothing to be seen.
    pub(super) fn lift(self, elevation: f64) -> f64 {
        if elevation > -0.833_37 {
            self.factor / libm::tan((elevation + 10.3 / (elevation + 5.11)).to_radians())
        } else {
            0.0
        }
    }
}

/// The day since 1970-01-01 by the place's own mean solar time.
pub(super) fn local_day(seconds: f64, longitude: f64) -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "years 1950 to 2100 in days fit")]
    let day = ((seconds + longitude * 240.0) / DAY).floor() as i64;
    day
}

/// Irradiance on a plane that faces the sun outside the atmosphere, on a day since 1970-01-01: Spencer's series. A day's
/// differs from the next by 0.06 % at most.
pub(super) fn extraterrestrial(day: i64) -> f64 {
    let day = Timestamp::from_second(86_400 * day)
        .map_or(1, |time| Offset::UTC.to_datetime(time).day_of_year());
    let angle = 2.0 * std::f64::consts::PI / 365.0 * (f64::from(day) - 1.0);
    SOLAR_CONSTANT
        * (1.000_11
            + 0.034_221 * libm::cos(angle)
            + 0.001_28 * libm::sin(angle)
            + 0.000_719 * libm::cos(2.0 * angle)
            + 7.7e-5 * libm::sin(2.0 * angle))
}

/// Air that a ray passes by that of a vertical one at sea level: Kasten and Young, Applied Optics 28 (1989)
/// 4735, by the apparent zenith angle.
pub(super) fn relative_air_mass(apparent_zenith: f64) -> f64 {
    let angle = 6.079_95 + 90.0 - apparent_zenith;
    // A power by its logarithm: the angle is positive for every sun above the horizon.
    1.0 / (cosine(apparent_zenith) + 0.505_72 * libm::exp(-1.636_4 * libm::log(angle)))
}

pub(super) fn cosine(degrees: f64) -> f64 {
    libm::cos(degrees.to_radians())
}

pub(super) fn sine(degrees: f64) -> f64 {
    libm::sin(degrees.to_radians())
}

/// Irradiance of a clear sky, W/m².
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sky {
    /// On the level.
    pub(super) global: f64,
    /// On a plane that faces the sun.
    pub(super) beam: f64,
    /// From the sky, on the level.
    pub(super) diffuse: f64,
}

impl Sky {
    pub(super) const DARK: Self = Self { global: 0.0, beam: 0.0, diffuse: 0.0 };
}

/// Clear air over a place: the model of Ineichen and Perez, Solar Energy 73 (2002) 151 and 307.
#[derive(Clone, Copy, Debug)]
pub(super) struct ClearAir {
    /// Air mass there by that at the sea.
    mass: f64,
    /// Global irradiance and what each air mass leaves of it, as a logarithm.
    global: f64,
    global_loss: f64,
    /// The same of the beam.
    beam: f64,
    beam_loss: f64,
    /// The most of the global irradiance that can be beam.
    share: f64,
}

impl ClearAir {
    pub(super) fn new(altitude: f64, turbidity: f64) -> Self {
        let fh1 = libm::exp(-altitude / 8_000.0);
        let fh2 = libm::exp(-altitude / 1_250.0);
        let cg2 = 3.92e-5 * altitude + 0.0387;
        Self {
            mass: pressure(altitude) / 101_325.0,
            global: 5.09e-5 * altitude + 0.868,
            global_loss: -cg2 * (fh1 + fh2 * (turbidity - 1.0)),
            beam: 0.664 + 0.163 / fh1,
            beam_loss: -0.09 * (turbidity - 1.0),
            share: (1.0 - (0.1 - 0.2 * libm::exp(-turbidity)) / (0.1 + 0.882 / fh1)).max(0.0),
        }
    }

    /// Irradiance with the sun at an apparent zenith angle and this irradiance outside the atmosphere.
    pub(super) fn sky(&self, apparent_zenith: f64, extraterrestrial: f64) -> Sky {
        if apparent_zenith >= 90.0 {
            return Sky::DARK;
        }
        let air_mass = relative_air_mass(apparent_zenith) * self.mass;
        let cos_zenith = cosine(apparent_zenith);
        let global =
            self.global * extraterrestrial * cos_zenith * libm::exp(self.global_loss * air_mass);
        let direct = extraterrestrial * self.beam * libm::exp(self.beam_loss * air_mass);
        let beam = direct.min(global * self.share / cos_zenith);
        Sky { global, beam, diffuse: global - beam * cos_zenith }
    }
}

#[cfg(test)]
mod tests {
    use super::{ClearAir, extraterrestrial, local_day, pressure, relative_air_mass};

    /// Computed with pvlib 0.16.1, `ineichen` with 1364 W/m² outside the atmosphere.
    #[test]
    fn the_clear_sky_agrees_with_the_library() {
        for (zenith, altitude, turbidity, global, beam, diffuse) in [
            (0.0, 0.0, 3.0, 1_054.209_8, 942.257_0, 111.952_7),
            (30.0, 0.0, 3.0, 896.764_9, 916.450_1, 103.095_8),
            (60.0, 0.0, 3.0, 469.622_3, 787.807_3, 75.718_6),
            (30.0, 0.0, 5.0, 820.139_7, 744.556_7, 175.334_7),
            (75.0, 0.0, 2.0, 228.119_1, 800.362_1, 20.970_1),
            (60.0, 1_609.0, 3.0, 515.269_2, 876.221_6, 77.158_4),
        ] {
            let sky = ClearAir::new(altitude, turbidity).sky(zenith, 1_364.0);
            assert!((sky.global - global).abs() < 1e-2, "{zenith}: {sky:?}");
            assert!((sky.beam - beam).abs() < 1e-2, "{zenith}: {sky:?}");
            assert!((sky.diffuse - diffuse).abs() < 1e-2, "{zenith}: {sky:?}");
        }
    }

    /// Computed with pvlib 0.16.1.
    #[test]
    fn air_mass_pressure_and_distance_agree_with_the_library() {
        for (zenith, mass) in [
            (0.0, 0.999_71),
            (30.0, 1.153_99),
            (60.0, 1.994_29),
            (75.0, 3.812_91),
            (85.0, 10.305_79),
            (90.0, 37.919_61),
        ] {
            assert!((relative_air_mass(zenith) - mass).abs() < 1e-5, "{zenith}");
        }
        assert!((pressure(229.0) - 98_604.11).abs() < 0.01);
        assert!((pressure(1_609.0) - 83_431.39).abs() < 0.01);
        // Noon UTC on 3 January, 4 July and 20 March 2024.
        for (seconds, irradiance) in [
            (1_704_283_200.0, 1_414.019_2),
            (1_720_094_400.0, 1_320.456_7),
            (1_710_936_000.0, 1_376.892_4),
        ] {
            let day = local_day(seconds, 0.0);
            assert!((extraterrestrial(day) - irradiance).abs() < 1e-3, "{seconds}");
        }
    }
}
