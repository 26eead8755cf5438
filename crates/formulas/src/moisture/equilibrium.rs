//! The moisture content that wood comes to in steady air.

use quantity::uom::si::{
    ratio::{percent, ratio},
    thermodynamic_temperature::degree_celsius,
};
use quantity::{Kind, Ratio, Temperature};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Room for the rounding of the unit conversions.
const HAIR: f64 = 1e-9;

/// Equilibrium moisture content of solid wood, by dry mass.
///
/// `EMC = (1800/W)·[KH/(1 − KH) + (K₁KH + 2K₁K₂K²H²)/(1 + K₁KH + K₁K₂K²H²)]` in percent, H the relative
/// humidity as a fraction, the four coefficients quadratic in the temperature in °C. Two-hydrate sorption
/// model of Hailwood and Horrobin; Wood Handbook (Forest Products Laboratory), chapter 4, eq. 4-5, and
/// research note FPL-RN-0268.
///
/// # Errors
/// [`Problem::OutOfRange`] outside 30 °F to 194 °F or above 95 % relative humidity.
pub fn equilibrium(temperature: Temperature, relative_humidity: Ratio) -> Result<Ratio, Problem> {
    let t = temperature.get::<degree_celsius>();
    let h = relative_humidity.get::<ratio>();
    if !(-10.0 / 9.0 - HAIR..=90.0 + HAIR).contains(&t) {
        return Err(Problem::out_of_range(
            "valid for wood from 30 degF to 194 degF (-1 degC to 90 degC)",
        ));
    }
    if h > 0.95 + HAIR {
        return Err(Problem::out_of_range(
            "valid up to 95 % relative humidity; near saturation the model ends and free water begins",
        ));
    }
    let weight = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * h;
    let hydrates = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
    Ok(Ratio::new::<percent>(1_800.0 / weight * (kh / (1.0 - kh) + hydrates)))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "moisture.equilibrium",
    summary: "Moisture content that solid wood comes to in steady air.",
    inputs: &[
        Input::quantity("temperature", Kind::Temperature, "of the air and the wood")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("relative_humidity", Kind::Ratio, "of the air around the wood")
            .accepting(Accepts::Between("0 %", "100 %")),
    ],
    result: Gives::quantity("moisture", "%", "water by the mass of dry wood"),
    parts: &[],
    valid: "solid wood, 30 degF to 194 degF, up to 95 % relative humidity",
    sources: &[Source {
        document: "Wood Handbook (Forest Products Laboratory) and research note FPL-RN-0268",
        section: "chapter 4, eq. 4-5, in the form for °C, read in code that cites them",
        confirmed: Confirmed::Quoted,
    }],
    example: &[("temperature", "70 degF"), ("relative_humidity", "50 %")],
    compute: |inputs| {
        Ok(Outcome::new(equilibrium(inputs.get("temperature")?, inputs.get("relative_humidity")?)?)
            .note(
                "for steady conditions: wood follows slowly, so compare with the weeks before, not with the \
                 hour of the visit",
            )
            .note("plywood and strand board run lower; the fit is good to about 0.9 % at worst"))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    const NAME: &str = "moisture.equilibrium";

    fn pairs<'a>(temperature: &'a str, humidity: &'a str) -> [(&'static str, &'a str); 2] {
        [("temperature", temperature), ("relative_humidity", humidity)]
    }

    /// Worked out from the equation in °C.
    #[test]
    fn moisture_follows_the_equation() {
        for (temperature, humidity, percent) in [
            ("20 degC", "50 %", 9.271_1),
            ("20 degC", "65 %", 11.996_3),
            ("20 degC", "80 %", 16.037_1),
            ("30 degC", "80 %", 15.547_8),
            ("-1.1 degC", "50 %", 9.514_8),
            ("4.4 degC", "80 %", 16.494_2),
            ("140 degF", "55 %", 8.372_6),
        ] {
            check(NAME, &pairs(temperature, humidity), percent, "%", 6e-5);
        }
    }

    /// Wood Handbook, table 4-2, 70 °F, printed to a tenth; the fit is good to 0.1 there.
    #[test]
    fn moisture_agrees_with_the_printed_table_at_70_degrees() {
        for (humidity, percent) in [
            ("5 %", 1.3),
            ("20 %", 4.5),
            ("30 %", 6.2),
            ("40 %", 7.7),
            ("50 %", 9.2),
            ("60 %", 11.0),
            ("65 %", 12.0),
            ("70 %", 13.1),
            ("75 %", 14.4),
            ("80 %", 16.0),
            ("85 %", 17.9),
            ("90 %", 20.5),
            ("95 %", 23.9),
        ] {
            check(NAME, &pairs("70 degF", humidity), percent, "%", 0.1);
        }
    }

    /// The equation inverted with SciPy 1.17.1, `brentq`, at 21.11 °C.
    #[test]
    fn humidities_that_keep_a_moisture_give_it_back() {
        for (humidity, percent) in
            [("0.41990", 8.0), ("0.65198", 12.0), ("0.80031", 16.0), ("0.89153", 20.0)]
        {
            check(NAME, &pairs("21.11 degC", humidity), percent, "%", 2e-3);
        }
    }

    /// A published example: 140 °F and 55 % give 8.4 % by the equation, 8.0 % in the table.
    #[test]
    fn a_published_example_at_140_degrees_is_reproduced() {
        check(NAME, &pairs("140 degF", "55 %"), 8.4, "%", 0.05);
    }

    #[test]
    fn saturated_air_and_frozen_or_hot_wood_have_no_number() {
        for (temperature, humidity, words) in [
            ("70 degF", "96 %", "up to 95 %"),
            ("70 degF", "100 %", "up to 95 %"),
            ("20 degF", "50 %", "30 degF to 194 degF"),
            ("200 degF", "50 %", "30 degF to 194 degF"),
        ] {
            let problem = refuses(NAME, &pairs(temperature, humidity), words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let problem = refuses(NAME, &pairs("70 degF", "120 %"), "0 % to 100 %");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
