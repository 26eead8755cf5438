//! Where the sun stands.

use quantity::uom::si::{angle::degree, length::meter};
use quantity::{Angle, Kind, Length, Quantity, Time};

use super::sun::{self, Place};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// The published algorithm.
pub(super) const ALGORITHM: Source = Source {
    document: "Reda and Andreas, Solar Position Algorithm for Solar Radiation Applications, NREL/TP-560-34302",
    section: "as the crate solar-positioning 0.7.2 carries it; its worked example confirmed by two programs",
    confirmed: Confirmed::Quoted,
};

pub(super) const TIME: Input =
    Input::instant("time", "with its zone, such as 2026-06-12T09:14:00-04:00");
pub(super) const LATITUDE: Input = Input::quantity("latitude", Kind::Angle, "north positive")
    .accepting(Accepts::Between("-90 deg", "90 deg"));
pub(super) const LONGITUDE: Input =
    Input::quantity("longitude", Kind::Angle, "east positive: negative in America")
        .accepting(Accepts::Between("-180 deg", "180 deg"));

/// Where the sun stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPosition {
    /// Angle from the vertical, without refraction.
    pub zenith: Angle,
    /// Angle from the vertical as it is seen through a standard atmosphere at 12 °C.
    pub apparent_zenith: Angle,
    /// Clockwise from north.
    pub azimuth: Angle,
}

pub(super) fn place(latitude: Angle, longitude: Angle, altitude: Length) -> Place {
    Place {
        latitude: latitude.get::<degree>(),
        longitude: longitude.get::<degree>(),
        altitude: altitude.get::<meter>(),
    }
}

/// Time, place and altitude of a call; sea level if no altitude is given.
pub(super) fn time_and_place(inputs: &Inputs<'_>) -> Result<(f64, Place), Problem> {
    let altitude = inputs.optional("altitude")?.unwrap_or(Length::from_base(0.0));
    Ok((
        inputs.instant("time")?,
        place(inputs.get("latitude")?, inputs.get("longitude")?, altitude),
    ))
}

