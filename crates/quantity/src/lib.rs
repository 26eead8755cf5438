//! Values with units: what people write, what formulas take, and how a number is printed.
//!
//! Formulas are typed with the library `uom`; the types they may take are re-exported here, each
//! bound to a [`Kind`]. Data files, records and command lines carry a [`Value`]: a kind, a number in
//! SI base units and its standard uncertainty. The [`units`] table maps every spelling that is read
//! onto a `uom` unit, once.

// The library's `unit!` calls helper macros by their bare names.
#[macro_use]
extern crate uom as _uom;

pub mod exact;
mod instrument;
mod kind;
mod parse;
mod typed;
pub mod units;
mod value;
mod write;

pub use instrument::{Specification, SpecificationError};
pub use kind::Kind;
pub use parse::{ParseError, parse_list, parse_value};
pub use typed::{
    Angle, Area, Charge, Current, Density, Energy, Force, Frequency, HeatTransfer, Irradiance,
    Length, Mass, MassFlow, Power, PowerPerLength, Pressure, Quantity, Ratio, Resistance,
    SpecificEnergy, SpecificVolume, Speed, Temperature, TemperatureDifference, ThermalConductivity,
    Time, Torque, Voltage, Volume, VolumeFlow,
};
pub use units::{Unit, UnitSystem};
pub use value::{Uncertainty, Value};
pub use write::{write_number, write_value};

/// `uom`, for the signatures and bodies of formulas.
pub use uom;

#[cfg(test)]
mod tests;
