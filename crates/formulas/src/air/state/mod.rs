//! The state of air, from its temperature and one measure of its humidity.

use quantity::uom::si::{length::meter, ratio::ratio, thermodynamic_temperature::degree_celsius};
use quantity::{
    Density, Kind, Length, Quantity, Ratio, SpecificEnergy, SpecificVolume, Temperature, exact,
};

use super::moist_air::{self, MoistAir};
use crate::{Accepts, Formula, Gives, Input, Inputs, Outcome, Problem};

/// One measure of how damp air is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Humidity {
    /// Temperature of a wetted thermometer in moving air.
    WetBulb(Temperature),
    /// Vapour by the most the air can hold.
    Relative(Ratio),
    /// Temperature at which it begins to condense.
    DewPoint(Temperature),
}

/// The state of moist air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirState {
    /// Wet-bulb temperature.
    pub wet_bulb: Temperature,
    /// Dew point; below 0.01 °C the frost point.
    pub dew_point: Temperature,
    /// Mass of vapour by mass of dry air.
    pub humidity_ratio: Ratio,
    /// Relative humidity.
    pub relative_humidity: Ratio,
    /// Enthalpy for each mass of dry air, from 0 °C.
    pub enthalpy: SpecificEnergy,
    /// Enthalpy for each mass of dry air as customary tables count it, from 0 °F.
    pub customary_enthalpy: SpecificEnergy,
    /// Volume for each mass of dry air.
    pub volume: SpecificVolume,
    /// Density of the air with its vapour.
    pub density: Density,
}

pub(super) fn celsius(temperature: Temperature) -> f64 {
    temperature.get::<degree_celsius>()
}

/// Moist air from typed measures, for the formulas of this system.
pub(super) fn air_of(
    dry_bulb: Temperature,
    humidity: Humidity,
    pressure: f64,
    names: [&str; 3],
) -> Result<MoistAir, Problem> {
    let dry_bulb = celsius(dry_bulb);
    let [wet_bulb, relative, dew_point] = names;
    match humidity {
        Humidity::WetBulb(temperature) => {
            MoistAir::by_wet_bulb(wet_bulb, dry_bulb, celsius(temperature), pressure)
        }
        Humidity::Relative(share) => {
            MoistAir::by_relative_humidity(relative, dry_bulb, share.get::<ratio>(), pressure)
        }
        Humidity::DewPoint(temperature) => {
            MoistAir::by_dew_point(dew_point, dry_bulb, celsius(temperature), pressure)
        }
    }
}

/// The state of air at an altitude in the standard atmosphere.
///
/// # Errors
/// [`Problem::Input`] for a wet bulb or dew point above the dry bulb, or a wet bulb that dry air does not
/// reach; [`Problem::OutOfRange`] outside −100 °C to 200 °C, for air without a dew point in that range,
/// above the boiling point, or outside the lowest layer of the standard atmosphere.
pub fn state(
    dry_bulb: Temperature,
    humidity: Humidity,
    altitude: Length,
) -> Result<AirState, Problem> {
    state_at(moist_air::standard_pressure(altitude.get::<meter>())?, dry_bulb, humidity)
}

/// The states of air at one altitude, in the order given.
///
/// # Errors
/// The first that [`state`] has.
pub fn states(air: &[(Temperature, Humidity)], altitude: Length) -> Result<Vec<AirState>, Problem> {
    let pressure = moist_air::standard_pressure(altitude.get::<meter>())?;
    air.iter().map(|(dry_bulb, humidity)| state_at(pressure, *dry_bulb, *humidity)).collect()
}

fn state_at(pressure: f64, dry_bulb: Temperature, humidity: Humidity) -> Result<AirState, Problem> {
    let air = air_of(dry_bulb, humidity, pressure, ["wet_bulb", "relative_humidity", "dew_point"])?;
    let dew_point = match humidity {
        Humidity::DewPoint(given) => celsius(given),
        Humidity::WetBulb(_) | Humidity::Relative(_) => air.dew_point()?,
    };
    let wet_bulb = match humidity {
        Humidity::WetBulb(given) => celsius(given),
        Humidity::Relative(_) | Humidity::DewPoint(_) => air.wet_bulb_above(dew_point),
    };
    let relative_humidity = match humidity {
        Humidity::Relative(given) => given,
        Humidity::WetBulb(_) | Humidity::DewPoint(_) => {
            Ratio::new::<ratio>(air.relative_humidity())
        }
    };
    Ok(AirState {
        wet_bulb: Temperature::new::<degree_celsius>(wet_bulb),
        dew_point: Temperature::new::<degree_celsius>(dew_point),
        humidity_ratio: Ratio::new::<ratio>(air.humidity_ratio),
        relative_humidity,
        enthalpy: SpecificEnergy::from_base(air.enthalpy()),
        customary_enthalpy: SpecificEnergy::new::<exact::available_energy::btu_per_pound>(
            air.customary_enthalpy(),
        ),
        volume: SpecificVolume::from_base(air.volume()),
        density: Density::from_base(air.density()),
    })
}

