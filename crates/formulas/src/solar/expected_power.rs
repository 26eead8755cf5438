//! What a panel should give in the sun it has.

use quantity::uom::si::{
    heat_flux_density::watt_per_square_meter, ratio::ratio,
    thermodynamic_temperature::degree_celsius,
};
use quantity::{Irradiance, Kind, Power, Ratio, Temperature};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Power of a panel.
///
/// `P = P₀·E/1000·[1 + γ(T_c − 25)]·(1 − losses)`, E in W/m², T in °C, γ for each kelvin (PVWatts, NREL).
///
/// # Errors
/// [`Problem::OutOfRange`] above 1500 W/m² or for cells outside −40 °C to 120 °C.
pub fn expected_power(
    rated: Power,
    irradiance: Irradiance,
    cell: Temperature,
    temperature_coefficient: Ratio,
    losses: Ratio,
) -> Result<Power, Problem> {
    let e = irradiance.get::<watt_per_square_meter>();
    let t = cell.get::<degree_celsius>();
    if e > 1_500.0 || !(-40.0..=120.0).contains(&t) {
        return Err(Problem::out_of_range(
            "valid up to 1500 W/m2 and for cells from -40 degC to 120 degC (-40 degF to 248 degF)",
        ));
    }
    let heat = 1.0 + temperature_coefficient.get::<ratio>() * (t - 25.0);
    Ok(rated * (e / 1_000.0 * heat * (1.0 - losses.get::<ratio>())))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.expected_power",
    summary: "Power that a panel should give in the sun it has.",
    inputs: &[
        Input::quantity("rated", Kind::Power, "nameplate power at 1000 W/m2 and 25 degC")
            .accepting(Accepts::Above("0 W")),
        Input::quantity("irradiance", Kind::Irradiance, "on the panel, best measured")
            .accepting(Accepts::AtLeast("0 W/m2")),
        Input::quantity("cell", Kind::Temperature, "temperature of the cells")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "temperature_coefficient",
            Kind::Ratio,
            "of the power, for each kelvin, from the nameplate or sheet: such as -0.35 %",
        )
        .accepting(Accepts::Between("-1 %", "0 %")),
        Input::quantity("losses", Kind::Ratio, "in wires, controller and dirt: 0 % or more")
            .accepting(Accepts::Between("0 %", "100 %")),
    ],
    result: Gives::quantity("power", "W", "expected"),
    parts: &[],
    valid: "up to 1500 W/m2, cells from -40 degC to 120 degC",
    sources: &[Source {
        document: "Dobos, PVWatts Version 5 Manual, NREL/TP-6A20-62641, as pvlib 0.16.1 carries it",
        section: "module model",
        confirmed: Confirmed::Quoted,
    }],
    example: &[
        ("rated", "200 W"),
        ("irradiance", "820 W/m2"),
        ("cell", "48 degC"),
        ("temperature_coefficient", "-0.35 %"),
        ("losses", "0 %"),
    ],
    compute: |inputs| {
        Ok(Outcome::new(expected_power(
            inputs.get("rated")?,
            inputs.get("irradiance")?,
            inputs.get("cell")?,
            inputs.get("temperature_coefficient")?,
            inputs.get("losses")?,
        )?)
        .note(
            "a controller in float, or a full battery, takes less whatever the panel could give: read the \
             short-circuit current, or load the battery first",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "solar.expected_power";

    fn pairs<'a>(
        rated: &'a str,
        irradiance: &'a str,
        cell: &'a str,
        coefficient: &'a str,
        losses: &'a str,
    ) -> [(&'static str, &'a str); 5] {
        [
            ("rated", rated),
            ("irradiance", irradiance),
            ("cell", cell),
            ("temperature_coefficient", coefficient),
            ("losses", losses),
        ]
    }

    /// Computed with pvlib 0.16.1, `pvwatts_dc`.
    #[test]
    fn power_follows_sun_and_heat() {
        for (rated, coefficient, irradiance, cell, watts) in [
            ("200 W", "-0.0035", "800 W/m2", "45 degC", 148.8),
            ("200 W", "-0.35 %", "600 W/m2", "60 degC", 105.3),
            ("200 W", "-0.35 %", "1000 W/m2", "65 degC", 172.0),
            ("400 W", "-0.3 %", "800 W/m2", "45 degC", 300.8),
            ("400 W", "-0.3 %", "600 W/m2", "60 degC", 214.8),
            ("400 W", "-0.3 %", "1000 W/m2", "65 degC", 352.0),
            ("200 W", "-0.35 %", "820 W/m2", "48 degC", 150.798),
        ] {
            check(NAME, &pairs(rated, irradiance, cell, coefficient, "0 %"), watts, "W", 1e-9);
        }
        let lossy = pairs("200 W", "800 W/m2", "45 degC", "-0.35 %", "14 %");
        check(NAME, &lossy, 148.8 * 0.86, "W", 1e-9);
    }

    #[test]
    fn what_no_panel_has_is_refused() {
        for (pairs, words, input) in [
            (pairs("200 W", "800 W/m2", "45 degC", "0.4 %", "0 %"), "-1 % to 0 %", true),
            (pairs("200 W", "800 W/m2", "45 degC", "-0.4 %", "110 %"), "0 % to 100 %", true),
            (pairs("200 W", "800 W/m2", "150 degC", "-0.4 %", "0 %"), "for cells from", false),
        ] {
            let problem = refuses(NAME, &pairs, words);
            assert_eq!(matches!(problem, Problem::Input { .. }), input);
        }
    }
}
