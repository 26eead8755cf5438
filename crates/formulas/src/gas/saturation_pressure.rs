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
    use crate::table::Table;
    use crate::tests::{check, check_part, refuses};
    use quantity::Temperature;
    use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;

    const NAME: &str = "gas.saturation_pressure";
    static SATURATION: Table =
        Table::of(include_str!("../../../../reference/propane_saturation/saturation.csv"));

    /// Computed with CoolProp 8.0.0 (equation of state of Lemmon et al. 2009): °F, psi absolute, psi over a
    /// standard atmosphere, kPa absolute.
    #[test]
    fn pressure_agrees_with_the_equation_of_state() {
        for (fahrenheit, psia, psi, kilopascals) in [
            (-44, 14.626, -0.07, 100.84),
            (-40, 16.117, 1.42, 111.12),
            (-30, 20.363, 5.67, 140.40),
            (-20, 25.424, 10.73, 175.29),
            (-10, 31.399, 16.70, 216.49),
            (0, 38.389, 23.69, 264.68),
            (10, 46.498, 31.80, 320.59),
            (20, 55.834, 41.14, 384.96),
            (30, 66.509, 51.81, 458.56),
            (40, 78.636, 63.94, 542.17),
            (50, 92.331, 77.64, 636.60),
            (60, 107.715, 93.02, 742.67),
            (70, 124.908, 110.21, 861.21),
            (80, 144.036, 129.34, 993.09),
            (90, 165.228, 150.53, 1_139.21),
            (100, 188.616, 173.92, 1_300.46),
            (110, 214.340, 199.64, 1_477.82),
            (120, 242.542, 227.85, 1_672.27),
            (130, 273.377, 258.68, 1_884.87),
            (140, 307.009, 292.31, 2_116.75),
        ] {
            let temperature = format!("{fahrenheit} degF");
            let given = [("temperature", temperature.as_str())];
            check_part(NAME, &given, "absolute", psia, "psi", psia * 2e-4);
            check_part(NAME, &given, "absolute", kilopascals, "kPa", kilopascals * 2e-4);
            check(NAME, &given, psi, "psi", psia * 2e-4 + 0.006);
        }
    }

    /// CoolProp 8.0.0: propane boils at −43.805 °F under one atmosphere; the trade says −44 °F.
    #[test]
    fn at_its_boiling_point_propane_presses_with_one_atmosphere() {
        check(NAME, &[("temperature", "-43.805 degF")], 0.0, "psi", 0.003);
        check(NAME, &[("temperature", "-44 degF")], 0.0, "psi", 0.08);
    }

    /// 200 temperatures computed with CoolProp 8.0.0; a twentieth of a percent is what is promised, and
    /// the equation keeps to a hundredth.
    #[test]
    fn two_hundred_pressures_agree_within_a_twentieth_of_a_percent() {
        let mut count = 0;
        for row in SATURATION.rows() {
            let fahrenheit = row.number("fahrenheit");
            let temperature = Temperature::new::<degree_fahrenheit>(fahrenheit);
            let ratio = saturation_pressure(temperature).unwrap().value / row.number("pascal");
            assert!((ratio - 1.0).abs() < 1e-4, "{fahrenheit} °F: {ratio}");
            count += 1;
        }
        assert_eq!(count, 200);
    }

    /// The same 200 temperatures by Wagner's equation with the constants of Poling, Prausnitz and O’Connell (5th
    /// ed.), computed with chemicals 1.5.2 (`vapor_pressure.Wagner`): another road to the same pressures.
    #[test]
    fn wagners_equation_agrees_within_a_tenth_of_a_percent() {
        let mut count = 0;
        for row in SATURATION.rows() {
            let temperature = Temperature::new::<degree_fahrenheit>(row.number("fahrenheit"));
            let ratio = saturation_pressure(temperature).unwrap().value / row.number("wagner");
            assert!((ratio - 1.0).abs() < 1e-3, "{} °F: {ratio}", row.text("fahrenheit"));
            count += 1;
        }
        assert_eq!(count, 200);
    }

    /// A gas vendor's chart of "100 % propane", psi over the atmosphere: within −1.3 and +4.5 psi of pure propane.
    /// A widely copied set for commercial propane, with more ethane, lies 11 to 15 % higher.
    #[test]
    fn published_charts_lie_at_pure_propane_or_up_to_fifteen_percent_above_it() {
        let pure = |fahrenheit: f64| {
            let temperature = Temperature::new::<degree_fahrenheit>(fahrenheit);
            (saturation_pressure(temperature).unwrap().value - super::STANDARD_ATMOSPHERE)
                / 6_894.757
        };
        let vendor = [
            6.8, 11.5, 17.5, 24.5, 34.0, 42.0, 53.0, 65.0, 78.0, 93.0, 110.0, 128.0, 150.0, 177.0,
            204.0,
        ];
        for (step, psi) in vendor.into_iter().enumerate() {
            let fahrenheit = -30.0 + 10.0 * f64::from(u8::try_from(step).unwrap());
            let above = psi - pure(fahrenheit);
            assert!((-1.4..=4.5).contains(&above), "{fahrenheit} °F: {above} psi");
        }
        for (fahrenheit, psi) in [(70.0, 127.0), (100.0, 196.0), (105.0, 210.0), (130.0, 287.0)] {
            let ratio = psi / pure(fahrenheit);
            assert!((1.10..=1.155).contains(&ratio), "{fahrenheit} °F: {ratio}");
        }
    }

    /// Pressure follows the temperature (Canadian gas-technician training text, unit 3).
    #[test]
    fn the_pressure_does_not_tell_how_full_a_container_is() {
        let outcome = crate::tests::call(NAME, &[("temperature", "70 degF")]).unwrap();
        assert!(outcome.notes.iter().any(|note| note.contains("does not tell how full")));
    }

    /// The short Antoine equation of the handbooks (log₁₀ p = A − B/(T + C)) ends at 247.8 K, −13 °F; at
    /// 130 °F it is 3 % off. At 130 °F CoolProp 8.0.0 gives 258.68 psi above the atmosphere.
    #[test]
    fn warm_cylinders_are_not_computed_with_an_equation_for_cold_ones() {
        let kelvin = (130.0 + 459.67) / 1.8;
        let antoine = libm::pow(10.0, 8.928_28 - 803.997 / (kelvin - 26.11)) / 6_894.757;
        assert!((antoine / 273.377 - 1.0).abs() > 0.02, "{antoine} psi");
        let warm = [("temperature", "130 degF")];
        check(NAME, &warm, 258.68, "psi", 0.1);
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