/// Exactly one of the three measures; the names stand for wet bulb, relative humidity and dew point.
pub(super) fn one_humidity(inputs: &Inputs<'_>, names: [&str; 3]) -> Result<Humidity, Problem> {
    let [wet_bulb, relative, dew_point] = names;
    let mut given = Vec::new();
    given.extend(inputs.optional(wet_bulb)?.map(|value| (wet_bulb, Humidity::WetBulb(value))));
    given.extend(inputs.optional(relative)?.map(|value| (relative, Humidity::Relative(value))));
    given.extend(inputs.optional(dew_point)?.map(|value| (dew_point, Humidity::DewPoint(value))));
    match given.as_slice() {
        [(_, humidity)] => Ok(*humidity),
        [] => Err(Problem::input(
            relative,
            format!("is missing; accepted: exactly one of {wet_bulb}, {relative} and {dew_point}"),
        )),
        [_, (name, _), ..] => Err(Problem::input(
            *name,
            format!(
                "is one measure too many; accepted: exactly one of {wet_bulb}, {relative} and {dew_point}"
            ),
        )),
    }
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.state",
    summary: "State of moist air from its temperature and one measure of its humidity.",
    inputs: &[
        Input::quantity("dry_bulb", Kind::Temperature, "temperature of the air")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "wet_bulb",
            Kind::Temperature,
            "one of three: wetted thermometer, moving air",
        )
        .accepting(Accepts::AtLeast("0 K"))
        .optional(),
        Input::quantity("relative_humidity", Kind::Ratio, "one of three: relative humidity")
            .accepting(Accepts::Between("0 %", "100 %"))
            .optional(),
        Input::quantity("dew_point", Kind::Temperature, "one of three: dew point")
            .accepting(Accepts::AtLeast("0 K"))
            .optional(),
        Input::quantity("altitude", Kind::Length, "above sea level; 0 ft if left out").optional(),
    ],
    result: Gives::quantity("dew_point", "degF", "temperature at which it begins to condense"),
    parts: &[
        Gives::quantity("wet_bulb", "degF", "thermodynamic wet-bulb temperature"),
        Gives::quantity("dew_point", "degF", "the same as the result"),
        Gives::quantity("humidity_ratio", "lb/lb", "vapour by dry air, by mass"),
        Gives::quantity("relative_humidity", "%", "vapour by the most the air can hold"),
        Gives::quantity("enthalpy", "kJ/kg", "of dry air, counted from 0 degC"),
        Gives::quantity(
            "customary_enthalpy",
            "Btu/lb",
            "of dry air, counted from 0 degF as customary tables do",
        ),
        Gives::quantity("volume", "ft3/lb", "for each mass of dry air"),
        Gives::quantity("density", "lb/ft3", "of the air with its vapour"),
    ],
    valid: "-100 degC to 200 degC, dew points down to -100 degC, altitudes to 36,000 ft",
    sources: &[moist_air::CHAPTER],
    example: &[("dry_bulb", "80 degF"), ("relative_humidity", "50 %")],
    compute: |inputs| {
        let humidity = one_humidity(inputs, ["wet_bulb", "relative_humidity", "dew_point"])?;
        let altitude = inputs.optional("altitude")?.unwrap_or(Length::from_base(0.0));
        let state = state(inputs.get("dry_bulb")?, humidity, altitude)?;
        let mut outcome = Outcome::new(state.dew_point)
            .part("wet_bulb", state.wet_bulb)
            .part("dew_point", state.dew_point)
            .part("humidity_ratio", state.humidity_ratio)
            .part("relative_humidity", state.relative_humidity)
            .part("enthalpy", state.enthalpy)
            .part("customary_enthalpy", state.customary_enthalpy)
            .part("volume", state.volume)
            .part("density", state.density);
        if celsius(state.dew_point) < 0.01 {
            outcome = outcome.note("below freezing the dew point is the frost point, over ice");
        }
        Ok(outcome)
    },
};

#[cfg(test)]
mod tests;
