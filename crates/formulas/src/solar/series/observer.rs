//! The sun as it is seen from one place on the turning earth: steps 3.9 to 3.14 of the published algorithm.

use super::orbit::Moment;
use crate::solar::sun::{DAY, Place, Refraction, Sun};

/// Ratio of the earth's axes.
const FLATTENING: f64 = 0.996_647_19;
const EARTH_RADIUS: f64 = 6_378_140.0; // m

/// What the place alone decides.
#[derive(Debug)]
pub(super) struct Observer {
    longitude: f64,
    sine: f64,
    cosine: f64,
    /// Distances from the earth's axis and from the plane of its equator, in radii of the equator.
    from_axis: f64,
    from_equator: f64,
    refraction: Refraction,
}

impl Observer {
    pub(super) fn at(place: Place) -> Self {
        let (sine, cosine) = libm::sincos(place.latitude.to_radians());
        let (u_sine, u_cosine) = libm::sincos(libm::atan2(FLATTENING * sine, cosine));
        let height = place.altitude / EARTH_RADIUS;
        Self {
            longitude: place.longitude,
            sine,
            cosine,
            from_axis: u_cosine + height * cosine,
            from_equator: FLATTENING * u_sine + height * sine,
            refraction: Refraction::at(place.altitude),
        }
    }

    /// The direction from here to the sun as a vector, of which the angles of the algorithm are those with the vertical and
    /// the meridian.
    pub(super) fn sees(&self, moment: Moment, seconds: f64) -> Sun {
        let days = seconds / DAY;
        let turned = 360.0 * (days - days.floor());
        let hour_angle = turned + 180.0 + moment.equation + self.longitude;
        let (hour_sine, hour_cosine) = libm::sincos(hour_angle.to_radians());
        // The declination stays within 24°, so its cosine follows from its sine.
        let cosine = libm::sqrt(1.0 - moment.sine * moment.sine);
        let meridian = cosine * hour_cosine - self.from_axis * moment.parallax;
        let west = cosine * hour_sine;
        let north_pole = moment.sine - self.from_equator * moment.parallax;
        let up = self.cosine * meridian + self.sine * north_pole;
        let south = self.sine * meridian - self.cosine * north_pole;
        let zenith = libm::atan2(libm::sqrt(south * south + west * west), up).to_degrees();
        let azimuth = 180.0 + libm::atan2(west, south).to_degrees();
        Sun {
            zenith,
            apparent_zenith: zenith - self.refraction.lift(90.0 - zenith),
            azimuth: if azimuth < 360.0 { azimuth } else { azimuth - 360.0 },
        }
    }
}
