//! A pipe in its insulation: what the freezing formulas have in common.

use quantity::{Kind, Length, Quantity, Temperature, ThermalConductivity};

use crate::{Input, Inputs, Problem};

/// 32 °F in kelvins.
pub(super) const FREEZING: f64 = 273.15;

/// Insulation around a pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insulation {
    /// Outside diameter of the pipe.
    pub inside: Length,
    /// Outside diameter of the insulation.
    pub outside: Length,
    /// Conductivity of the insulation.
    pub conductivity: ThermalConductivity,
}

impl Insulation {
    /// Resistance of a metre of insulation: `ln(Do/Di)/(2πk)`, K·m/W.
    ///
    /// # Errors
    /// [`Problem::Input`] if it is thinner than nothing; [`Problem::OutOfRange`] for a bare pipe.
    pub(super) fn resistance(self) -> Result<f64, Problem> {
        if self.outside < self.inside {
            return Err(Problem::input(
                "insulation_diameter",
                "is less than the pipe's; accepted: the diameter over the insulation",
            ));
        }
        // Equal to a hair's breadth is a bare pipe.
        if (self.outside / self.inside).base() < 1.0 + 1e-6 {
            return Err(Problem::out_of_range(
                "valid for an insulated pipe; a bare pipe is held back by the air at its surface alone and \
                 freezes much sooner",
            ));
        }
        let ratio = (self.outside / self.inside).base();
        Ok(libm::log(ratio) / (2.0 * std::f64::consts::PI * self.conductivity.base()))
    }
}

/// Not an input, but asked for so often that it is refused with its reason.
pub(super) const WIND_CHILL: Input = Input::quantity(
    "wind_chill",
    Kind::Temperature,
    "never accepted: it is about skin; no pipe gets colder than the air, so give the thermometer’s temperature as air",
)
.optional();

/// Refuses a temperature that it only feels like.
///
/// # Errors
/// [`Problem::Input`] if wind chill was given.
pub(super) fn no_wind_chill(inputs: &Inputs<'_>) -> Result<(), Problem> {
    match inputs.optional_value("wind_chill") {
        None => Ok(()),
        Some(_) => Err(Problem::input(
            "wind_chill",
            "is not for pipes: it says what wind feels like on skin, and wind cools a pipe sooner but never below the \
             temperature of the air; accepted: leave it out and give the thermometer’s temperature as air",
        )),
    }
}

/// Refuses air in which water cannot freeze.
///
/// # Errors
/// [`Problem::OutOfRange`] from 32 °F on.
pub(super) fn air_below_freezing(air: Temperature) -> Result<(), Problem> {
    // A hair's breadth for the rounding of the conversion from °F.
    if air.base() >= FREEZING - 1e-9 {
        return Err(Problem::out_of_range(
            "in air of 32 degF and more the water never freezes; valid for air below 32 degF",
        ));
    }
    Ok(())
}