/// Position of the sun at a time since 1970-01-01T00:00:00 UTC.
///
/// # Errors
/// [`Problem::OutOfRange`] outside 1950 to 2100 or −500 m to 11,000 m.
pub fn position(
    since_1970: Time,
    latitude: Angle,
    longitude: Angle,
    altitude: Length,
) -> Result<SunPosition, Problem> {
    let sun = sun::position(since_1970.base(), place(latitude, longitude, altitude))?;
    Ok(SunPosition {
        zenith: Angle::new::<degree>(sun.zenith),
        apparent_zenith: Angle::new::<degree>(sun.apparent_zenith),
        azimuth: Angle::new::<degree>(sun.azimuth),
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.position",
    summary: "Where the sun stands at a time and place.",
    inputs: &[
        TIME,
        LATITUDE,
        LONGITUDE,
        Input::quantity("altitude", Kind::Length, "above sea level; 0 ft if left out").optional(),
    ],
    result: Gives::quantity("zenith", "deg", "angle from the vertical, without refraction"),
    parts: &[
        Gives::quantity("azimuth", "deg", "clockwise from north"),
        Gives::quantity("elevation", "deg", "angle above the horizon, without refraction"),
        Gives::quantity("apparent_zenith", "deg", "as seen through a standard atmosphere"),
        Gives::quantity("apparent_elevation", "deg", "as seen through a standard atmosphere"),
    ],
    valid: "1950 to 2100; at the poles and straight overhead the azimuth means nothing",
    sources: &[ALGORITHM],
    example: &[
        ("time", "2003-10-17T12:30:30-07:00"),
        ("latitude", "39.742476 deg"),
        ("longitude", "-105.1786 deg"),
        ("altitude", "1830.14 m"),
    ],
    compute: |inputs| {
        let (seconds, place) = time_and_place(inputs)?;
        let sun = sun::position(seconds, place)?;
        let degrees = Angle::new::<degree>;
        let outcome = Outcome::new(degrees(sun.zenith))
            .part("azimuth", degrees(sun.azimuth))
            .part("elevation", degrees(90.0 - sun.zenith))
            .part("apparent_zenith", degrees(sun.apparent_zenith))
            .part("apparent_elevation", degrees(90.0 - sun.apparent_zenith));
        Ok(if sun.zenith > 90.0 { outcome.note("the sun is below the horizon") } else { outcome })
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "solar.position";

    fn pairs<'a>(
        time: &'a str,
        latitude: &'a str,
        longitude: &'a str,
        altitude: &'a str,
    ) -> [(&'static str, &'a str); 4] {
        [("time", time), ("latitude", latitude), ("longitude", longitude), ("altitude", altitude)]
    }

    /// NREL/TP-560-34302, worked example: zenith 50.11162°, azimuth 194.34024°, at 820 mbar, 11 °C and a
    /// clock correction of 67 s. A standard atmosphere and an estimated correction of 65 s move them by
    /// less than 0.0003°.
    #[test]
    fn the_published_example_is_reproduced() {
        let pairs =
            pairs("2003-10-17T12:30:30-07:00", "39.742476 deg", "-105.1786 deg", "1830.14 m");
        check_part(NAME, &pairs, "apparent_zenith", 50.111_62, "deg", 3e-4);
        check_part(NAME, &pairs, "azimuth", 194.340_24, "deg", 1e-4);
        check(NAME, &pairs, 50.127_954, "deg", 1e-4);
        check_part(NAME, &pairs, "elevation", 39.872_046, "deg", 1e-4);
    }

    /// Computed with pvlib 0.16.1.
    #[test]
    fn positions_around_the_year_agree_with_the_library() {
        for (time, latitude, longitude, altitude, zenith, apparent, azimuth) in [
            (
                "2024-06-21T12:00:00-07:00",
                "33.45 deg",
                "-112.07 deg",
                "331 m",
                12.0142,
                12.0108,
                144.5205,
            ),
            (
                "2024-12-21T12:00:00-05:00",
                "41.68 deg",
                "-85.98 deg",
                "229 m",
                65.8537,
                65.8175,
                169.3626,
            ),
            (
                "2024-03-20T09:00:00-05:00",
                "25.76 deg",
                "-80.19 deg",
                "2 m",
                56.2430,
                56.2180,
                108.5639,
            ),
            (
                "2024-06-21T23:00:00-09:00",
                "64.84 deg",
                "-147.72 deg",
                "136 m",
                89.0700,
                88.7079,
                334.2604,
            ),
            (
                "2024-09-22T16:30:00-07:00",
                "39.74 deg",
                "-104.99 deg",
                "1609 m",
                74.4368,
                74.3884,
                256.3669,
            ),
            (
                "2024-12-21T13:00:00+10:00",
                "-33.87 deg",
                "151.21 deg",
                "39 m",
                17.9366,
                17.9311,
                301.2032,
            ),
            (
                "2024-01-15T20:00:00-08:00",
                "47.61 deg",
                "-122.33 deg",
                "56 m",
                122.2857,
                122.2857,
                273.5666,
            ),
        ] {
            let pairs = pairs(time, latitude, longitude, altitude);
            check(NAME, &pairs, zenith, "deg", 1e-4);
            check_part(NAME, &pairs, "apparent_zenith", apparent, "deg", 1e-4);
            check_part(NAME, &pairs, "azimuth", azimuth, "deg", 1e-4);
        }
    }

    #[test]
    fn a_time_without_zone_and_a_latitude_past_the_pole_are_input_errors() {
        let time = "2024-06-21T12:00:00-07:00";
        for (pairs, words) in [
            (pairs("2024-06-21T12:00:00", "33 deg", "-112 deg", "0 m"), "no time with its zone"),
            (pairs(time, "91 deg", "-112 deg", "0 m"), "-90 deg to 90 deg"),
            (pairs(time, "33 deg", "-212 deg", "0 m"), "-180 deg to 180 deg"),
        ] {
            assert!(matches!(refuses(NAME, &pairs, words), Problem::Input { .. }));
        }
        let far = pairs("2200-06-21T12:00:00-07:00", "33 deg", "-112 deg", "0 m");
        assert!(matches!(refuses(NAME, &far, "1950 to 2100"), Problem::OutOfRange { .. }));
    }

    #[test]
    fn the_poles_themselves_have_a_zenith() {
        for latitude in ["90 deg", "-90 deg"] {
            let pairs = pairs("2024-06-21T12:00:00Z", latitude, "0 deg", "0 m");
            let zenith = if latitude.starts_with('-') { 113.436 } else { 66.564 };
            check(NAME, &pairs, zenith, "deg", 0.01);
        }
    }

    /// Computed with pvlib 0.16.1, `spa_python`: 500 places and times from 2015 to 2039.
    #[test]
    fn five_hundred_positions_agree_with_the_library() {
        let table = Table::of(include_str!("../../../../reference/sun/positions.csv"));
        assert_eq!(table.rows().count(), 500);
        for row in table.rows() {
            let at = |column: &str, unit: &str| format!("{} {unit}", row.text(column));
            let (latitude, longitude, altitude) =
                (at("latitude", "deg"), at("longitude", "deg"), at("altitude", "m"));
            let pairs = pairs(row.text("time"), &latitude, &longitude, &altitude);
            check(NAME, &pairs, row.number("zenith"), "deg", 1e-3);
            check_part(NAME, &pairs, "apparent_zenith", row.number("apparent_zenith"), "deg", 1e-3);
            check_part(NAME, &pairs, "azimuth", row.number("azimuth"), "deg", 0.01);
        }
    }
}
