//! How much of a container the liquid takes at a temperature.

use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
use quantity::{Density, Kind, Mass, Quantity, Ratio, Temperature, exact};

use super::cylinder_capacity::FILLING_TABLE;
use crate::table::{Table, between};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

static SATURATION: Table =
    Table::of(include_str!("../../../../data/tables/propane_saturation.csv"));

/// Density of water at 60 °F, which stamped water capacities mean: 999.02 kg/m³ (IAPWS-IF97).
const WATER: f64 = 999.02;

/// Densities of saturated liquid and vapour.
fn densities(temperature: Temperature) -> Result<(Density, Density), Problem> {
    let table = &SATURATION;
    // The conversion from °F to K and back leaves crumbs in the last digits.
    let fahrenheit = (temperature.get::<degree_fahrenheit>() * 1e9).round() / 1e9;
    let at = |column| between(&table.line("temperature", column), fahrenheit);
    let (Some(liquid), Some(vapour)) = (at("liquid"), at("vapour")) else {
        return Err(Problem::out_of_range("valid from -40 degF to 140 degF"));
    };
    Ok((
        Density::new::<exact::mass_density::pound_per_us_gallon>(liquid),
        Density::new::<exact::mass_density::pound_per_foot_cubed>(vapour),
    ))
}

/// Share of a container's volume that its liquid takes, with the rest full of saturated vapour.
///
/// `x = (m/V − ρᵥ)/(ρₗ − ρᵥ)`, V from the stamped water capacity at 60 °F.
///
/// # Errors
/// [`Problem::OutOfRange`] outside −40 °F to 140 °F, if everything would be vapour, or if the container
/// would be full of liquid.
pub fn liquid_level(
    contents: Mass,
    water_capacity: Mass,
    temperature: Temperature,
) -> Result<Ratio, Problem> {
    let (liquid, vapour) = densities(temperature)?;
    let mean = contents.base() / water_capacity.base() * WATER;
    let level = (mean - vapour.base()) / (liquid.base() - vapour.base());
    if level > 1.0 {
        return Err(Problem::out_of_range(
            "the container would be full of liquid at this temperature and its relief valve would open: \
             stop work, keep it cool, and have a licensed supplier relieve it",
        ));
    }
    if level < 0.0 {
        return Err(Problem::out_of_range(
            "so little propane is all vapour at this temperature; there is no liquid level",
        ));
    }
    Ok(Ratio::from_base(level))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "gas.liquid_level",
    summary: "Share of a container's volume that liquid propane takes at a temperature.",
    inputs: &[
        Input::quantity("contents", Kind::Mass, "propane in the container")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("water_capacity", Kind::Mass, "water capacity stamped WC")
            .accepting(Accepts::Above("0 lb")),
        Input::quantity("temperature", Kind::Temperature, "temperature of the liquid")
            .accepting(Accepts::AtLeast("0 K")),
    ],
    result: Gives::quantity("level", "%", "share of the volume"),
    parts: &[],
    valid: "pure propane from -40 degF to 140 degF",
    sources: &[
        Source {
            document: "balance of saturated liquid and vapour, densities computed with CoolProp 8.0.0",
            section: "",
            confirmed: Confirmed::Derived,
        },
        FILLING_TABLE,
    ],
    example: &[("contents", "20 lb"), ("water_capacity", "47.6 lb"), ("temperature", "60 degF")],
    compute: |inputs| {
        let level = liquid_level(
            inputs.get("contents")?,
            inputs.get("water_capacity")?,
            inputs.get("temperature")?,
        )?;
        Ok(Outcome::new(level)
            .note("the legal limit is 42 % of the water capacity by weight, whatever this shows"))
    },
};

#[cfg(test)]
mod tests {
    use super::{Mass, Temperature, densities, liquid_level};
    use crate::tests::{check, refuses};
    use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
    use quantity::{Quantity, exact};

    const NAME: &str = "gas.liquid_level";

    fn fahrenheit(degrees: f64) -> Temperature {
        Temperature::new::<degree_fahrenheit>(degrees)
    }

