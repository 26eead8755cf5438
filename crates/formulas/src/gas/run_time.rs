//! How long the gas lasts.

use quantity::{Energy, Kind, Mass, MassFlow, Power, Quantity, Time, VolumeFlow, exact};

use super::propane::{self, VapourBasis};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Contents times their heating value, divided by the load: `t = m · 21,548 Btu/lb / P`.
///
/// # Errors
/// [`Problem::OutOfRange`] without a load.
pub fn run_time(contents: Mass, load: Power) -> Result<Time, Problem> {
    if load.base() <= 0.0 {
        return Err(Problem::out_of_range(
            "nothing is consuming gas, so there is no run time; valid for a load above 0 Btu/h",
        ));
    }
    Ok(propane::energy(contents) / load)
}

/// Mass of propane a load burns each hour.
#[must_use]
pub fn consumption(load: Power) -> MassFlow {
    MassFlow::from_base(load.base() / propane::heating_value().base())
}

/// Liquid propane a load burns each hour, at 91,502 Btu/gal as metered fuel is sold.
#[must_use]
pub fn liquid_consumption(load: Power) -> VolumeFlow {
    let gallon = Energy::new::<exact::energy::british_thermal_unit>(91_502.0).base();
    let burnt: VolumeFlow = VolumeFlow::new::<exact::volume_rate::us_gallon_per_hour>(1.0);
    burnt * (load.base() / (gallon / 3_600.0))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.run_time",
    summary: "How long propane lasts at a steady load.",
    inputs: &[
        Input::quantity("contents", Kind::Mass, "propane in the container")
            .accepting(Accepts::AtLeast("0 lb")),
        Input::quantity(
            "load",
            Kind::Power,
            "heat input of what is running: nameplate inputs times the share of time each is on",
        )
        .accepting(Accepts::AtLeast("0 Btu/h")),
    ],
    result: Gives::quantity("time", "h", "until the container is empty"),
    parts: &[
        Gives::quantity("mass_flow", "lb/h", "propane burnt"),
        Gives::quantity("liquid_flow", "gph", "the same as liquid, at 91,502 Btu/gal"),
        Gives::quantity("vapour_flow", "cfh", "the same as vapour, at 2,488 Btu/ft³"),
    ],
    valid: "a load above zero that the container can vaporise (gas.vaporisation)",
    sources: &[
        propane::PROPERTIES,
        Source {
            document: "definition: heat in the container divided by heat a time",
            section: "",
            confirmed: Confirmed::Derived,
        },
    ],
    example: &[("contents", "20 lb"), ("load", "30000 Btu/h")],
    compute: |inputs| {
        let load = inputs.get("load")?;
        Ok(Outcome::new(run_time(inputs.get("contents")?, load)?)
            .part("mass_flow", consumption(load))
            .part("liquid_flow", liquid_consumption(load))
            .part("vapour_flow", VapourBasis::AsWeighed.flow(load)))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "gas.run_time";

    /// Worked from 21,548 Btu/lb. The last is a furnace of 40,000 Btu/h at 35 %, a refrigerator of 1,500 and
    /// a water heater of 12,000 at 10 %.
    #[test]
    fn gas_lasts_its_heat_over_the_load() {
        for (contents, load, hours) in [
            ("20 lb", "30000 Btu/h", 14.37),
            ("20 lb", "12000 Btu/h", 35.91),
            ("30 lb", "40000 Btu/h", 16.16),
            ("40 lb", "62000 Btu/h", 13.90),
            ("60 lb", "16700 Btu/h", 77.4),
            ("0 lb", "16700 Btu/h", 0.0),
        ] {
            check(NAME, &[("contents", contents), ("load", load)], hours, "h", 0.02);
        }
    }

    /// The same load by the pound, the gallon and the cubic foot, each in its own heating value.
    #[test]
    fn a_load_is_so_much_liquid_and_so_much_vapour() {
        let given = [("contents", "20 lb"), ("load", "30000 Btu/h")];
        check_part(NAME, &given, "mass_flow", 1.392, "lb/h", 0.000_5);
        check_part(NAME, &given, "liquid_flow", 0.328, "gph", 0.000_5);
        check_part(NAME, &given, "vapour_flow", 12.06, "cfh", 0.005);
    }

    #[test]
    fn without_a_load_there_is_no_run_time() {
        let problem = refuses(NAME, &[("contents", "20 lb"), ("load", "0 Btu/h")], "consuming");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        refuses(NAME, &[("contents", "20 lb"), ("load", "-5 W")], "not possible");
    }
}
