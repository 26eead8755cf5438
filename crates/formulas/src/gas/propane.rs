//! What is known of propane as fuel, in one place: heating values, density, flammable range.
//!
//! The trade's table of "approximate properties" has two columns that must not be mixed: 91,502 Btu/gal,
//! 21,548 Btu/lb and 2,488 Btu/ft³ stand in one, 91,547, 21,591 and 2,516 in the other. Even within the
//! first, 4.20 lb/gal × 21,548 Btu/lb is 1.1 % short of 91,502 Btu/gal. So: weighed fuel is counted
//! in pounds at 21,548 Btu/lb, and turned into gallons at 4.24 lb/gal.

use quantity::uom::si::pressure::atmosphere;
use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
use quantity::{
    Density, Energy, Mass, Power, Pressure, Quantity, SpecificEnergy, Temperature, Time, Volume,
    VolumeFlow, exact,
};

use crate::{Confirmed, Source};

/// The table of approximate properties that the heating values come from.
pub(super) const PROPERTIES: Source = Source {
    document: "approximate properties of LP gases, as two fuel suppliers print them",
    section: "propane: 91,502 Btu/gal, 21,548 Btu/lb, 2,488 Btu/ft³; liquid 4.24 lb/gal",
    confirmed: Confirmed::Quoted,
};

/// Gross heat of burning a pound: 21,548 Btu.
pub(super) fn heating_value() -> SpecificEnergy {
    SpecificEnergy::new::<exact::available_energy::btu_per_pound>(21_548.0)
}

/// Density of the liquid that weights and volumes are converted with: 4.24 lb/gal, between the 4.20
/// of older and the 4.2464 that makes the heating values agree.
pub(super) fn liquid_density() -> Density {
    Density::new::<exact::mass_density::pound_per_us_gallon>(4.24)
}

/// Gross heat of burning so much fuel.
pub(super) fn energy(mass: Mass) -> Energy {
    Energy::from_base(mass.base() * heating_value().base())
}

/// Volume of so much liquid fuel.
pub(super) fn liquid_volume(mass: Mass) -> Volume {
    mass / liquid_density()
}

/// How many Btu a cubic foot of propane vapour at 60 °F and one atmosphere is reckoned with.
#[derive(Clone, Copy, Debug)]
pub(super) enum VapourBasis {
    /// 2,488 Btu/ft³: goes with the values by pound and gallon.
    AsWeighed,
    /// 2,516 Btu/ft³: "after vaporisation"; the higher, so the cautious one for a leak.
    AfterVaporisation,
    /// 2,470 Btu/ft³: what the printed pipe-sizing tables are on.
    PipeTables,
}

impl VapourBasis {
    /// Joules a cubic metre.
    fn heat(self) -> f64 {
        let btu = match self {
            Self::AsWeighed => 2_488.0,
            Self::AfterVaporisation => 2_516.0,
            Self::PipeTables => 2_470.0,
        };
        let heat: f64 = Energy::new::<exact::energy::british_thermal_unit>(btu).base();
        heat / 0.028_316_846_592
    }

    /// Heat input that a flow of vapour carries.
    pub(super) fn power(self, flow: VolumeFlow) -> Power {
        Power::from_base(flow.base() * self.heat())
    }

    /// Flow of vapour that carries a heat input.
    pub(super) fn flow(self, power: Power) -> VolumeFlow {
        VolumeFlow::from_base(power.base() / self.heat())
    }
}

/// Standard pressure of fuel gas: 14.696 psi absolute, one atmosphere.
pub(super) fn standard_pressure() -> Pressure {
    Pressure::new::<atmosphere>(1.0)
}

/// Standard temperature of fuel gas: 60 °F (National Fuel Gas Code 6.4.1).
pub(super) fn standard_temperature() -> Temperature {
    Temperature::new::<degree_fahrenheit>(60.0)
}

/// The highest pressure that connected appliance valves may see: 14 inH₂O, which the codes also call
/// ½ psi (0.506 psi). The two are one limit; what lies between them is never held against anyone.
pub(super) fn connected_appliance_limit() -> Pressure {
    Pressure::new::<exact::pressure::inch_of_water>(14.0)
}