    /// Densities computed with CoolProp 8.0.0: °F, liquid in lb/gal, vapour in lb/ft³; 506.69 kg/m³ at 60 °F is a
    /// specific gravity of 0.5072.
    #[test]
    fn densities_are_those_of_the_equation_of_state() {
        for (degrees, liquid, vapour) in [
            (-40.0, 4.8273, 0.1643),
            (-30.0, 4.7730, 0.2043),
            (-20.0, 4.7177, 0.2514),
            (-10.0, 4.6614, 0.3064),
            (0.0, 4.6040, 0.3703),
            (10.0, 4.5454, 0.4440),
            (20.0, 4.4853, 0.5286),
            (30.0, 4.4238, 0.6253),
            (40.0, 4.3606, 0.7354),
            (50.0, 4.2956, 0.8604),
            (60.0, 4.2285, 1.0021),
            (70.0, 4.1591, 1.1625),
            (80.0, 4.0871, 1.3439),
            (90.0, 4.0120, 1.5491),
            (100.0, 3.9336, 1.7816),
            (110.0, 3.8512, 2.0455),
            (120.0, 3.7641, 2.3464),
            (130.0, 3.6713, 2.6912),
            (140.0, 3.5716, 3.0897),
        ] {
            let (l, v) = densities(fahrenheit(degrees)).unwrap();
            let (l, v) = (
                l.get::<exact::mass_density::pound_per_us_gallon>(),
                v.get::<exact::mass_density::pound_per_foot_cubed>(),
            );
            assert!((l - liquid).abs() < 0.000_1, "{degrees} °F: {l}");
            assert!((v - vapour).abs() < 0.000_1, "{degrees} °F: {v}");
        }
        let (liquid, _) = densities(fahrenheit(60.0)).unwrap();
        assert!((liquid.base() / super::WATER - 0.5072).abs() < 0.000_1);
    }

    /// Two-phase balance computed with CoolProp 8.0.0 for a legal fill of 42 % by weight. At 60 °F it takes
    /// 82 % of the volume and is still legal: the limit is by weight. At 40 °F it takes the 79.8 % of the worked
    /// example in 29 CFR 1910.110(b)(19)(v)(d).
    #[test]
    fn a_legal_fill_takes_more_of_the_volume_the_warmer_it_is() {
        for (degrees, percent) in [
            (-20.0, 74.0),
            (0.0, 75.8),
            (40.0, 79.8),
            (60.0, 82.2),
            (80.0, 85.0),
            (100.0, 88.3),
            (120.0, 92.4),
            (130.0, 94.9),
            (140.0, 97.8),
        ] {
            let temperature = format!("{degrees} degF");
            let given = [
                ("contents", "42 lb"),
                ("water_capacity", "100 lb"),
                ("temperature", &*temperature),
            ];
            check(NAME, &given, percent, "%", 0.06);
        }
    }

    /// The same balance, the vapour above the liquid counted too: what was 80 % at 0 °F is full at 127.7 °F,
    /// 90 % at 40 °F at 99.9 °F, 95 % at 40 °F at 71.6 °F.
    #[test]
    fn a_fill_by_volume_on_a_cold_day_is_an_overfill_on_a_warm_one() {
        for (level, cold, full) in [(0.80, 0.0, 127.7), (0.90, 40.0, 99.9), (0.95, 40.0, 71.6)] {
            let (liquid, vapour) = densities(fahrenheit(cold)).unwrap();
            let mean = level * liquid.base() + (1.0 - level) * vapour.base();
            let (contents, water) = (Mass::from_base(mean), Mass::from_base(999.02));
            let just_before = liquid_level(contents, water, fahrenheit(full - 0.2)).unwrap().base();
            assert!(just_before > 0.998, "{level} at {cold} °F: {just_before}");
            assert!(liquid_level(contents, water, fahrenheit(full + 0.2)).is_err());
        }
    }

    /// The liquid alone, without the vapour that was above it, is full a degree later: computed with CoolProp 8.0.0
    /// at 128.8, 101.1 and 72.3 °F. The balance above is the more cautious.
    #[test]
    fn counting_the_liquid_alone_finds_a_container_full_a_degree_later() {
        for (level, cold, full) in [(0.80, 0.0, 128.8), (0.90, 40.0, 101.1), (0.95, 40.0, 72.3)] {
            let (then, _) = densities(fahrenheit(cold)).unwrap();
            let (later, _) = densities(fahrenheit(full)).unwrap();
            let share = level * then.base() / later.base();
            assert!((share - 1.0).abs() < 0.000_6, "{level} at {cold} °F: {share}");
        }
    }

    #[test]
    fn a_full_container_and_an_empty_one_have_no_level() {
        for (contents, temperature, words) in [
            ("50 lb", "100 degF", "full of liquid"),
            ("0.1 lb", "100 degF", "all vapour"),
            ("42 lb", "150 degF", "valid from"),
        ] {
            let given = [
                ("contents", contents),
                ("water_capacity", "100 lb"),
                ("temperature", temperature),
            ];
            refuses(NAME, &given, words);
        }
    }
}
