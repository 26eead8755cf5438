//! What a panel should give into a short circuit in the sun it has.

use quantity::uom::si::{
    heat_flux_density::watt_per_square_meter, ratio::ratio,
    thermodynamic_temperature::degree_celsius,
};
use quantity::{Current, Irradiance, Kind, Ratio, Temperature};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Short-circuit current of a panel.
///
/// `I = I₀·E/1000·[1 + α(T_c − 25)]`, E in W/m², T in °C, α for each kelvin.
///
/// # Errors
/// [`Problem::OutOfRange`] above 1500 W/m² or for cells outside −40 °C to 120 °C.
pub fn short_circuit(
    rated: Current,
    irradiance: Irradiance,
    cell: Temperature,
    coefficient: Ratio,
) -> Result<Current, Problem> {
    let e = irradiance.get::<watt_per_square_meter>();
    let t = cell.get::<degree_celsius>();
    if e > 1_500.0 || !(-40.0..=120.0).contains(&t) {
        return Err(Problem::out_of_range(
            "valid up to 1500 W/m2 and for cells from -40 degC to 120 degC (-40 degF to 248 degF)",
        ));
    }
    Ok(rated * (e / 1_000.0 * (1.0 + coefficient.get::<ratio>() * (t - 25.0))))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "solar.short_circuit",
    summary: "Short-circuit current that a panel should give in the sun it has.",
    inputs: &[
        Input::quantity("rated", Kind::Current, "nameplate short-circuit current")
            .accepting(Accepts::Above("0 A")),
        Input::quantity("irradiance", Kind::Irradiance, "on the panel, best measured")
            .accepting(Accepts::AtLeast("0 W/m2")),
        Input::quantity("cell", Kind::Temperature, "temperature of the cells")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "temperature_coefficient",
            Kind::Ratio,
            "of the current, for each kelvin, from the nameplate or sheet: such as 0.05 %",
        )
        .accepting(Accepts::Between("0 %", "1 %")),
    ],
    result: Gives::quantity("current", "A", "expected"),
    parts: &[],
    valid: "up to 1500 W/m2, cells from -40 degC to 120 degC",
    sources: &[Source {
        document: "panel makers' sheets",
        section: "short-circuit current in proportion to the irradiance, with its temperature coefficient",
        confirmed: Confirmed::CommonPractice,
    }],
    example: &[
        ("rated", "9.5 A"),
        ("irradiance", "800 W/m2"),
        ("cell", "45 degC"),
        ("temperature_coefficient", "0.05 %"),
    ],
    compute: |inputs| {
        Ok(Outcome::new(short_circuit(
            inputs.get("rated")?,
            inputs.get("irradiance")?,
            inputs.get("cell")?,
            inputs.get("temperature_coefficient")?,
        )?)
        .note(
            "only on a panel of one's own wiring that is disconnected from everything, with a meter rated for \
             its current; never open a plug under load: direct current burns on",
        ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "solar.short_circuit";

    fn pairs<'a>(
        rated: &'a str,
        irradiance: &'a str,
        cell: &'a str,
        coefficient: &'a str,
    ) -> [(&'static str, &'a str); 4] {
        [
            ("rated", rated),
            ("irradiance", irradiance),
            ("cell", cell),
            ("temperature_coefficient", coefficient),
        ]
    }

    /// Worked out from the form.
    #[test]
    fn current_follows_the_sun_and_a_little_the_heat() {
        for (rated, irradiance, cell, coefficient, amperes) in [
            ("9.5 A", "800 W/m2", "45 degC", "0.05 %", 7.676),
            ("9.5 A", "620 W/m2", "50.2 degC", "0.05 %", 5.964_21),
            ("5.7 A", "300 W/m2", "20 degC", "0.065 %", 1.704_44),
        ] {
            check(NAME, &pairs(rated, irradiance, cell, coefficient), amperes, "A", 5.1e-6);
        }
    }

    #[test]
    fn a_coefficient_below_zero_is_that_of_the_power() {
        let power = pairs("9.5 A", "800 W/m2", "45 degC", "-0.35 %");
        assert!(matches!(refuses(NAME, &power, "0 % to 1 %"), Problem::Input { .. }));
        let hot = pairs("9.5 A", "800 W/m2", "130 degC", "0.05 %");
        assert!(matches!(refuses(NAME, &hot, "for cells from"), Problem::OutOfRange { .. }));
    }
}
