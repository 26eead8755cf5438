//! 100,000 cases through the typed functions, against vectorised libraries in the same run.

use std::hint::black_box;
use std::path::Path;

use formulas::Problem;
use formulas::air::{Humidity, states};
use formulas::solar::{clear_skies, clear_sky, position, positions};
use quantity::{Angle, Irradiance, Length, Quantity, Ratio, Temperature, Time};
use serde_json::Value as Json;

use super::results::{Goal, Measured, Results};
use super::{Outcome, times};

/// Cases of a batch; `cargo xtask bench` tells peers.py the same number.
const CASES: u32 = 100_000;
const RUNS: usize = 9;

/// The place of the sun and sky batches, and the altitude of all.
const LATITUDE: f64 = 43.5214; // degrees
const LONGITUDE: f64 = -73.2361; // degrees
const ALTITUDE: f64 = 150.0; // m

/// What peers.py printed.
#[derive(Debug)]
pub(super) struct Peers(Json);

impl Peers {
    pub(super) fn read(path: &Path) -> Outcome<Self> {
        let said = |why: &dyn std::fmt::Display| format!("{}: {why}", path.display());
        let text = std::fs::read_to_string(path).map_err(|error| said(&error))?;
        serde_json::from_str(&text).map(Self).map_err(|error| said(&error))
    }

    /// The quickest way that the library offers, with its name, and the mean of its main result.
    fn best(&self, id: &str) -> Outcome<(String, f64, f64)> {
        let object = self.0.get(id).and_then(Json::as_object);
        let mut ways: Vec<(String, f64)> = object
            .into_iter()
            .flatten()
            .filter(|(name, _)| *name != "mean")
            .filter_map(|(name, seconds)| Some((name.clone(), seconds.as_f64()?)))
            .collect();
        ways.sort_by(|one, other| one.1.total_cmp(&other.1));
        let mean = object.and_then(|object| object.get("mean")).and_then(Json::as_f64);
        match (ways.into_iter().next(), mean) {
            (Some((name, seconds)), Some(mean)) => Ok((name, seconds, mean)),
            _ => Err(format!("the reference libraries' figures have no `{id}`")),
        }
    }
}

/// What the batches are computed of, ready in lists as the libraries have them.
struct Cases {
    moments: Vec<Time>,
    air: Vec<(Temperature, Humidity)>,
}

/// Computes a batch and gives the mean of its main result.
type Work = fn(&Cases) -> Result<f64, Problem>;

/// One batch: its key, its name, the library beside it, how near its mean must be, and the work.
struct Batch {
    id: &'static str,
    what: &'static str,
    peer: &'static str,
    near: f64,
    work: Work,
}

const BATCHES: [Batch; 3] = [
    Batch { id: "sun", what: "sun position", peer: "pvlib", near: 1e-3, work: suns },
    Batch { id: "air", what: "moist air", peer: "PsychroLib", near: 1e-3, work: airs },
    Batch { id: "sky", what: "clear sky", peer: "pvlib", near: 0.05, work: skies },
];

/// The same by single calls, as one who has no series to compute would make them.
const SINGLE: [(&str, &str, Work); 2] = [
    ("sun_single", "sun position, each by its own call", single_suns),
    ("sky_single", "clear sky, each by its own call", single_skies),
];

