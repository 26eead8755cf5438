//! How much propane a cylinder may legally hold.

use quantity::{Kind, Mass};

use super::propane;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Source};

/// Filling density of propane (specific gravity 0.504 to 0.510) above ground, up to 1,200 gal.
pub(super) const FILLING_DENSITY: f64 = 0.42;

/// Where the filling density comes from.
pub(super) const FILLING_TABLE: Source = Source {
    document: "29 CFR 1910.110(b)(12); Washington Administrative Code 296-307-41037",
    section: "filling densities, Table U-4: specific gravity 0.504 to 0.510, 42 %",
    confirmed: Confirmed::Read,
};

/// Largest mass of propane in a cylinder: 42 % of its water capacity by weight.
///
/// `m = 0.42 · WC`, WC the stamped water capacity at 60 °F. The limit is one of weight: the share of the
/// volume that the liquid then takes depends on its temperature (82 % at 60 °F).
#[must_use]
pub fn cylinder_capacity(water_capacity: Mass) -> Mass {
    FILLING_DENSITY * water_capacity
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.cylinder_capacity",
    summary: "Most propane that a cylinder may hold, by weight.",
    inputs: &[Input::quantity("water_capacity", Kind::Mass, "water capacity stamped WC")
        .accepting(Accepts::Above("0 lb"))],
    result: Gives::quantity("capacity", "lb", "42 % of the water capacity"),
    parts: &[Gives::quantity("volume", "gal", "as liquid, at 4.24 lb/gal")],
    valid: "propane above ground, containers up to 1,200 gal",
    sources: &[FILLING_TABLE, propane::PROPERTIES],
    example: &[("water_capacity", "47.6 lb")],
    compute: |inputs| {
        let capacity = cylinder_capacity(inputs.get("water_capacity")?);
        Ok(Outcome::new(capacity).part("volume", propane::liquid_volume(capacity)).note(
            "the limit is by weight; 80 % by volume is what it comes to at 40 degF, and a cylinder filled \
             to 80 % on a colder day is overfilled",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::tests::{check, check_part, refuses};

    /// 42 % of stamped water capacities (49 CFR 173.304a; 24 CFR 3280.704 for 105 lb), worked by hand.
    #[test]
    fn capacity_is_forty_two_percent_of_the_water_capacity() {
        for (water, pounds, gallons) in [
            ("47.6 lb", 19.99, 4.72),
            ("71.4 lb", 29.99, 7.07),
            ("95.2 lb", 39.98, 9.43),
            ("105 lb", 44.10, 10.40),
            ("238 lb", 99.96, 23.58),
            ("240 lb", 100.8, 23.77),
        ] {
            let given = [("water_capacity", water)];
            check("gas.cylinder_capacity", &given, pounds, "lb", 0.006);
            check_part("gas.cylinder_capacity", &given, "volume", gallons, "gal", 0.006);
        }
    }

    /// 29 CFR 1910.110(b)(19)(v)(d) works out a container of 100 gal of water (833 lb at 8.33 lb/gal): 79.8 gal at
    /// 4.37 lb/gal, which is 348.7 lb.
    #[test]
    fn the_worked_example_of_the_rule_is_reproduced() {
        check("gas.cylinder_capacity", &[("water_capacity", "833 lb")], 348.7, "lb", 1.5);
    }

    #[test]
    fn a_cylinder_without_capacity_is_refused() {
        refuses("gas.cylinder_capacity", &[("water_capacity", "0 lb")], "more than 0 lb");
    }
}
