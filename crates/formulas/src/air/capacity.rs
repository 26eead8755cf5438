//! What a cooling coil takes out of the air.

use quantity::uom::si::length::meter;
use quantity::{Kind, Length, MassFlow, Power, Quantity, Ratio, VolumeFlow};

use super::moist_air::{self, MoistAir};
use super::state::{air_of, one_humidity};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Inputs, Outcome, Problem, Source};

/// Btu/lb, exactly, in J/kg.
const BTU_A_POUND: f64 = 2_326.0;

/// Cooling capacity and its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Capacity {
    /// Dry air that passes.
    mass_flow: MassFlow,
    total: Power,
    sensible: Power,
}

/// Capacity from the air before and behind a coil.
///
/// `ṁ = q/v₁`, `total = ṁ·(h₁ − h₂)`, `sensible = ṁ·(0.240 + 0.444·W₂)·(t₁ − t₂)` in Btu, lb and °F: ASHRAE
/// Fundamentals (2017), chapter 1, with the volume of the air that enters.
fn capacity(flow: VolumeFlow, before: MoistAir, behind: MoistAir) -> Capacity {
    let mass_flow = flow.base() / before.volume();
    let enthalpy = before.customary_enthalpy() - behind.customary_enthalpy();
    let fall = (before.dry_bulb - behind.dry_bulb) * 1.8;
    let sensible = (0.24 + 0.444 * behind.humidity_ratio) * fall;
    Capacity {
        mass_flow: MassFlow::from_base(mass_flow),
        total: Power::from_base(mass_flow * enthalpy * BTU_A_POUND),
        sensible: Power::from_base(mass_flow * sensible * BTU_A_POUND),
    }
}

fn states(inputs: &Inputs<'_>) -> Result<(MoistAir, MoistAir), Problem> {
    let altitude = inputs.optional("altitude")?.unwrap_or(Length::from_base(0.0));
    let pressure = moist_air::standard_pressure(altitude.get::<meter>())?;
    let before = ["return_wet_bulb", "return_relative_humidity", "return_dew_point"];
    let behind = ["supply_wet_bulb", "supply_relative_humidity", "supply_dew_point"];
    let state = |dry_bulb: &str, names| {
        air_of(inputs.get(dry_bulb)?, one_humidity(inputs, names)?, pressure, names)
    };
    Ok((state("return_dry_bulb", before)?, state("supply_dry_bulb", behind)?))
}

const fn temperature(name: &'static str, about: &'static str) -> Input {
    Input::quantity(name, Kind::Temperature, about).accepting(Accepts::AtLeast("0 K"))
}

