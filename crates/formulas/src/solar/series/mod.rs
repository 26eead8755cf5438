//! Where the sun stands, and what a clear sky gives, at many moments at one place.
//!
//! Nearly all of the published algorithm's work is the earth's way on its orbit and the wobble of its axis. Both are
//! slow, so they are worked out for every second day and joined by polynomials, and only the earth's turning is worked
//! out for every moment. That is good to a hundredth of the algorithm's own uncertainty.

mod observer;
mod orbit;

use quantity::uom::si::angle::degree;
use quantity::{Angle, Irradiance, Length, Quantity, Time};

use super::clear_sky::{ClearSky, checked_turbidity};
use super::position::{SunPosition, place};
use super::sun::{self, ClearAir, Place, Sun};
use crate::Problem;
use observer::Observer;
use orbit::Orbit;

/// Positions of the sun at times since 1970-01-01T00:00:00 UTC, in the order given, which may be any.
///
/// Each is that of [`position`](super::position()) within 1e-6°; the algorithm itself is good to 3e-4°. Where the
/// moments are fewer than the pairs of days that they span, it is that very function.
///
/// # Errors
/// [`Problem::OutOfRange`] outside 1950 to 2100 or −500 m to 11,000 m.
pub fn positions(
    since_1970: &[Time],
    latitude: Angle,
    longitude: Angle,
    altitude: Length,
) -> Result<Vec<SunPosition>, Problem> {
    each(since_1970, place(latitude, longitude, altitude), |sun, _| SunPosition {
        zenith: Angle::new::<degree>(sun.zenith),
        apparent_zenith: Angle::new::<degree>(sun.apparent_zenith),
        azimuth: Angle::new::<degree>(sun.azimuth),
    })
}

/// Irradiance of a clear sky at times since 1970-01-01T00:00:00 UTC, in the order given, which may be any.
///
/// Each is that of [`clear_sky`](super::clear_sky()) within 1e-3 W/m².
///
/// # Errors
/// [`Problem::OutOfRange`] outside 1950 to 2100, −500 m to 11,000 m, or a turbidity of 1 to 10.
pub fn clear_skies(
    since_1970: &[Time],
    latitude: Angle,
    longitude: Angle,
    altitude: Length,
    turbidity: f64,
) -> Result<Vec<ClearSky>, Problem> {
    checked_turbidity(turbidity)?;
    let place = place(latitude, longitude, altitude);
    let air = ClearAir::new(place.altitude, turbidity);
    let mut today = sun::local_day(0.0, place.longitude);
    let mut outside = sun::extraterrestrial(today);
    each(since_1970, place, |sun, seconds| {
        let day = sun::local_day(seconds, place.longitude);
        if day != today {
            (today, outside) = (day, sun::extraterrestrial(day));
        }
        let sky = air.sky(sun.apparent_zenith, outside);
        ClearSky {
            global: Irradiance::from_base(sky.global),
            beam: Irradiance::from_base(sky.beam),
            diffuse: Irradiance::from_base(sky.diffuse),
        }
    })
}

/// Something of the sun at each time, which is given in seconds since 1970.
fn each<T>(
    since_1970: &[Time],
    place: Place,
    mut of: impl FnMut(Sun, f64) -> T,
) -> Result<Vec<T>, Problem> {
    sun::checked_place(place)?;
    let seconds = since_1970.iter().map(|time| time.base());
    let Some(orbit) = Orbit::spanning(seconds.clone())? else {
        return seconds.map(|seconds| Ok(of(sun::position(seconds, place)?, seconds))).collect();
    };
    let observer = Observer::at(place);
    Ok(seconds.map(|seconds| of(observer.sees(orbit.at(seconds), seconds), seconds)).collect())
}

#[cfg(test)]
mod tests;
