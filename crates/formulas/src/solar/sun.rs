//! The sun and the clear sky in plain numbers: degrees, metres, W/m².

use jiff::{Timestamp, tz::Offset};
use solar_positioning::{
    Location, RefractionCorrection, SolarPositions, delta_t, time::JulianDate,
};

use crate::Problem;

/// Julian date of 1970-01-01T00:00:00.
const EPOCH: f64 = 2_440_587.5;
const DAY: f64 = 86_400.0; // s
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

/// Position of the sun (Reda and Andreas, NREL/TP-560-34302), seconds since 1970 in UTC.
pub(super) fn position(seconds: f64, place: Place) -> Result<Sun, Problem> {
    let outside = || {
        Problem::out_of_range(
            "valid from 1950 to 2100, and from -500 m to 11,000 m above the sea (36,000 ft)",
        )
    };
    let year = 1970.0 + seconds / (365.25 * DAY);
    if !(1950.0..=2100.0).contains(&year) || !(-500.0..=11_000.0).contains(&place.altitude) {
        return Err(outside());
    }
    let time = delta_t::estimate(year)
        .and_then(|delta_t| JulianDate::new(EPOCH + seconds / DAY, delta_t))
        .map_err(|_| outside())?;
    let location = Location { latitude: place.latitude, longitude: place.longitude };
    let refraction = RefractionCorrection::new(pressure(place.altitude) / 100.0, AIR).ok();
    // What depends on the time alone is nearly all of the work, and is done once for both.
    let prepared = SolarPositions::new().for_time_from_julian(time).map_err(|_| outside())?;
    let find =
        |refraction| prepared.at(location, place.altitude, refraction).map_err(|_| outside());
    let (plain, apparent) = (find(None)?, find(refraction)?);
    Ok(Sun {
        zenith: plain.zenith_angle(),
        apparent_zenith: apparent.zenith_angle(),
        azimuth: plain.azimuth(),
    })
}

/// Irradiance on a plane that faces the sun outside the atmosphere: Spencer's series, by the day at the
/// place's own mean solar time.
pub(super) fn extraterrestrial(seconds: f64, longitude: f64) -> f64 {
    // A day's irradiance differs from the next by 0.06 % at most, so whole seconds serve.
    #[allow(clippy::cast_possible_truncation, reason = "years 1950 to 2100 in seconds fit")]
    let local = (seconds + longitude * 240.0).floor() as i64;
    let day =
        Timestamp::from_second(local).map_or(1, |time| Offset::UTC.to_datetime(time).day_of_year());
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
    1.0 / (cosine(apparent_zenith) + 0.505_72 * libm::pow(angle, -1.636_4))
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

/// Clear sky of Ineichen and Perez, Solar Energy 73 (2002) 151 and 307.
pub(super) fn clear_sky(
    apparent_zenith: f64,
    altitude: f64,
    turbidity: f64,
    extraterrestrial: f64,
) -> Sky {
    if apparent_zenith >= 90.0 {
        return Sky::DARK;
    }
    let air_mass = relative_air_mass(apparent_zenith) * pressure(altitude) / 101_325.0;
    let cos_zenith = cosine(apparent_zenith);
    let fh1 = libm::exp(-altitude / 8_000.0);
    let fh2 = libm::exp(-altitude / 1_250.0);
    let cg1 = 5.09e-5 * altitude + 0.868;
    let cg2 = 3.92e-5 * altitude + 0.0387;
    let global = cg1
        * extraterrestrial
        * cos_zenith
        * libm::exp(-cg2 * air_mass * (fh1 + fh2 * (turbidity - 1.0)));
    let direct =
        extraterrestrial * (0.664 + 0.163 / fh1) * libm::exp(-0.09 * air_mass * (turbidity - 1.0));
    let most = global * (1.0 - (0.1 - 0.2 * libm::exp(-turbidity)) / (0.1 + 0.882 / fh1)).max(0.0)
        / cos_zenith;
    let beam = direct.min(most);
    Sky { global, beam, diffuse: global - beam * cos_zenith }
}

#[cfg(test)]
mod tests {
    use super::{clear_sky, extraterrestrial, pressure, relative_air_mass};

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
            let sky = clear_sky(zenith, altitude, turbidity, 1_364.0);
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
            assert!((extraterrestrial(seconds, 0.0) - irradiance).abs() < 1e-3, "{seconds}");
        }
    }
}