const fn humidity(name: &'static str, about: &'static str) -> Input {
    Input::quantity(name, Kind::Ratio, about).accepting(Accepts::Between("0 %", "100 %")).optional()
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.capacity",
    summary: "Cooling capacity from the air before and behind the coil.",
    inputs: &[
        Input::quantity("flow", Kind::VolumeFlow, "of the air that returns")
            .accepting(Accepts::Above("0 cfm")),
        temperature("return_dry_bulb", "of the air at the return grille"),
        temperature("return_wet_bulb", "one of three").optional(),
        humidity("return_relative_humidity", "one of three"),
        temperature("return_dew_point", "one of three").optional(),
        temperature("supply_dry_bulb", "of the air at the nearest outlet"),
        temperature("supply_wet_bulb", "one of three").optional(),
        humidity("supply_relative_humidity", "one of three"),
        temperature("supply_dew_point", "one of three").optional(),
        Input::quantity("altitude", Kind::Length, "above sea level; 0 ft if left out").optional(),
    ],
    result: Gives::quantity("total", "Btu/h", "sensible and latent together"),
    parts: &[
        Gives::quantity("total", "Btu/h", "the same as the result"),
        Gives::quantity("sensible", "Btu/h", "by the fall of temperature"),
        Gives::quantity("latent", "Btu/h", "by the water taken out"),
        Gives::quantity("sensible_ratio", "ratio", "sensible by total"),
        Gives::quantity("mass_flow", "lb/h", "of dry air"),
    ],
    valid: "air that is cooled; temperatures and altitudes as for air.state",
    sources: &[
        moist_air::CHAPTER,
        Source {
            document: "ASHRAE Handbook—Fundamentals (2017), chapter 1",
            section: "customary enthalpy 0.240·t + W·(1061 + 0.444·t)",
            confirmed: Confirmed::Quoted,
        },
    ],
    example: &[
        ("flow", "350 cfm"),
        ("return_dry_bulb", "80 degF"),
        ("return_wet_bulb", "67 degF"),
        ("supply_dry_bulb", "60 degF"),
        ("supply_wet_bulb", "58 degF"),
    ],
    compute: |inputs| {
        let (before, behind) = states(inputs)?;
        let found = capacity(inputs.get("flow")?, before, behind);
        if found.total.base() <= 0.0 {
            return Err(Problem::out_of_range(
                "the air behind the coil holds more heat than before it: nothing is cooled, or the two are \
                 exchanged; air.rise is for heating",
            ));
        }
        let ratio: Ratio = found.sensible / found.total;
        Ok(Outcome::new(found.total)
            .part("total", found.total)
            .part("sensible", found.sensible)
            .part("latent", found.total - found.sensible)
            .part("sensible_ratio", ratio)
            .part("mass_flow", found.mass_flow)
            .note(
                "after 15 minutes of steady running, thermometers in the moving air, out of sight of the \
                 coil; readings at grilles include what the ducts gain",
            )
            .note(
                "the fall of temperature alone says nothing without the humidity: it shrinks from about \
                 25 degF to 16 degF as the return air gets damper",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "air.capacity";

    fn pairs<'a>(
        flow: &'a str,
        states: [&'a str; 4],
        altitude: &'a str,
    ) -> Vec<(&'static str, &'a str)> {
        vec![
            ("flow", flow),
            ("return_dry_bulb", states[0]),
            ("return_wet_bulb", states[1]),
            ("supply_dry_bulb", states[2]),
            ("supply_wet_bulb", states[3]),
            ("altitude", altitude),
        ]
    }

    /// Computed with PsychroLib 2.5.0 in its customary form, whose wet-bulb constants differ in the fourth
    /// digit: 0.3 %.
    #[test]
    fn capacities_agree_with_the_library() {
        for (flow, states, altitude, total, sensible, ratio) in [
            (
                "350 cfm",
                ["80 degF", "67 degF", "60 degF", "58 degF"],
                "0 ft",
                9_677.7,
                7_410.3,
                0.765_7,
            ),
            (
                "400 cfm",
                ["75 degF", "62 degF", "56 degF", "54 degF"],
                "0 ft",
                9_033.4,
                8_129.5,
                0.899_9,
            ),
            (
                "350 cfm",
                ["80 degF", "67 degF", "60 degF", "58 degF"],
                "5280 ft",
                9_133.9,
                6_096.4,
                0.667_4,
            ),
        ] {
            let pairs = pairs(flow, states, altitude);
            check(NAME, &pairs, total, "Btu/h", total * 3e-3);
            check_part(NAME, &pairs, "sensible", sensible, "Btu/h", sensible * 1e-3);
            check_part(NAME, &pairs, "latent", total - sensible, "Btu/h", total * 3e-3);
            check_part(NAME, &pairs, "sensible_ratio", ratio, "ratio", 3e-3);
        }
    }

    /// The shortcuts 1.08·cfm·Δt and 4.5·cfm·Δh read 24 % and 27 % high at 5280 ft.
    #[test]
    fn standard_air_shortcuts_read_high_in_the_mountains() {
        let pairs = pairs("350 cfm", ["80 degF", "67 degF", "60 degF", "58 degF"], "5280 ft");
        check_part(NAME, &pairs, "sensible", 7_560.0 / 1.24, "Btu/h", 15.0);
    }

    #[test]
    fn heated_air_is_no_cooling_and_one_humidity_is_taken() {
        let warm = pairs("350 cfm", ["60 degF", "58 degF", "80 degF", "67 degF"], "0 ft");
        assert!(matches!(refuses(NAME, &warm, "nothing is cooled"), Problem::OutOfRange { .. }));
        let mut both = pairs("350 cfm", ["80 degF", "67 degF", "60 degF", "58 degF"], "0 ft");
        both.push(("supply_relative_humidity", "90 %"));
        assert!(matches!(refuses(NAME, &both, "exactly one"), Problem::Input { .. }));
        let wet = pairs("350 cfm", ["80 degF", "67 degF", "60 degF", "61 degF"], "0 ft");
        let problem = refuses(NAME, &wet, "supply_wet_bulb: is above the dry bulb");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
