//! How much a furnace or heat pump warms the air, and how much air that says it moves.

use quantity::uom::si::{
    length::meter, ratio::ratio, temperature_interval::degree_fahrenheit,
    thermodynamic_temperature::kelvin,
};
use quantity::{
    Kind, Length, Power, Quantity, Ratio, Temperature, TemperatureDifference, VolumeFlow, exact,
};

use super::moist_air;
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Btu/h for each cfm and °F of standard air at sea level.
const STANDARD_AIR: f64 = 1.08;

/// Rise of temperature from return to supply; negative where the air is cooled.
#[must_use]
pub fn rise(supply: Temperature, back: Temperature) -> TemperatureDifference {
    TemperatureDifference::from_base(supply.get::<kelvin>() - back.get::<kelvin>())
}

/// Air flow that carries a heat at a rise: `cfm = P·η/(1.08·p/p₀·rise)`.
///
/// # Errors
/// [`Problem::OutOfRange`] without a rise, or outside −500 m to 11,000 m.
pub fn rise_flow(
    input: Power,
    efficiency: Ratio,
    rise: TemperatureDifference,
    altitude: Length,
) -> Result<VolumeFlow, Problem> {
    let degrees = rise.get::<degree_fahrenheit>();
    if degrees <= 0.0 {
        return Err(Problem::out_of_range(
            "not determinable: the supply is not warmer than the return, so no heat is carried",
        ));
    }
    let pressure = moist_air::standard_pressure(altitude.get::<meter>())? / 101_325.0;
    let heat =
        input.get::<exact::power::british_thermal_unit_per_hour>() * efficiency.get::<ratio>();
    Ok(VolumeFlow::new::<exact::volume_rate::foot_cubed_per_minute>(
        heat / (STANDARD_AIR * pressure * degrees),
    ))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "air.rise",
    summary: "Temperature rise over a furnace or heat pump, and the air flow it tells.",
    inputs: &[
        Input::quantity("supply", Kind::Temperature, "of the air it gives")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("return", Kind::Temperature, "of the air it takes")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("input", Kind::Power, "nameplate input; without it no flow is told")
            .accepting(Accepts::Above("0 Btu/h"))
            .optional(),
        Input::quantity("efficiency", Kind::Ratio, "output by input; 100 % if left out")
            .accepting(Accepts::AboveUpTo("0 %", "100 %"))
            .optional(),
        Input::quantity("altitude", Kind::Length, "above sea level; 0 ft if left out").optional(),
    ],
    result: Gives::quantity("rise", "ddegF", "supply less return"),
    parts: &[Gives::quantity("flow", "cfm", "air that carries the heat at this rise")],
    valid: "dry heating of air; a heat pump's output is not its electrical input",
    sources: &[
        Source {
            document: "a heating trade's worked example",
            section: "66 degF to 120 degF is a rise of 54 degF",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "",
            section: "1.08 Btu/h for each cfm and degF of standard air, by the pressure",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[
        ("supply", "130 degF"),
        ("return", "70 degF"),
        ("input", "100000 Btu/h"),
        ("efficiency", "80 %"),
    ],
    compute: |inputs| {
        let found = rise(inputs.get("supply")?, inputs.get("return")?);
        let altitude = inputs.optional("altitude")?.unwrap_or(Length::from_base(0.0));
        let efficiency = inputs.optional("efficiency")?;
        let outcome = Outcome::new(found).note(
            "held only against the range on the appliance's own rating plate; take it after 10 to 20 steady \
             minutes, the thermometer out of sight of the heat exchanger",
        );
        let Some(input) = inputs.optional::<Power>("input")? else {
            return Ok(outcome);
        };
        if found.base() <= 0.0 {
            return Ok(outcome.note(
                "the supply is not warmer than the return: no flow is determinable, and no heat is made",
            ));
        }
        let outcome = if efficiency.is_none() {
            outcome.note("no efficiency is given: the input is taken as the heat in the air")
        } else {
            outcome
        };
        let efficiency = efficiency.unwrap_or(Ratio::new::<ratio>(1.0));
        Ok(outcome.part("flow", rise_flow(input, efficiency, found, altitude)?))
    },
};

#[cfg(test)]
mod tests {
    use quantity::uom::si::{length::foot, ratio::ratio, temperature_interval::degree_fahrenheit};
    use quantity::{Length, Power, Ratio, TemperatureDifference, exact};

    use super::rise_flow;
    use crate::tests::{call, check, check_part};

    const NAME: &str = "air.rise";

    #[test]
    fn the_rise_is_supply_less_return() {
        check(NAME, &[("supply", "120 degF"), ("return", "66 degF")], 54.0, "ddegF", 1e-9);
        check(NAME, &[("supply", "60 degF"), ("return", "66 degF")], -6.0, "ddegF", 1e-9);
    }

    /// Worked out from 1.08 Btu/h for each cfm and °F.
    #[test]
    fn the_flow_carries_the_heat() {
        for (supply, input, efficiency, cfm) in [
            ("130 degF", "100000 Btu/h", "80 %", 1_234.57),
            ("113.210 degF", "28000 Btu/h", "100 %", 600.0),
            ("116.296 degF", "17500 Btu/h", "100 %", 350.0),
            ("96.327 degF", "17060 Btu/h", "100 %", 600.0),
            ("97.778 degF", "24000 Btu/h", "100 %", 800.0),
        ] {
            let pairs = [
                ("supply", supply),
                ("return", "70 degF"),
                ("input", input),
                ("efficiency", efficiency),
            ];
            check_part(NAME, &pairs, "flow", cfm, "cfm", 0.02);
        }
    }

    /// A trade page's example, 1400 cfm at 95 °F outdoors: sensible capacities and the falls of temperature that it
    /// prints for them, 16.6, 24.70, 25.08 and 20.74 °F (its 31,730 Btu/h elsewhere stands as 31,370).
    #[test]
    fn a_published_table_of_capacities_and_splits_is_reproduced() {
        for (btu, split, printed) in [
            (25_010.0, 16.541, 16.6),
            (37_360.0, 24.709, 24.70),
            (37_930.0, 25.086, 25.08),
            (31_370.0, 20.747, 20.74),
        ] {
            let flow = rise_flow(
                Power::new::<exact::power::british_thermal_unit_per_hour>(btu),
                Ratio::new::<ratio>(1.0),
                TemperatureDifference::new::<degree_fahrenheit>(split),
                Length::new::<foot>(0.0),
            )
            .unwrap()
            .get::<exact::volume_rate::foot_cubed_per_minute>();
            assert!((flow - 1_400.0).abs() < 0.05, "{btu}: {flow}");
            assert!((split - printed).abs() < 0.06_f64, "{btu}");
        }
    }

    /// 1.08 scaled by the standard atmosphere, as an altitude table of the trade prints it.
    #[test]
    fn thin_air_carries_less() {
        for (feet, factor) in [
            (0.0, 1.08),
            (1_000.0, 1.041_5),
            (2_000.0, 1.004_2),
            (5_000.0, 0.898_6),
            (7_000.0, 0.833_4),
            (10_000.0, 0.742_7),
        ] {
            let flow = rise_flow(
                Power::new::<exact::power::british_thermal_unit_per_hour>(10_000.0),
                Ratio::new::<ratio>(1.0),
                TemperatureDifference::new::<degree_fahrenheit>(50.0),
                Length::new::<foot>(feet),
            )
            .unwrap()
            .get::<exact::volume_rate::foot_cubed_per_minute>();
            assert!((200.0 / flow - factor).abs() < 1e-4, "{feet}: {}", 200.0 / flow);
        }
    }

    /// Two sensors of ± 0.9 °F, each u = 0.9/√3, give a difference of u = 0.7348 °F (JCGM 100:2008, 5.1.2).
    #[test]
    fn the_uncertainty_of_a_rise_is_that_of_both_sensors() {
        use crate::Output;
        use crate::tests::in_unit;
        let pairs = [("supply", "120 degF ± 0.519615"), ("return", "66 degF ± 0.519615")];
        let Output::Quantity(rise) = call(NAME, &pairs).unwrap().result else { panic!("no rise") };
        let kelvin = rise.standard_uncertainty().unwrap();
        assert!((kelvin * 1.8 - 0.734_847).abs() < 1e-5, "{kelvin}");
        assert!((in_unit(rise, "ddegF") - 54.0).abs() < 1e-9);
    }

    #[test]
    fn without_a_rise_there_is_no_flow() {
        let pairs = [("supply", "70 degF"), ("return", "70 degF"), ("input", "28000 Btu/h")];
        let outcome = call(NAME, &pairs).unwrap();
        assert!(outcome.parts.is_empty(), "{outcome:?}");
        assert!(outcome.notes.iter().any(|note| note.contains("no heat is made")));
    }
}
