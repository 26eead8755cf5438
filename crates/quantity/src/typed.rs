//! The typed quantities of formulas, each bound to its kind.

use crate::Kind;

/// A typed quantity that a formula can take or give.
pub trait Quantity: Copy {
    /// Its kind at run time.
    const KIND: Kind;
    /// From a number in SI base units.
    fn from_base(base: f64) -> Self;
    /// The number in SI base units.
    fn base(self) -> f64;
}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident = $uom:ident;)+) => {$(
        $(#[$doc])*
        pub type $name = uom::si::f64::$uom;

        impl Quantity for $name {
            const KIND: Kind = Kind::$name;
            fn from_base(base: f64) -> Self {
                Self { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value: base }
            }
            fn base(self) -> f64 {
                self.value
            }
        }
    )+};
}

quantities! {
    /// A share, slope or concentration.
    Ratio = Ratio;
    /// Angle, radians.
    Angle = Angle;
    /// Length, metres.
    Length = Length;
    /// Area, square metres.
    Area = Area;
    /// Volume, cubic metres.
    Volume = Volume;
    /// Mass, kilograms.
    Mass = Mass;
    /// Force, newtons.
    Force = Force;
    /// Torque, newton metres.
    Torque = Torque;
    /// Pressure, pascals.
    Pressure = Pressure;
    /// Temperature, kelvins.
    Temperature = ThermodynamicTemperature;
    /// Difference of temperatures, kelvins.
    TemperatureDifference = TemperatureInterval;
    /// Duration, seconds.
    Time = Time;
    /// Frequency, hertz.
    Frequency = Frequency;
    /// Speed, metres a second.
    Speed = Velocity;
    /// Volume flow, cubic metres a second.
    VolumeFlow = VolumeRate;
    /// Mass flow, kilograms a second.
    MassFlow = MassRate;
    /// Voltage, volts.
    Voltage = ElectricPotential;
    /// Current, amperes.
    Current = ElectricCurrent;
    /// Resistance, ohms.
    Resistance = ElectricalResistance;
    /// Charge, coulombs.
    Charge = ElectricCharge;
    /// Energy, joules.
    Energy = Energy;
    /// Power, watts.
    Power = Power;
    /// Power for each length, watts a metre.
    PowerPerLength = LinearPowerDensity;
    /// Irradiance, watts a square metre.
    Irradiance = HeatFluxDensity;
    /// Density, kilograms a cubic metre.
    Density = MassDensity;
    /// Energy for each mass, joules a kilogram.
    SpecificEnergy = AvailableEnergy;
    /// Volume for each mass, cubic metres a kilogram.
    SpecificVolume = SpecificVolume;
    /// Conduction through a material, watts a metre kelvin.
    ThermalConductivity = ThermalConductivity;
    /// Heat through a surface, watts a square metre kelvin.
    HeatTransfer = HeatTransfer;
}

impl Quantity for f64 {
    const KIND: Kind = Kind::Number;
    fn from_base(base: f64) -> Self {
        base
    }
    fn base(self) -> f64 {
        self
    }
}
