//! The kinds of quantity that readings, limits and formulas can have.

/// What a value is a quantity of. Two values of different kinds are never compared or added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A plain number: a count, an exponent, an index.
    Number,
    /// A share, slope or concentration; `20 %`, `0.2` and `0.25 in/ft` are ratios.
    Ratio,
    /// Angle.
    Angle,
    /// Length.
    Length,
    /// Area.
    Area,
    /// Volume.
    Volume,
    /// Mass; a pound on a scale is a mass.
    Mass,
    /// Force.
    Force,
    /// Torque.
    Torque,
    /// Pressure, above the atmosphere's unless a formula says absolute.
    Pressure,
    /// Temperature on a scale with a zero of its own.
    Temperature,
    /// Difference of two temperatures.
    TemperatureDifference,
    /// Duration.
    Time,
    /// Frequency.
    Frequency,
    /// Speed.
    Speed,
    /// Volume flow.
    VolumeFlow,
    /// Mass flow.
    MassFlow,
    /// Electric potential difference.
    Voltage,
    /// Electric current.
    Current,
    /// Electrical resistance or impedance.
    Resistance,
    /// Electric charge.
    Charge,
    /// Energy.
    Energy,
    /// Power; volt-amperes are kept here too, named apart by their unit.
    Power,
    /// Power for each length.
    PowerPerLength,
    /// Radiant power on each area.
    Irradiance,
    /// Density.
    Density,
    /// Energy for each mass.
    SpecificEnergy,
    /// Volume for each mass.
    SpecificVolume,
    /// Conduction through a material.
    ThermalConductivity,
    /// Heat through a surface for each difference of temperature.
    HeatTransfer,
}

impl Kind {
    /// Every kind, in the order of the units list.
    pub const ALL: [Self; 30] = [
        Self::Number,
        Self::Ratio,
        Self::Angle,
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Mass,
        Self::Force,
        Self::Torque,
        Self::Pressure,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Time,
        Self::Frequency,
        Self::Speed,
        Self::VolumeFlow,
        Self::MassFlow,
        Self::Voltage,
        Self::Current,
        Self::Resistance,
        Self::Charge,
        Self::Energy,
        Self::Power,
        Self::PowerPerLength,
        Self::Irradiance,
        Self::Density,
        Self::SpecificEnergy,
        Self::SpecificVolume,
        Self::ThermalConductivity,
        Self::HeatTransfer,
    ];

    /// The word in data files, and in messages.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Number => "number",
            Self::Ratio => "ratio",
            Self::Angle => "angle",
            Self::Length => "length",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Mass => "mass",
            Self::Force => "force",
            Self::Torque => "torque",
            Self::Pressure => "pressure",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature_difference",
            Self::Time => "time",
            Self::Frequency => "frequency",
            Self::Speed => "speed",
            Self::VolumeFlow => "volume_flow",
            Self::MassFlow => "mass_flow",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Resistance => "resistance",
            Self::Charge => "charge",
            Self::Energy => "energy",
            Self::Power => "power",
            Self::PowerPerLength => "power_per_length",
            Self::Irradiance => "irradiance",
            Self::Density => "density",
            Self::SpecificEnergy => "specific_energy",
            Self::SpecificVolume => "specific_volume",
            Self::ThermalConductivity => "thermal_conductivity",
            Self::HeatTransfer => "heat_transfer",
        }
    }

    /// The kind with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}
