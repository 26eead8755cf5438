//! What the browser and the desk must answer alike: a record's bytes in, its whole assessment and its visit's schedule out.
//!
//! The measuring program and the comparison are in `main.rs`; `examples/letter.rs` is this function for WebAssembly.

#![cfg(feature = "whole")]

use std::fmt::Write as _;

use formulas::Problem;
use formulas::air::{Humidity, states};
use formulas::solar::{clear_skies, positions};
use inspection::Inspection;
use quantity::{Angle, Irradiance, Length, Quantity, Ratio, Temperature, Time};
use record::Record;
use schedule::{Budget, Circumstances, Person, Preference, explanation, lower_bound, prepare};

/// Everything that follows from a record: the assessment with every field and every digit, the explanation of every
/// value, and the schedule of the whole visit with its bound, as text, and behind it a few series, which no job computes.
///
/// # Errors
/// A sentence, if the bytes are no record or its plan cannot be read.
pub fn answer(record: &[u8]) -> Result<String, String> {
    let record = Record::load([record]).map_err(|error| error.to_string())?;
    let (inspection, problems) = record.inspection();
    let text = record.plan().map_err(|error| error.to_string())?;
    let plan = plan::thaw(&text).map_err(|problems| {
        problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    })?;
    let assessment = findings::assess(&plan, &inspection);
    let series = series().map_err(|problem| problem.to_string())?;
    let schedule = visit(&plan, &inspection)?;
    Ok(format!("{problems:#?}\n{assessment:#?}\n{schedule}\n{series}"))
}

/// Sun, clear sky and moist air over two years, with every digit.
fn series() -> Result<String, Problem> {
    let moments: Vec<Time> =
        (0..400).map(|case| Time::from_base(1.7e9 + 157_830.0 * f64::from(case))).collect();
    let air: Vec<(Temperature, Humidity)> = (0..400)
        .map(|case| {
            let humidity = Ratio::from_base(0.05 + 0.95 * (f64::from(case) * 0.618_034).fract());
            (Temperature::from_base(253.15 + 0.175 * f64::from(case)), Humidity::Relative(humidity))
        })
        .collect();
    let (latitude, longitude) = (Angle::from_base(0.76), Angle::from_base(-1.28));
    let altitude = Length::from_base(150.0);
    let suns = positions(&moments, latitude, longitude, altitude)?;
    let skies = clear_skies(&moments, latitude, longitude, altitude, 3.0)?;
    let mut text = String::new();
    for ((sun, sky), air) in suns.iter().zip(&skies).zip(states(&air, altitude)?) {
        let numbers = [
            sun.zenith.base(),
            sun.apparent_zenith.base(),
            sun.azimuth.base(),
            Irradiance::base(sky.global),
            Irradiance::base(sky.beam),
            air.wet_bulb.base(),
            air.dew_point.base(),
            air.enthalpy.base(),
        ];
        // Text in memory never fails.
        let _written = writeln!(text, "{numbers:?}");
    }
    Ok(text)
}

/// The whole visit's schedule and what is proved of it, whatever is recorded already.
fn visit(plan: &plan::Plan, inspection: &Inspection) -> Result<String, String> {
    let before = Inspection { dwelling: inspection.dwelling.clone(), ..Inspection::default() };
    let start = jiff::civil::date(2026, 6, 12).at(9, 0, 0, 0);
    let circumstances = Circumstances {
        start,
        now: start,
        light: None,
        dry: None,
        owner: None,
        people: vec![Person { name: "inspector".to_owned(), skills: Vec::new() }],
    };
    let visit = prepare(plan, &before, &circumstances).map_err(|faults| format!("{faults:#?}"))?;
    let budget = Budget { decodes: 3_000, seed: 1 };
    let found = schedule::plan(&visit.problem, &visit.progress, Preference::FinishSoonest, budget);
    let bound = lower_bound(&visit.problem, &visit.progress, Some(&found), 2_000);
    Ok(format!("{found:#?}\n{bound:#?}\n{}", explanation(&visit, &found)))
}