/// Whether a pressure is over the limit of connected appliances by more than the spellings differ.
pub(super) fn over_connected_appliance_limit(pressure: Pressure) -> bool {
    // A hundredth of an inch: below what any gauge shows.
    pressure.base() > connected_appliance_limit().base() + 2.5
}

/// Amount of gas, at standard conditions, that left a volume in a time for each pascal a kelvin.
///
/// `q = V/t · Tₛ/pₛ · Δ(p/T)`: the ideal-gas law written for the standard volume.
pub(super) fn standard_flow(volume: Volume, time: Time, fall: f64) -> VolumeFlow {
    let at_standard = standard_temperature().base() / standard_pressure().base();
    VolumeFlow::from_base(volume.base() / time.base() * at_standard * fall)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 4.20 × 21,548 = 90,502, not 91,502; only 4.2464 lb/gal joins the two. What is used here is
    /// within 0.2 % of it.
    #[test]
    fn a_gallon_by_weight_agrees_with_a_gallon_by_volume_only_at_the_density_used() {
        let by_weight = |density: f64| density * 21_548.0;
        assert!((by_weight(4.20) / 91_502.0 - 1.0).abs() > 0.010);
        assert!((by_weight(4.2464) / 91_502.0 - 1.0).abs() < 0.000_1);
        let used = liquid_density().get::<exact::mass_density::pound_per_us_gallon>();
        assert!((by_weight(used) / 91_502.0 - 1.0).abs() < 0.002, "{used}");
    }

    /// The suppliers' tables: 36.38 ft³/gal and 8.66 ft³/lb each come out of one column only.
    #[test]
    fn each_column_of_heating_values_agrees_with_itself_only() {
        assert!((21_548.0_f64 / 2_488.0 - 8.66).abs() < 0.005);
        assert!((91_547.0_f64 / 2_516.0 - 36.38).abs() < 0.01);
        assert!((91_502.0_f64 / 2_488.0 - 36.38).abs() > 0.3);
    }

    /// From the heats of formation of propane's own molecule, computed with chemicals 1.5.2
    /// (`combustion.HHV_stoichiometry`, Hf −104.68 kJ/mol): 2,219,042 J/mol, which are 21,635 Btu/lb and, as an
    /// ideal gas at 60 °F, 2,514 Btu/ft³.
    #[test]
    fn the_heating_values_agree_with_chemistry_within_half_a_percent() {
        let burning: f64 = 2_219_042.0; // J/mol
        let by_mass = burning / (44.095_62e-3 * 2_326.0);
        assert!((by_mass - 21_635.0).abs() < 1.0, "{by_mass} Btu/lb");
        let used = heating_value().get::<exact::available_energy::btu_per_pound>();
        assert!((used / by_mass - 1.0).abs() < 0.005, "{used}");
        let moles = 101_325.0 / (8.314_462_618 * standard_temperature().base()); // mol/m³
        let cubic_foot = burning * moles * 0.028_316_846_592 / 1_055.055_852_62;
        assert!((cubic_foot - 2_514.0).abs() < 1.0, "{cubic_foot} Btu/ft³");
        let leak = VapourBasis::AfterVaporisation
            .power(VolumeFlow::new::<exact::volume_rate::foot_cubed_per_hour>(1.0))
            .get::<exact::power::british_thermal_unit_per_hour>();
        assert!((leak / cubic_foot - 1.0).abs() < 0.001, "{leak}");
    }

    /// 24 CFR 3280.704(a)(2) writes both: half a pound is 13.84 inH₂O, 14 inH₂O is 0.506 psi.
    #[test]
    fn half_a_pound_and_fourteen_inches_are_one_limit() {
        for spelling in ["0.5 psi", "0.506 psi", "14 inH2O", "13.9 inH2O", "14 in wc"] {
            let value = quantity::parse_value(spelling, quantity::Kind::Pressure).unwrap();
            assert!(!over_connected_appliance_limit(value.typed().unwrap()), "{spelling}");
        }
        let value = quantity::parse_value("14.2 inH2O", quantity::Kind::Pressure).unwrap();
        assert!(over_connected_appliance_limit(value.typed().unwrap()));
    }
}
