//! Units that `uom` lacks or rounds to seven digits, with their exact factors.
//!
//! The pound, inch and gallon are exact by definition (NIST SP 811, appendix B.8): with rounded
//! factors, a table that is rounded up to whole hundreds of pounds would step at the wrong place.

/// Exact pounds and ounces of mass.
pub mod mass {
    unit! {
        system: uom::si;
        quantity: uom::si::mass;
        @avoirdupois_pound: 0.453_592_37; "lb", "pound", "pounds";
        @avoirdupois_ounce: 0.028_349_523_125; "oz", "ounce", "ounces";
    }
}

/// The exact pound-force.
pub mod force {
    unit! {
        system: uom::si;
        quantity: uom::si::force;
        @standard_pound_force: 4.448_221_615_260_5; "lbf", "pound-force", "pounds-force";
    }
}

/// Exact pound-force pressures, and the three inches of water, each named apart.
pub mod pressure {
    unit! {
        system: uom::si;
        quantity: uom::si::pressure;
        @pound_per_square_inch: 4.448_221_615_260_5 / 6.451_6E-4; "psi", "pound-force per square inch", "pounds-force per square inch";
        @kip_per_square_inch: 4_448.221_615_260_5 / 6.451_6E-4; "ksi", "kip per square inch", "kips per square inch";
        @pound_per_square_foot: 4.448_221_615_260_5 / 0.092_903_04; "psf", "pound-force per square foot", "pounds-force per square foot";
        @inch_of_water: 249.089; "inH2O", "inch of water at 4 °C", "inches of water at 4 °C";
        @inch_of_water_39f: 249.082; "inH2O_39F", "inch of water at 39.2 °F", "inches of water at 39.2 °F";
        @inch_of_water_60f: 248.84; "inH2O_60F", "inch of water at 60 °F", "inches of water at 60 °F";
        @inch_of_mercury: 3_386.389; "inHg", "inch of mercury at 0 °C", "inches of mercury at 0 °C";
    }
}

/// Exact customary volumes.
pub mod volume {
    unit! {
        system: uom::si;
        quantity: uom::si::volume;
        @us_gallon: 3.785_411_784E-3; "gal", "gallon", "gallons";
        @us_fluid_ounce: 2.957_352_956_25E-5; "floz", "fluid ounce", "fluid ounces";
        @us_cup: 2.365_882_365E-4; "cup", "cup", "cups";
        @foot_cubed: 0.028_316_846_592; "ft³", "cubic foot", "cubic feet";
        @inch_cubed: 1.638_706_4E-5; "in³", "cubic inch", "cubic inches";
    }
}

/// Exact customary flows.
pub mod volume_rate {
    unit! {
        system: uom::si;
        quantity: uom::si::volume_rate;
        @us_gallon_per_minute: 3.785_411_784E-3 / 60.0; "gpm", "gallon per minute", "gallons per minute";
        @us_gallon_per_hour: 3.785_411_784E-3 / 3_600.0; "gph", "gallon per hour", "gallons per hour";
        @us_gallon_per_day: 3.785_411_784E-3 / 86_400.0; "gal/d", "gallon per day", "gallons per day";
        @litre_per_hour: 1.0E-3 / 3_600.0; "L/h", "litre per hour", "litres per hour";
        @foot_cubed_per_second: 0.028_316_846_592; "cfs", "cubic foot per second", "cubic feet per second";
        @foot_cubed_per_minute: 0.028_316_846_592 / 60.0; "cfm", "cubic foot per minute", "cubic feet per minute";
        @foot_cubed_per_hour: 0.028_316_846_592 / 3_600.0; "cfh", "cubic foot per hour", "cubic feet per hour";
        @centimetre_cubed_per_minute: 1.0E-6 / 60.0; "cc/min", "cubic centimetre per minute", "cubic centimetres per minute";
    }
}

/// The International Table British thermal unit.
pub mod energy {
    unit! {
        system: uom::si;
        quantity: uom::si::energy;
        @british_thermal_unit: 1_055.055_852_62; "Btu", "British thermal unit (IT)", "British thermal units (IT)";
    }
}

/// Power in Btu per hour, which `uom` lacks.
pub mod power {
    unit! {
        system: uom::si;
        quantity: uom::si::power;
        @british_thermal_unit_per_hour: 1_055.055_852_62 / 3_600.0; "Btu/h", "British thermal unit per hour", "British thermal units per hour";
    }
}

