//! The units table: every spelling that is read, each mapped onto a `uom` unit once.

use std::borrow::Cow;

use uom::si::f64 as typed;

use crate::{Kind, exact};

/// Customary or metric, for what people see.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UnitSystem {
    /// United States customary units.
    #[default]
    Us,
    /// The International System.
    Si,
}

/// One unit.
pub struct Unit {
    /// How it is written.
    pub spelling: &'static str,
    /// Other spellings that are read.
    pub also: &'static [&'static str],
    /// The kind of quantity it measures.
    pub kind: Kind,
    /// The system it belongs to; none where both use it.
    pub system: Option<UnitSystem>,
    /// The unit that the other system writes in its place; empty where both write this one.
    pub counterpart: &'static str,
    to_base: fn(f64) -> f64,
    from_base: fn(f64) -> f64,
}

/// Its kind and spelling: where its functions lie differs from run to run.
impl std::fmt::Debug for Unit {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "Unit({} {:?})", self.kind.word(), self.spelling)
    }
}

impl Unit {
    /// A number in this unit, in SI base units.
    #[must_use]
    pub fn to_base(&self, number: f64) -> f64 {
        (self.to_base)(number)
    }

    /// A number in SI base units, in this unit.
    #[must_use]
    pub fn from_base(&self, base: f64) -> f64 {
        (self.from_base)(base)
    }

    /// SI base units for each of this unit: the factor for differences and uncertainties, where offsets cancel.
    #[must_use]
    pub fn step(&self) -> f64 {
        (self.to_base)(1.0) - (self.to_base)(0.0)
    }

    /// How it is printed for people: `°F` for `degF`, `Ω` for `ohm`.
    #[must_use]
    pub fn symbol(&self) -> &'static str {
        match self.spelling {
            "degF" | "ddegF" => "°F",
            "degC" | "ddegC" => "°C",
            "dK" => "K",
            "deg" => "°",
            "ohm" => "Ω",
            "mohm" => "mΩ",
            "kohm" => "kΩ",
            "Mohm" => "MΩ",
            "ratio" => "",
            spelling => spelling,
        }
    }

    /// This unit, or the one that the asked system writes in its place.
    #[must_use]
    pub fn in_system(&'static self, system: UnitSystem) -> &'static Self {
        match self.system {
            Some(own) if own != system => find(self.counterpart).unwrap_or(self),
            _ => self,
        }
    }
}

/// The unit with this spelling.
#[must_use]
pub fn find(spelling: &str) -> Option<&'static Unit> {
    let plain = plain_spelling(spelling);
    ALL.iter().find(|unit| unit.spelling == plain || unit.also.contains(&&*plain))
}

/// The unit with this spelling, of this kind.
#[must_use]
pub fn find_of(kind: Kind, spelling: &str) -> Option<&'static Unit> {
    let plain = plain_spelling(spelling);
    ALL.iter()
        .find(|unit| unit.kind == kind && (unit.spelling == plain || unit.also.contains(&&*plain)))
}

/// All units of a kind.
pub fn of_kind(kind: Kind) -> impl Iterator<Item = &'static Unit> {
    ALL.iter().filter(move |unit| unit.kind == kind)
}

/// Superscripts, degree signs and middle dots as plain letters; runs of blanks as one.
fn plain_spelling(spelling: &str) -> Cow<'_, str> {
    let spelling = spelling.trim();
    // Most are plain already.
    if spelling.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'/' || byte == b'%')
        && !spelling.contains("degdeg")
    {
        return Cow::Borrowed(spelling);
    }
    let mut plain = String::with_capacity(spelling.len());
    for letter in spelling.chars() {
        match letter {
            '²' => plain.push('2'),
            '³' => plain.push('3'),
            '^' => {}
            '°' => plain.push_str("deg"),
            '·' | '⋅' | '*' | '-' => plain.push(' '),
            'Ω' | '\u{2126}' => plain.push_str("ohm"),
            'µ' | 'μ' => plain.push('u'),
            letter if letter.is_whitespace() => {
                if !plain.ends_with(' ') {
                    plain.push(' ');
                }
            }
            letter => plain.push(letter),
        }
    }
    Cow::Owned(plain.replace("degdeg", "deg"))
}

