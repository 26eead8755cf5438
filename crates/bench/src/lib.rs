//! What the browser and the desk must answer alike: a record's bytes in, its whole assessment out.
//!
//! The measuring program and the comparison are in `main.rs`; `examples/letter.rs` is this function for WebAssembly.

use std::fmt::Write as _;

use formulas::Problem;
use formulas::air::{Humidity, states};
use formulas::solar::{clear_skies, positions};
use quantity::{Angle, Irradiance, Length, Quantity, Ratio, Temperature, Time};
use record::Record;

/// Everything that follows from a record: the assessment with every field and every digit, and the explanation
/// of every value, as text, and behind it a few series, which no job computes.
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
    Ok(format!("{problems:#?}\n{assessment:#?}\n{series}"))
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