/// Customary heat conduction.
pub mod thermal_conductivity {
    unit! {
        system: uom::si;
        quantity: uom::si::thermal_conductivity;
        @btu_inch_per_hour_square_foot_fahrenheit: 1_055.055_852_62 * 0.0254 / 3_600.0 / 0.092_903_04 * 1.8; "Btu in/(h ft2 degF)", "Btu inch per hour square foot degree Fahrenheit", "Btu inches per hour square foot degree Fahrenheit";
        @btu_per_hour_foot_fahrenheit: 1_055.055_852_62 / 3_600.0 / 0.304_8 * 1.8; "Btu/(h ft degF)", "Btu per hour foot degree Fahrenheit", "Btu per hour foot degree Fahrenheit";
    }
}

/// Customary heat transfer.
pub mod heat_transfer {
    unit! {
        system: uom::si;
        quantity: uom::si::heat_transfer;
        @btu_per_hour_square_foot_fahrenheit: 1_055.055_852_62 / 3_600.0 / 0.092_903_04 * 1.8; "Btu/(h ft2 degF)", "Btu per hour square foot degree Fahrenheit", "Btu per hour square foot degree Fahrenheit";
    }
}

/// Watts per foot.
pub mod linear_power_density {
    unit! {
        system: uom::si;
        quantity: uom::si::linear_power_density;
        @watt_per_foot: 1.0 / 0.304_8; "W/ft", "watt per foot", "watts per foot";
    }
}

/// Customary densities.
pub mod mass_density {
    unit! {
        system: uom::si;
        quantity: uom::si::mass_density;
        @pound_per_us_gallon: 0.453_592_37 / 3.785_411_784E-3; "lb/gal", "pound per gallon", "pounds per gallon";
        @pound_per_foot_cubed: 0.453_592_37 / 0.028_316_846_592; "lb/ft3", "pound per cubic foot", "pounds per cubic foot";
    }
}

/// Customary mass flow.
pub mod mass_rate {
    unit! {
        system: uom::si;
        quantity: uom::si::mass_rate;
        @avoirdupois_pound_per_hour: 0.453_592_37 / 3_600.0; "lb/h", "pound per hour", "pounds per hour";
    }
}

/// Customary specific energy.
pub mod available_energy {
    unit! {
        system: uom::si;
        quantity: uom::si::available_energy;
        @btu_per_pound: 2_326.0; "Btu/lb", "Btu per pound", "Btu per pound";
    }
}

/// Customary specific volume.
pub mod specific_volume {
    unit! {
        system: uom::si;
        quantity: uom::si::specific_volume;
        @foot_cubed_per_pound: 0.028_316_846_592 / 0.453_592_37; "ft3/lb", "cubic foot per pound", "cubic feet per pound";
    }
}

/// Slopes and shares that trades write in their own way.
pub mod ratio {
    unit! {
        system: uom::si;
        quantity: uom::si::ratio;
        @inch_per_foot: 1.0 / 12.0; "in/ft", "inch per foot", "inches per foot";
        @gram_per_kilogram: 1.0E-3; "g/kg", "gram per kilogram", "grams per kilogram";
        @grain_per_pound: 1.0 / 7_000.0; "gr/lb", "grain per pound", "grains per pound";
    }
}

/// The exact foot-pound of torque.
pub mod torque {
    unit! {
        system: uom::si;
        quantity: uom::si::torque;
        @pound_force_foot_of_torque: 4.448_221_615_260_5 * 0.304_8; "lbf ft", "pound-force foot", "pound-force feet";
        @pound_force_inch_of_torque: 4.448_221_615_260_5 * 0.025_4; "lbf in", "pound-force inch", "pound-force inches";
    }
}

#[cfg(test)]
mod checks {
    /// `uom` has miles per hour exactly: 1609.344 m in 3600 s.
    #[test]
    fn a_mile_an_hour_is_exact() {
        let speed = uom::si::f64::Velocity::new::<uom::si::velocity::mile_per_hour>(3_600.0);
        assert!((speed.value - 1_609.344).abs() < 1e-9, "{}", speed.value);
    }

    /// A gallon is 231 cubic inches, and a cubic foot 1,728 of them (NIST SP 811, appendix B.8); `uom` rounds
    /// both to seven digits.
    #[test]
    fn gallons_cubic_feet_and_cubic_inches_agree() {
        use super::volume::{foot_cubed, inch_cubed, us_gallon};
        use uom::si::f64::Volume;
        let gallon = Volume::new::<us_gallon>(1.0).get::<inch_cubed>();
        let foot = Volume::new::<foot_cubed>(1.0).get::<inch_cubed>();
        assert!((gallon - 231.0).abs() < 1e-9 && (foot - 1_728.0).abs() < 1e-9);
    }
}
