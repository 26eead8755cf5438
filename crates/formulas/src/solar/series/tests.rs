//! A series beside the whole algorithm at each of its moments.

use super::{clear_skies, positions};
use crate::Problem;
use crate::solar::clear_sky::clear_sky;
use crate::solar::position::position;
use quantity::uom::si::angle::degree;
use quantity::{Angle, Length, Quantity, Time};

/// Seconds since 1970 of 1950-01-03 and 2099-12-20.
const FIRST: f64 = -630_979_200.0;
const LAST: f64 = 4_101_408_000.0;

fn degrees(number: f64) -> Angle {
    Angle::new::<degree>(number)
}

/// How far two directions are apart, degrees.
fn apart(one: Angle, other: Angle) -> f64 {
    let apart = (one - other).base().to_degrees().abs();
    apart.min(360.0 - apart)
}

/// A year's moments, in steps that meet every hour of the day, begun at every decade and where the estimates of the
/// clock's correction change (1961, 1986, 2005, 2015, 2026).
#[test]
fn a_series_is_the_whole_algorithm_within_a_millionth_of_a_degree() {
    let mut worst = 0.0_f64;
    for (year, latitude, longitude, altitude) in [
        (1950.01, 43.5, -73.2, 150.0),
        (1960.5, -33.9, 151.2, 39.0),
        (1970.0, 0.0, 0.0, 0.0),
        (1985.5, 64.8, -147.7, 136.0),
        (1990.0, 89.9, 12.0, 0.0),
        (2004.5, 33.4, -112.1, 331.0),
        (2014.5, -90.0, 180.0, 2_800.0),
        (2026.0, 39.7, -105.2, 1_830.0),
        (2050.0, 20.0, 179.9, 11_000.0),
        (2098.9, 51.0, -180.0, -500.0),
    ] {
        let start = ((year - 1970.0) * 365.25 * 86_400.0_f64).floor();
        let times: Vec<Time> =
            (0..1_500).map(|case| Time::from_base(start + 21_037.0 * f64::from(case))).collect();
        let (latitude, longitude) = (degrees(latitude), degrees(longitude));
        let altitude = Length::from_base(altitude);
        let series = positions(&times, latitude, longitude, altitude).unwrap();
        assert_eq!(series.len(), times.len());
        for (time, sun) in times.iter().zip(&series) {
            let whole = position(*time, latitude, longitude, altitude).unwrap();
            // Near the vertical the azimuth means little: what counts is how far apart the two places are.
            let aside = apart(sun.azimuth, whole.azimuth) * libm::sin(whole.zenith.base());
            let off = apart(sun.zenith, whole.zenith)
                .max(apart(sun.apparent_zenith, whole.apparent_zenith))
                .max(aside);
            worst = worst.max(off);
        }
    }
    assert!(worst < 1e-6, "{worst}");
}

/// Moments out of order, over all the years the algorithm is used for, more of them than pairs of days.
#[test]
fn the_order_of_the_moments_does_not_matter() {
    let times: Vec<Time> = (0..40_000)
        .map(|case| FIRST + (LAST - FIRST) * (f64::from(case) * 0.618_033_988_749_895).fract())
        .map(Time::from_base)
        .collect();
    let (latitude, longitude) = (degrees(43.5214), degrees(-73.2361));
    let series = positions(&times, latitude, longitude, Length::from_base(150.0)).unwrap();
    for (time, sun) in times.iter().zip(series).step_by(37) {
        let whole = position(*time, latitude, longitude, Length::from_base(150.0)).unwrap();
        assert!(apart(sun.zenith, whole.zenith) < 1e-6, "{time:?}");
    }
}

/// Fewer moments than pairs of days are computed one by one, and nothing of nothing.
#[test]
fn few_moments_are_those_of_the_single_function() {
    let times = [Time::from_base(1_718_971_200.0), Time::from_base(1_734_782_400.0)];
    let (latitude, longitude) = (degrees(33.45), degrees(-112.07));
    let altitude = Length::from_base(331.0);
    let series = positions(&times, latitude, longitude, altitude).unwrap();
    for (time, sun) in times.iter().zip(series) {
        assert_eq!(sun, position(*time, latitude, longitude, altitude).unwrap());
    }
    assert_eq!(positions(&[], latitude, longitude, altitude).unwrap(), []);
}

#[test]
fn skies_of_a_series_are_those_of_the_single_function() {
    let times: Vec<Time> = (0..3_000)
        .map(|case| Time::from_base(1_704_067_200.0 + 10_463.0 * f64::from(case)))
        .collect();
    let (latitude, longitude) = (degrees(43.5214), degrees(-73.2361));
    let altitude = Length::from_base(150.0);
    let series = clear_skies(&times, latitude, longitude, altitude, 3.0).unwrap();
    let mut lit = 0;
    for (time, sky) in times.iter().zip(series) {
        let single = clear_sky(*time, latitude, longitude, altitude, 3.0).unwrap();
        for (one, other) in
            [(sky.global, single.global), (sky.beam, single.beam), (sky.diffuse, single.diffuse)]
        {
            assert!((one - other).base().abs() < 1e-3, "{time:?}: {sky:?}, {single:?}");
        }
        lit += u32::from(single.global.base() > 0.0);
    }
    assert!((1_000..2_000).contains(&lit), "{lit}");
}

#[test]
fn a_series_is_refused_where_the_single_function_is() {
    let (times, here) = ([Time::from_base(1_718_971_200.0)], degrees(40.0));
    let refused = |times: &[Time], latitude, altitude| {
        positions(times, latitude, here, Length::from_base(altitude)).unwrap_err()
    };
    let year_2200 = [Time::from_base(7_258_118_400.0); 100];
    for problem in [
        refused(&year_2200, here, 0.0),
        refused(&[Time::from_base(f64::NAN); 100], here, 0.0),
        refused(&times, here, 12_000.0),
        refused(&times, degrees(91.0), 0.0),
    ] {
        assert!(matches!(problem, Problem::OutOfRange { .. }), "{problem}");
    }
    let hazy = clear_skies(&times, here, here, Length::from_base(0.0), 12.0).unwrap_err();
    assert!(hazy.to_string().contains("from 1 to 10"));
}