pub(super) fn measure(results: &mut Results, peers: Option<&Peers>) -> Outcome {
    let cases =
        Cases { moments: (0..CASES).map(moment).collect(), air: (0..CASES).map(air).collect() };
    for batch in BATCHES {
        let (mean, best, median) = timed(batch.what, batch.work, &cases)?;
        let peer = peers.map(|peers| peers.best(batch.id)).transpose()?;
        if let Some((_, _, theirs)) = &peer
            && (mean - theirs).abs() > batch.near
        {
            return Err(format!(
                "{}: the mean of our results is {mean}, that of {} {theirs}: not the same batch",
                batch.what, batch.peer
            ));
        }
        results.push(Measured {
            id: batch.id,
            what: format!("{}, {CASES} cases", batch.what),
            best: best * 1e3,
            median: median * 1e3,
            unit: "ms",
            goal: None,
            note: String::new(),
        });
        let Some((way, seconds, _)) = peer else {
            results.skip(format!("{} beside {}", batch.what, batch.peer));
            continue;
        };
        results.push(Measured {
            id: match batch.id {
                "sun" => "sun_ratio",
                "air" => "air_ratio",
                _ => "sky_ratio",
            },
            what: format!("{} beside {}", batch.what, batch.peer),
            best: seconds / best,
            median: seconds / median,
            unit: "times as fast",
            goal: Some(Goal::AtLeast(3.0)),
            note: format!("{} by {way}: best {:.0} ms, one thread", batch.peer, seconds * 1e3),
        });
    }
    for (id, what, work) in SINGLE {
        let (_, best, median) = timed(what, work, &cases)?;
        results.push(Measured {
            id,
            what: format!("{what}, {CASES}"),
            best: best * 1e3,
            median: median * 1e3,
            unit: "ms",
            goal: None,
            note: String::new(),
        });
    }
    Ok(())
}

/// The mean that a batch gives, and its best and median time in seconds.
fn timed(what: &str, work: Work, cases: &Cases) -> Outcome<(f64, f64, f64)> {
    let mut mean = 0.0;
    let (best, median) = times(RUNS, || {
        mean = work(black_box(cases)).map_err(|problem| format!("{what}: {problem}"))?;
        Ok(())
    })?;
    Ok((mean, best, median))
}

/// 315 s after the case before, from 2024-01-01: a year in steps that meet every hour of the day.
fn moment(case: u32) -> Time {
    Time::from_base(1_704_067_200.0 + 315.0 * f64::from(case))
}

/// Multiples of irrational numbers, without their whole part, cover the square of both evenly.
fn air(case: u32) -> (Temperature, Humidity) {
    let part = |step: f64| (f64::from(case) * step).fract();
    let dry_bulb = -20.0 + 70.0 * part(0.618_033_988_749_895);
    let humidity = 0.05 + 0.95 * part(0.754_877_666_246_693);
    (Temperature::from_base(dry_bulb + 273.15), Humidity::Relative(Ratio::from_base(humidity)))
}

fn here() -> (Angle, Angle, Length) {
    let radians = |degrees: f64| Angle::from_base(degrees.to_radians());
    black_box((radians(LATITUDE), radians(LONGITUDE), Length::from_base(ALTITUDE)))
}

fn mean(results: impl Iterator<Item = f64>) -> f64 {
    results.sum::<f64>() / f64::from(CASES)
}

fn suns(cases: &Cases) -> Result<f64, Problem> {
    let (latitude, longitude, altitude) = here();
    let suns = black_box(positions(&cases.moments, latitude, longitude, altitude)?);
    Ok(mean(suns.iter().map(|sun| sun.zenith.base().to_degrees())))
}

fn single_suns(cases: &Cases) -> Result<f64, Problem> {
    let (latitude, longitude, altitude) = here();
    let mut sum = 0.0;
    for moment in &cases.moments {
        let sun = black_box(position(*moment, latitude, longitude, altitude)?);
        sum += sun.zenith.base().to_degrees();
    }
    Ok(sum / f64::from(CASES))
}

fn skies(cases: &Cases) -> Result<f64, Problem> {
    let (latitude, longitude, altitude) = here();
    let skies = black_box(clear_skies(&cases.moments, latitude, longitude, altitude, 3.0)?);
    Ok(mean(skies.iter().map(|sky| Irradiance::base(sky.global))))
}

fn single_skies(cases: &Cases) -> Result<f64, Problem> {
    let (latitude, longitude, altitude) = here();
    let mut sum = 0.0;
    for moment in &cases.moments {
        let sky = black_box(clear_sky(*moment, latitude, longitude, altitude, 3.0)?);
        sum += Irradiance::base(sky.global);
    }
    Ok(sum / f64::from(CASES))
}

fn airs(cases: &Cases) -> Result<f64, Problem> {
    let (_, _, altitude) = here();
    let states = black_box(states(&cases.air, altitude)?);
    Ok(mean(states.iter().map(|state| state.wet_bulb.base() - 273.15)))
}
