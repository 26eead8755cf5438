//! What the sun and a clear sky give on the level.

use quantity::{Angle, Irradiance, Kind, Length, Quantity, Time};

use super::position::{ALGORITHM, LATITUDE, LONGITUDE, TIME, place, time_and_place};
use super::sun::{self, ClearAir, Place, Sky, Sun};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// Linke turbidity without a better figure: a usual clear day.
const TURBIDITY: f64 = 3.0;

pub(super) const SKY: Source = Source {
    document: "Ineichen and Perez, Solar Energy 73 (2002) 151 and 307, as pvlib 0.16.1 carries it",
    section: "global and beam irradiance by altitude, air mass and Linke turbidity",
    confirmed: Confirmed::Quoted,
};
pub(super) const ALTITUDE: Input = Input::quantity("altitude", Kind::Length, "above sea level");
pub(super) const TURBIDITY_INPUT: Input = Input::quantity(
    "turbidity",
    Kind::Number,
    "Linke turbidity, 2 very clear to 7 hazy; 3 if left out",
)
.accepting(Accepts::AtLeast("1"))
.optional();

/// Irradiance of a clear sky on the level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClearSky {
    /// Beam and sky together.
    pub global: Irradiance,
    /// Beam on a plane that faces the sun.
    pub beam: Irradiance,
    /// From the sky alone.
    pub diffuse: Irradiance,
}

pub(super) fn checked_turbidity(turbidity: f64) -> Result<(), Problem> {
    if (1.0..=10.0).contains(&turbidity) {
        return Ok(());
    }
    Err(Problem::out_of_range("valid for a Linke turbidity from 1 to 10"))
}

/// Sun, sky and irradiance outside the atmosphere.
pub(super) fn sky_of(
    seconds: f64,
    place: Place,
    turbidity: f64,
) -> Result<(Sun, Sky, f64), Problem> {
    checked_turbidity(turbidity)?;
    let sun = sun::position(seconds, place)?;
    let outside = sun::extraterrestrial(sun::local_day(seconds, place.longitude));
    let sky = ClearAir::new(place.altitude, turbidity).sky(sun.apparent_zenith, outside);
    Ok((sun, sky, outside))
}

pub(super) fn turbidity_of(inputs: &Inputs<'_>) -> Result<f64, Problem> {
    Ok(inputs.optional("turbidity")?.unwrap_or(TURBIDITY))
}

/// Irradiance of a clear sky at a time since 1970-01-01T00:00:00 UTC; nothing with the sun down.
///
/// # Errors
/// [`Problem::OutOfRange`] outside 1950 to 2100, −500 m to 11,000 m, or a turbidity of 1 to 10.
pub fn clear_sky(
    since_1970: Time,
    latitude: Angle,
    longitude: Angle,
    altitude: Length,
    turbidity: f64,
) -> Result<ClearSky, Problem> {
    let (_, sky, _) = sky_of(since_1970.base(), place(latitude, longitude, altitude), turbidity)?;
    Ok(ClearSky {
        global: Irradiance::from_base(sky.global),
        beam: Irradiance::from_base(sky.beam),
        diffuse: Irradiance::from_base(sky.diffuse),
    })
}

/// What every reader of a clear-sky figure must know.
pub(super) fn with_notes(outcome: Outcome, sun: Sun) -> Outcome {
    let outcome = outcome.note(
        "a model of a cloudless, unshaded sky, good to 10 % to 15 %: it tells a dead panel from a working \
         one, not a good one from a fair one",
    );
    match sun.apparent_zenith {
        90.0.. => outcome.note("the sun is below the horizon"),
        75.0.. => outcome.note("the sun is lower than 15 deg: too low to judge a panel by"),
        _ => outcome,
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.clear_sky",
    summary: "Irradiance of a clear sky on the level.",
    inputs: &[TIME, LATITUDE, LONGITUDE, ALTITUDE, TURBIDITY_INPUT],
    result: Gives::quantity("global", "W/m2", "beam and sky together, on the level"),
    parts: &[
        Gives::quantity("beam", "W/m2", "on a plane that faces the sun"),
        Gives::quantity("diffuse", "W/m2", "from the sky, on the level"),
    ],
    valid: "a cloudless, unshaded sky, 1950 to 2100",
    sources: &[SKY, ALGORITHM],
    example: &[
        ("time", "2024-06-21T12:00:00-07:00"),
        ("latitude", "33.45 deg"),
        ("longitude", "-112.07 deg"),
        ("altitude", "331 m"),
    ],
    compute: |inputs| {
        let (seconds, place) = time_and_place(inputs)?;
        let (sun, sky, _) = sky_of(seconds, place, turbidity_of(inputs)?)?;
        let outcome = Outcome::new(Irradiance::from_base(sky.global))
            .part("beam", Irradiance::from_base(sky.beam))
            .part("diffuse", Irradiance::from_base(sky.diffuse));
        Ok(with_notes(outcome, sun))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "solar.clear_sky";

    /// Computed with pvlib 0.16.1, `ineichen`, turbidity 3, Spencer's series.
    #[test]
    fn clear_skies_around_the_year_agree_with_the_library() {
        for (time, latitude, longitude, altitude, global, beam, diffuse) in [
            (
                "2003-10-17T12:30:30-07:00",
                "39.742476 deg",
                "-105.1786 deg",
                "1830 m",
                713.04,
                954.98,
                100.62,
            ),
            (
                "2024-06-21T12:00:00-07:00",
                "33.45 deg",
                "-112.07 deg",
                "331 m",
                1_007.65,
                923.32,
                104.55,
            ),
            (
                "2024-12-21T12:00:00-05:00",
                "41.68 deg",
                "-85.98 deg",
                "229 m",
                378.20,
                767.80,
                63.68,
            ),
            ("2024-03-20T09:00:00-05:00", "25.76 deg", "-80.19 deg", "2 m", 539.55, 824.47, 81.11),
            ("2024-06-21T23:00:00-09:00", "64.84 deg", "-147.72 deg", "136 m", 1.46, 15.82, 1.11),
            (
                "2024-09-22T16:30:00-07:00",
                "39.74 deg",
                "-104.99 deg",
                "1609 m",
                227.53,
                679.71,
                44.61,
            ),
            (
                "2024-12-21T13:00:00+10:00",
                "-33.87 deg",
                "151.21 deg",
                "39 m",
                1_033.71,
                968.91,
                111.86,
            ),
            ("2024-01-15T20:00:00-08:00", "47.61 deg", "-122.33 deg", "56 m", 0.0, 0.0, 0.0),
        ] {
            let pairs = [
                ("time", time),
                ("latitude", latitude),
                ("longitude", longitude),
                ("altitude", altitude),
            ];
            check(NAME, &pairs, global, "W/m2", 0.1);
            check_part(NAME, &pairs, "beam", beam, "W/m2", 0.1);
            check_part(NAME, &pairs, "diffuse", diffuse, "W/m2", 0.1);
        }
    }

    #[test]
    fn turbidity_has_a_range() {
        let pairs = |turbidity| {
            [
                ("time", "2024-06-21T12:00:00-07:00"),
                ("latitude", "33 deg"),
                ("longitude", "-112 deg"),
                ("altitude", "0 m"),
                ("turbidity", turbidity),
            ]
        };
        assert!(matches!(refuses(NAME, &pairs("0.5"), "at least 1"), Problem::Input { .. }));
        assert!(matches!(refuses(NAME, &pairs("12"), "from 1 to 10"), Problem::OutOfRange { .. }));
    }
}