macro_rules! unit {
    ($kind:ident, $quantity:ident, $unit:path, $system:expr, $spelling:literal, [$($also:literal),*], $counterpart:literal) => {
        Unit {
            spelling: $spelling,
            also: &[$($also),*],
            kind: Kind::$kind,
            system: $system,
            counterpart: $counterpart,
            to_base: |number| typed::$quantity::new::<$unit>(number).value,
            from_base: |base| {
                <typed::$quantity as crate::Quantity>::from_base(base).get::<$unit>()
            },
        }
    };
}

const US: Option<UnitSystem> = Some(UnitSystem::Us);
const SI: Option<UnitSystem> = Some(UnitSystem::Si);

/// Every unit that is read or written, by kind.
#[rustfmt::skip]
pub static ALL: &[Unit] = &[
    Unit { spelling: "", also: &["1"], kind: Kind::Number, system: None, counterpart: "", to_base: |number| number, from_base: |base| base },

    unit!(Ratio, Ratio, uom::si::ratio::percent, None, "%", ["percent", "pct"], ""),
    unit!(Ratio, Ratio, uom::si::ratio::part_per_million, None, "ppm", [], ""),
    unit!(Ratio, Ratio, uom::si::ratio::ratio, None, "ratio", [], ""),
    unit!(Ratio, Ratio, exact::ratio::inch_per_foot, US, "in/ft", [], "%"),
    unit!(Ratio, Ratio, exact::ratio::gram_per_kilogram, SI, "g/kg", [], "gr/lb"),
    unit!(Ratio, Ratio, exact::ratio::grain_per_pound, US, "gr/lb", [], "g/kg"),
    unit!(Ratio, Ratio, uom::si::ratio::ratio, SI, "kg/kg", [], "lb/lb"),
    unit!(Ratio, Ratio, uom::si::ratio::ratio, US, "lb/lb", [], "kg/kg"),

    unit!(Angle, Angle, uom::si::angle::degree, None, "deg", ["degree", "degrees"], ""),
    unit!(Angle, Angle, uom::si::angle::radian, None, "rad", [], ""),

    unit!(Length, Length, uom::si::length::inch, US, "in", ["inch", "inches", "\"", "″"], "mm"),
    unit!(Length, Length, uom::si::length::foot, US, "ft", ["foot", "feet", "'", "′"], "m"),
    unit!(Length, Length, uom::si::length::yard, US, "yd", ["yard", "yards"], "m"),
    unit!(Length, Length, uom::si::length::mile, US, "mi", ["mile", "miles"], "km"),
    unit!(Length, Length, uom::si::length::millimeter, SI, "mm", [], "in"),
    unit!(Length, Length, uom::si::length::centimeter, SI, "cm", [], "in"),
    unit!(Length, Length, uom::si::length::meter, SI, "m", [], "ft"),
    unit!(Length, Length, uom::si::length::kilometer, SI, "km", [], "mi"),

    unit!(Area, Area, uom::si::area::square_inch, US, "in2", ["sq in", "sqin"], "cm2"),
    unit!(Area, Area, uom::si::area::square_foot, US, "ft2", ["sq ft", "sqft"], "m2"),
    unit!(Area, Area, uom::si::area::square_millimeter, SI, "mm2", [], "in2"),
    unit!(Area, Area, uom::si::area::square_centimeter, SI, "cm2", [], "in2"),
    unit!(Area, Area, uom::si::area::square_meter, SI, "m2", [], "ft2"),

    unit!(Volume, Volume, exact::volume::us_gallon, US, "gal", ["gallon", "gallons"], "L"),
    unit!(Volume, Volume, exact::volume::us_fluid_ounce, US, "floz", ["fl oz", "fl. oz"], "mL"),
    unit!(Volume, Volume, exact::volume::us_cup, US, "cup", ["cups"], "mL"),
    unit!(Volume, Volume, exact::volume::foot_cubed, US, "ft3", ["cu ft", "cuft"], "m3"),
    unit!(Volume, Volume, exact::volume::inch_cubed, US, "in3", ["cu in", "cuin"], "cm3"),
    unit!(Volume, Volume, uom::si::volume::liter, SI, "L", ["l", "litre", "liter", "litres", "liters"], "gal"),
    unit!(Volume, Volume, uom::si::volume::milliliter, SI, "mL", ["ml"], "floz"),
    unit!(Volume, Volume, uom::si::volume::cubic_centimeter, SI, "cm3", ["cc"], "in3"),
    unit!(Volume, Volume, uom::si::volume::cubic_meter, SI, "m3", [], "ft3"),

    unit!(Mass, Mass, exact::mass::avoirdupois_pound, US, "lb", ["lbs", "pound", "pounds", "lbm"], "kg"),
    unit!(Mass, Mass, exact::mass::avoirdupois_ounce, US, "oz", ["ounce", "ounces"], "g"),
    unit!(Mass, Mass, uom::si::mass::kilogram, SI, "kg", [], "lb"),
    unit!(Mass, Mass, uom::si::mass::gram, SI, "g", [], "oz"),

    unit!(Force, Force, exact::force::standard_pound_force, US, "lbf", [], "N"),
    unit!(Force, Force, uom::si::force::newton, SI, "N", [], "lbf"),
    unit!(Force, Force, uom::si::force::kilonewton, SI, "kN", [], "lbf"),

    unit!(Torque, Torque, exact::torque::pound_force_foot_of_torque, US, "lbf ft", ["lb ft", "ft lb", "ft lbf", "ftlb", "lbft"], "N m"),
    unit!(Torque, Torque, exact::torque::pound_force_inch_of_torque, US, "lbf in", ["lb in", "in lb", "in lbf"], "N m"),
    unit!(Torque, Torque, uom::si::torque::newton_meter, SI, "N m", ["Nm"], "lbf ft"),

    unit!(Pressure, Pressure, exact::pressure::pound_per_square_inch, US, "psi", ["psig"], "kPa"),
    unit!(Pressure, Pressure, exact::pressure::kip_per_square_inch, US, "ksi", [], "kPa"),
    unit!(Pressure, Pressure, exact::pressure::pound_per_square_foot, US, "psf", [], "kPa"),
    unit!(Pressure, Pressure, exact::pressure::inch_of_water, US, "inH2O", ["in wc", "inwc", "in. w.c.", "inH₂O"], "kPa"),
    unit!(Pressure, Pressure, exact::pressure::inch_of_water_39f, US, "inH2O_39F", [], "kPa"),
    unit!(Pressure, Pressure, exact::pressure::inch_of_water_60f, US, "inH2O_60F", [], "kPa"),
    unit!(Pressure, Pressure, exact::pressure::inch_of_mercury, US, "inHg", [], "kPa"),
    unit!(Pressure, Pressure, uom::si::pressure::kilopascal, SI, "kPa", [], "psi"),
    unit!(Pressure, Pressure, uom::si::pressure::pascal, SI, "Pa", [], "inH2O"),
    unit!(Pressure, Pressure, uom::si::pressure::millibar, SI, "mbar", ["hPa"], "inH2O"),
    unit!(Pressure, Pressure, uom::si::pressure::bar, SI, "bar", [], "psi"),
    unit!(Pressure, Pressure, uom::si::pressure::atmosphere, None, "atm", [], ""),

    unit!(Temperature, ThermodynamicTemperature, uom::si::thermodynamic_temperature::degree_fahrenheit, US, "degF", ["F", "ºF"], "degC"),
    unit!(Temperature, ThermodynamicTemperature, uom::si::thermodynamic_temperature::degree_celsius, SI, "degC", ["ºC", "℃"], "degF"),
    unit!(Temperature, ThermodynamicTemperature, uom::si::thermodynamic_temperature::kelvin, SI, "K", [], "degF"),

    unit!(TemperatureDifference, TemperatureInterval, uom::si::temperature_interval::degree_fahrenheit, US, "ddegF", ["dF"], "dK"),
    unit!(TemperatureDifference, TemperatureInterval, uom::si::temperature_interval::kelvin, SI, "dK", [], "ddegF"),
    unit!(TemperatureDifference, TemperatureInterval, uom::si::temperature_interval::degree_celsius, SI, "ddegC", [], "ddegF"),

    unit!(Time, Time, uom::si::time::second, None, "s", ["sec", "second", "seconds"], ""),
    unit!(Time, Time, uom::si::time::millisecond, None, "ms", [], ""),
    unit!(Time, Time, uom::si::time::minute, None, "min", ["minute", "minutes"], ""),
    unit!(Time, Time, uom::si::time::hour, None, "h", ["hr", "hour", "hours"], ""),
    unit!(Time, Time, uom::si::time::day, None, "d", ["day", "days"], ""),

    unit!(Frequency, Frequency, uom::si::frequency::hertz, None, "Hz", [], ""),

    unit!(Speed, Velocity, uom::si::velocity::mile_per_hour, US, "mph", [], "km/h"),
    unit!(Speed, Velocity, uom::si::velocity::foot_per_second, US, "ft/s", ["fps"], "m/s"),
    unit!(Speed, Velocity, uom::si::velocity::kilometer_per_hour, SI, "km/h", [], "mph"),
    unit!(Speed, Velocity, uom::si::velocity::meter_per_second, SI, "m/s", [], "ft/s"),

    unit!(VolumeFlow, VolumeRate, exact::volume_rate::us_gallon_per_minute, US, "gpm", ["gal/min"], "L/min"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::us_gallon_per_hour, US, "gph", ["gal/h"], "L/h"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::us_gallon_per_day, US, "gal/d", ["gpd"], "L/h"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::foot_cubed_per_minute, US, "cfm", ["ft3/min"], "m3/h"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::foot_cubed_per_hour, US, "cfh", ["scfh", "ft3/h"], "L/h"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::foot_cubed_per_second, US, "cfs", ["ft3/s"], "m3/s"),
    unit!(VolumeFlow, VolumeRate, uom::si::volume_rate::liter_per_minute, SI, "L/min", ["l/min"], "gpm"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::litre_per_hour, SI, "L/h", ["l/h"], "gph"),
    unit!(VolumeFlow, VolumeRate, uom::si::volume_rate::liter_per_second, SI, "L/s", ["l/s"], "gpm"),
    unit!(VolumeFlow, VolumeRate, uom::si::volume_rate::cubic_meter_per_hour, SI, "m3/h", [], "cfm"),
    unit!(VolumeFlow, VolumeRate, uom::si::volume_rate::cubic_meter_per_second, SI, "m3/s", [], "cfs"),
    unit!(VolumeFlow, VolumeRate, exact::volume_rate::centimetre_cubed_per_minute, None, "cc/min", ["cm3/min", "mL/min", "ml/min"], ""),

    unit!(MassFlow, MassRate, exact::mass_rate::avoirdupois_pound_per_hour, US, "lb/h", [], "kg/h"),
    unit!(MassFlow, MassRate, uom::si::mass_rate::kilogram_per_hour, SI, "kg/h", [], "lb/h"),
    unit!(MassFlow, MassRate, uom::si::mass_rate::kilogram_per_second, SI, "kg/s", [], "lb/h"),

    unit!(Voltage, ElectricPotential, uom::si::electric_potential::volt, None, "V", ["volt", "volts"], ""),
    unit!(Voltage, ElectricPotential, uom::si::electric_potential::millivolt, None, "mV", [], ""),
    unit!(Current, ElectricCurrent, uom::si::electric_current::ampere, None, "A", ["amp", "amps"], ""),
    unit!(Current, ElectricCurrent, uom::si::electric_current::milliampere, None, "mA", [], ""),
    unit!(Resistance, ElectricalResistance, uom::si::electrical_resistance::ohm, None, "ohm", ["ohms"], ""),
    unit!(Resistance, ElectricalResistance, uom::si::electrical_resistance::milliohm, None, "mohm", [], ""),
    unit!(Resistance, ElectricalResistance, uom::si::electrical_resistance::kiloohm, None, "kohm", [], ""),
    unit!(Resistance, ElectricalResistance, uom::si::electrical_resistance::megaohm, None, "Mohm", [], ""),
    unit!(Charge, ElectricCharge, uom::si::electric_charge::ampere_hour, None, "Ah", [], ""),
    unit!(Charge, ElectricCharge, uom::si::electric_charge::coulomb, None, "coulomb", [], ""),

    unit!(Energy, Energy, exact::energy::british_thermal_unit, US, "Btu", ["BTU"], "kJ"),
    unit!(Energy, Energy, uom::si::energy::watt_hour, None, "Wh", [], ""),
    unit!(Energy, Energy, uom::si::energy::kilowatt_hour, None, "kWh", [], ""),
    unit!(Energy, Energy, uom::si::energy::joule, SI, "J", [], "Btu"),
    unit!(Energy, Energy, uom::si::energy::kilojoule, SI, "kJ", [], "Btu"),
    unit!(Energy, Energy, uom::si::energy::megajoule, SI, "MJ", [], "Btu"),

    unit!(Power, Power, exact::power::british_thermal_unit_per_hour, US, "Btu/h", ["BTU/h", "Btuh", "BTU/hr", "Btu/hr"], "W"),
    unit!(Power, Power, uom::si::power::watt, None, "W", ["watt", "watts"], ""),
    unit!(Power, Power, uom::si::power::kilowatt, None, "kW", [], ""),
    unit!(Power, Power, uom::si::power::watt, None, "VA", [], ""),
    unit!(Power, Power, uom::si::power::kilowatt, None, "kVA", [], ""),

    unit!(PowerPerLength, LinearPowerDensity, exact::linear_power_density::watt_per_foot, US, "W/ft", [], "W/m"),
    unit!(PowerPerLength, LinearPowerDensity, uom::si::linear_power_density::watt_per_meter, SI, "W/m", [], "W/ft"),

    unit!(Irradiance, HeatFluxDensity, uom::si::heat_flux_density::watt_per_square_meter, None, "W/m2", [], ""),

    unit!(Density, MassDensity, exact::mass_density::pound_per_us_gallon, US, "lb/gal", [], "kg/L"),
    unit!(Density, MassDensity, exact::mass_density::pound_per_foot_cubed, US, "lb/ft3", [], "kg/m3"),
    unit!(Density, MassDensity, uom::si::mass_density::kilogram_per_cubic_meter, SI, "kg/m3", [], "lb/ft3"),
    unit!(Density, MassDensity, uom::si::mass_density::gram_per_cubic_centimeter, SI, "kg/L", [], "lb/gal"),

    unit!(SpecificEnergy, AvailableEnergy, exact::available_energy::btu_per_pound, US, "Btu/lb", [], "kJ/kg"),
    unit!(SpecificEnergy, AvailableEnergy, uom::si::available_energy::kilojoule_per_kilogram, SI, "kJ/kg", [], "Btu/lb"),

    unit!(SpecificVolume, SpecificVolume, exact::specific_volume::foot_cubed_per_pound, US, "ft3/lb", [], "m3/kg"),
    unit!(SpecificVolume, SpecificVolume, uom::si::specific_volume::cubic_meter_per_kilogram, SI, "m3/kg", [], "ft3/lb"),

    unit!(ThermalConductivity, ThermalConductivity, exact::thermal_conductivity::btu_inch_per_hour_square_foot_fahrenheit, US, "Btu in/(h ft2 degF)", ["Btu in/h ft2 degF"], "W/(m K)"),
    unit!(ThermalConductivity, ThermalConductivity, exact::thermal_conductivity::btu_per_hour_foot_fahrenheit, US, "Btu/(h ft degF)", ["Btu/h ft degF"], "W/(m K)"),
    unit!(ThermalConductivity, ThermalConductivity, uom::si::thermal_conductivity::watt_per_meter_kelvin, SI, "W/(m K)", ["W/m K", "W/mK"], "Btu in/(h ft2 degF)"),

    unit!(HeatTransfer, HeatTransfer, exact::heat_transfer::btu_per_hour_square_foot_fahrenheit, US, "Btu/(h ft2 degF)", ["Btu/h ft2 degF"], "W/(m2 K)"),
    unit!(HeatTransfer, HeatTransfer, uom::si::heat_transfer::watt_per_square_meter_kelvin, SI, "W/(m2 K)", ["W/m2 K", "W/m2K"], "Btu/(h ft2 degF)"),
];
