//! Vapour pressure of propane over its liquid.

use quantity::uom::si::thermodynamic_temperature::kelvin;
use quantity::{Kind, Pressure, Quantity, Temperature};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Output, Problem, Source};

const CRITICAL_TEMPERATURE: f64 = 369.89; // K
const CRITICAL_PRESSURE: f64 = 4_251_200.0; // Pa
const STANDARD_ATMOSPHERE: f64 = 101_325.0; // Pa

/// Absolute pressure of saturated pure propane.
///
/// `ln(p/pc) = (Tc/T)·(N₁θ + N₂θ^1.5 + N₃θ^2.2 + N₄θ^4.8 + N₅θ^6.2)`, θ = 1 − T/Tc. Lemmon,
/// McLinden and Wagner, J. Chem. Eng. Data 54 (2009) 3141, ancillary equation for the vapour
/// pressure; the coefficients were confirmed numerically against CoolProp's equation of state.
///
/// # Errors
/// [`Problem::OutOfRange`] outside −44 °F to 140 °F: below, there is no pressure above the
/// atmosphere's to run an appliance; above, relief valves begin to open.
pub fn saturation_pressure(temperature: Temperature) -> Result<Pressure, Problem> {
    let kelvins = temperature.get::<kelvin>();
    // −44 °F and 140 °F, with room for rounding in the conversion.
    if !(230.927..=333.151).contains(&kelvins) {
        return Err(Problem::out_of_range(
            "valid for liquid propane from -44 degF to 140 degF; below, it gives no pressure above \
             the atmosphere's, and above, relief valves begin to open",
        ));
    }
    let theta = 1.0 - kelvins / CRITICAL_TEMPERATURE;
    let sum = -6.7722 * theta + 1.6938 * libm::pow(theta, 1.5)
        - 1.3341 * libm::pow(theta, 2.2)
        - 3.1876 * libm::pow(theta, 4.8)
        + 0.94937 * libm::pow(theta, 6.2);
    Ok(Pressure::from_base(CRITICAL_PRESSURE * libm::exp(CRITICAL_TEMPERATURE / kelvins * sum)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.saturation_pressure",
    summary: "Pressure of propane vapour over its liquid, above a standard atmosphere.",
    inputs: &[Input::quantity("temperature", Kind::Temperature, "temperature of the liquid")
        .accepting(Accepts::AtLeast("0 K"))],
    result: Gives::quantity("pressure", "psi", "above a standard atmosphere of 14.696 psi"),
    parts: &[Gives::quantity("absolute", "psi", "absolute pressure")],
    valid: "liquid propane from -44 degF to 140 degF",
    sources: &[Source {
        document: "Lemmon, McLinden, Wagner, J. Chem. Eng. Data 54 (2009) 3141",
        section: "ancillary equation for the vapour pressure",
        confirmed: Confirmed::FromMemory,
    }],
    example: &[("temperature", "70 degF")],
    compute: |inputs| {
        let absolute = saturation_pressure(inputs.get("temperature")?)?;
        let gauge = Pressure::from_base(absolute.base() - STANDARD_ATMOSPHERE);
        Ok(Outcome::new(gauge)
            .part("absolute", Output::from(absolute))
            .note("pure propane; commercial propane with more ethane reads up to 15 % higher")
            .note("pressure follows the temperature, not the contents: it does not tell how full a container is"))
    },
};

#[cfg(test)]
mod tests {
    use super::saturation_pressure;
    use crate::tests::{check, check_part, refuses};
    use quantity::Temperature;
    use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;

    const SATURATION: &str =
        include_str!("../../../../reference/propane_saturation/saturation.csv");

    /// Computed with CoolProp 8.0.0 (equation of state of Lemmon et al. 2009).
    #[test]
    fn pressure_agrees_with_the_equation_of_state() {
        for (fahrenheit, psia) in [
            (-40, 16.117),
            (0, 38.389),
            (30, 66.509),
            (70, 124.908),
            (100, 188.616),
            (140, 307.009),
        ] {
            let temperature = format!("{fahrenheit} degF");
            check_part(
                "gas.saturation_pressure",
                &[("temperature", &temperature)],
                "absolute",
                psia,
                "psi",
                psia * 3e-4,
            );
        }
    }

    /// 200 temperatures computed with CoolProp 8.0.0.
    #[test]
    fn two_hundred_pressures_agree_within_a_twentieth_of_a_percent() {
        let mut count = 0;
        for row in crate::table::Table::read(SATURATION).rows() {
            let fahrenheit = row.number("fahrenheit");
            let temperature = Temperature::new::<degree_fahrenheit>(fahrenheit);
            let ratio = saturation_pressure(temperature).unwrap().value / row.number("pascal");
            assert!((ratio - 1.0).abs() < 5e-4, "{fahrenheit} °F: {ratio}");
            count += 1;
        }
        assert_eq!(count, 200);
    }

    /// The short Antoine equation of the handbooks (log₁₀ p = A − B/(T + C)) ends at 247.8 K, −13 °F; at
    /// 130 °F it is 3 % off. At 130 °F CoolProp 8.0.0 gives 258.68 psi above the atmosphere.
    #[test]
    fn warm_cylinders_are_not_computed_with_an_equation_for_cold_ones() {
        let kelvin = (130.0 + 459.67) / 1.8;
        let antoine = libm::pow(10.0, 8.928_28 - 803.997 / (kelvin - 26.11)) / 6_894.757;
        assert!((antoine / 273.377 - 1.0).abs() > 0.02, "{antoine} psi");
        let warm = [("temperature", "130 degF")];
        check("gas.saturation_pressure", &warm, 258.68, "psi", 0.1);
    }

    #[test]
    fn outside_the_range_there_is_no_number() {
        refuses(
            "gas.saturation_pressure",
            &[("temperature", "-60 degF")],
            "valid for liquid propane",
        );
        refuses(
            "gas.saturation_pressure",
            &[("temperature", "150 degF")],
            "valid for liquid propane",
        );
    }
}
