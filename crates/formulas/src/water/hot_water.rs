//! Hot water: how much a heater makes, how long it takes, how hot and cold mix.

use quantity::uom::si::{temperature_interval::degree_fahrenheit, time::hour};
use quantity::{
    Density, Energy, Kind, Power, Quantity, Ratio, Temperature, TemperatureDifference, Time,
    Volume, VolumeFlow, exact,
};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Heat that warms a volume of water: 8.33 lb/gal, 1 Btu for each pound and °F.
fn heat(volume: Volume, rise: TemperatureDifference) -> Energy {
    let density = Density::new::<exact::mass_density::pound_per_us_gallon>(8.33);
    let pounds = (volume * density).get::<exact::mass::avoirdupois_pound>();
    Energy::new::<exact::energy::british_thermal_unit>(pounds * rise.get::<degree_fahrenheit>())
}

/// Water that a heater warms each hour: `P·η/(8.33 lb/gal · 1 Btu/(lb °F) · ΔT)`.
#[must_use]
pub fn recovery(power: Power, efficiency: Ratio, rise: TemperatureDifference) -> VolumeFlow {
    let gallon = Volume::new::<exact::volume::us_gallon>(1.0);
    gallon * (power * efficiency / heat(gallon, rise))
}

/// Time that a heater takes to warm its tank.
#[must_use]
pub fn heat_up_time(
    volume: Volume,
    power: Power,
    efficiency: Ratio,
    rise: TemperatureDifference,
) -> Time {
    heat(volume, rise) / (power * efficiency)
}

/// Hot water in the first hour: 70 % of the tank and an hour's recovery.
#[must_use]
pub fn first_hour(tank: Volume, recovery: VolumeFlow) -> Volume {
    0.7 * tank + recovery * Time::new::<hour>(1.0)
}

/// Share of hot water in a mix: `(T_mixed − T_cold)/(T_hot − T_cold)`.
///
/// # Errors
/// [`Problem::Input`] if the hot is not hotter than the cold, or the mix not between them.
pub fn hot_fraction(
    cold: Temperature,
    hot: Temperature,
    mixed: Temperature,
) -> Result<Ratio, Problem> {
    if hot <= cold {
        return Err(Problem::input(
            "hot",
            "is not hotter than the cold; accepted: more than the cold temperature",
        ));
    }
    if mixed < cold || mixed > hot {
        return Err(Problem::input(
            "mixed",
            "lies outside the cold and the hot; accepted: from the cold to the hot temperature",
        ));
    }
    Ok(Ratio::from_base((mixed.base() - cold.base()) / (hot.base() - cold.base())))
}

const HEAT_OF_WATER: Source = Source {
    document: "heat balance of water, 8.33 lb/gal and 1 Btu/(lb °F)",
    section: "",
    confirmed: Confirmed::Derived,
};

const POWER: Input = Input::quantity("power", Kind::Power, "input of the heater, by its plate")
    .accepting(Accepts::Above("0 W"));
const EFFICIENCY: Input = Input::quantity(
    "efficiency",
    Kind::Ratio,
    "share that reaches the water: 100 % electric, about 70 % for small gas heaters",
)
.accepting(Accepts::AboveUpTo("0 %", "100 %"));
const RISE: Input =
    Input::quantity("rise", Kind::TemperatureDifference, "rise of temperature, such as 80 ddegF")
        .accepting(Accepts::Above("0 ddegF"));

pub(crate) static RECOVERY: Formula = Formula {
    name: "water.recovery",
    summary: "Water that a heater warms each hour.",
    inputs: &[POWER, EFFICIENCY, RISE],
    result: Gives::quantity("recovery", "gph", "water warmed by the rise"),
    parts: &[],
    valid: "",
    sources: &[HEAT_OF_WATER],
    example: &[("power", "4500 W"), ("efficiency", "100 %"), ("rise", "80 ddegF")],
    compute: |inputs| {
        Ok(Outcome::new(recovery(
            inputs.get("power")?,
            inputs.get("efficiency")?,
            inputs.get("rise")?,
        )))
    },
};

pub(crate) static HEAT_UP: Formula = Formula {
    name: "water.heat_up_time",
    summary: "Time that a heater takes to warm its tank.",
    inputs: &[
        Input::quantity("volume", Kind::Volume, "volume of the tank")
            .accepting(Accepts::Above("0 gal")),
        POWER,
        EFFICIENCY,
        RISE,
    ],
    result: Gives::quantity("time", "min", "from cold to hot, nothing drawn"),
    parts: &[],
    valid: "no water drawn meanwhile",
    sources: &[HEAT_OF_WATER],
    example: &[
        ("volume", "6 gal"),
        ("power", "12000 Btu/h"),
        ("efficiency", "70 %"),
        ("rise", "80 ddegF"),
    ],
    compute: |inputs| {
        Ok(Outcome::new(heat_up_time(
            inputs.get("volume")?,
            inputs.get("power")?,
            inputs.get("efficiency")?,
            inputs.get("rise")?,
        )))
    },
};

pub(crate) static FIRST_HOUR: Formula = Formula {
    name: "water.first_hour",
    summary: "Hot water that a full tank and its heater give in the first hour.",
    inputs: &[
        Input::quantity("tank", Kind::Volume, "volume of the tank")
            .accepting(Accepts::AtLeast("0 gal")),
        Input::quantity("recovery", Kind::VolumeFlow, "water warmed each hour (water.recovery)")
            .accepting(Accepts::AtLeast("0 gph")),
    ],
    result: Gives::quantity("volume", "gal", "70 % of the tank and an hour’s recovery"),
    parts: &[],
    valid: "",
    sources: &[Source {
        document: "",
        section: "70 % of the tank can be drawn before it cools",
        confirmed: Confirmed::CommonPractice,
    }],
    example: &[("tank", "6 gal"), ("recovery", "11.6 gph")],
    compute: |inputs| Ok(Outcome::new(first_hour(inputs.get("tank")?, inputs.get("recovery")?))),
};

pub(crate) static MIX: Formula = Formula {
    name: "water.mix",
    summary: "Share of hot water in a mix.",
    inputs: &[
        Input::quantity("cold", Kind::Temperature, "temperature of the cold water")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("hot", Kind::Temperature, "temperature of the hot water")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity("mixed", Kind::Temperature, "temperature of the mix")
            .accepting(Accepts::AtLeast("0 K")),
    ],
    result: Gives::quantity("hot_fraction", "%", "share of hot water"),
    parts: &[],
    valid: "",
    sources: &[HEAT_OF_WATER],
    example: &[("cold", "60 degF"), ("hot", "140 degF"), ("mixed", "105 degF")],
    compute: |inputs| {
        Ok(Outcome::new(hot_fraction(
            inputs.get("cold")?,
            inputs.get("hot")?,
            inputs.get("mixed")?,
        )?))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, refuses};

    fn recovered(power: &str, efficiency: &str, rise: &str, gph: f64, tolerance: f64) {
        let given = [("power", power), ("efficiency", efficiency), ("rise", rise)];
        check("water.recovery", &given, gph, "gph", tolerance);
    }

    /// A published recovery table of electric heaters, printed to a tenth.
    #[test]
    fn recovery_follows_the_published_table() {
        for (power, rise, gph) in [
            ("1500 W", "60 ddegF", 10.2),
            ("1500 W", "80 ddegF", 7.7),
            ("1500 W", "100 ddegF", 6.1),
            ("2000 W", "100 ddegF", 8.2),
            ("4500 W", "80 ddegF", 23.0),
            ("4500 W", "100 ddegF", 18.4),
            ("5500 W", "90 ddegF", 25.0),
        ] {
            recovered(power, "100 %", rise, gph, 0.051);
        }
    }

    /// The same table prints 26.6 gph for 5,000 W and 80 °F; the balance gives 25.6.
    #[test]
    fn the_misprinted_cell_of_the_table_is_not_reproduced() {
        recovered("5000 W", "100 %", "80 ddegF", 25.6, 0.05);
    }

    /// Small gas heaters are usually rated 7.4 gph.
    #[test]
    fn a_gas_heater_recovers_by_its_efficiency() {
        recovered("8800 Btu/h", "70 %", "100 ddegF", 7.39, 0.006);
        recovered("12000 Btu/h", "0.7", "100 ddegF", 10.08, 0.006);
    }

    #[test]
    fn a_heater_without_rise_or_efficiency_is_refused() {
        for (efficiency, rise) in [("100 %", "0 ddegF"), ("0 %", "80 ddegF"), ("120 %", "80 ddegF")]
        {
            let given = [("power", "1500 W"), ("efficiency", efficiency), ("rise", rise)];
            let problem = refuses("water.recovery", &given, "not possible");
            assert!(matches!(problem, Problem::Input { .. }));
        }
    }

    /// Six gallons from 60 to 140 °F.
    #[test]
    fn a_tank_heats_up_in_its_heat_over_the_input() {
        for (power, efficiency, minutes) in
            [("12000 Btu/h", "70 %", 28.6), ("1400 W", "100 %", 50.2)]
        {
            let given = [
                ("volume", "6 gal"),
                ("power", power),
                ("efficiency", efficiency),
                ("rise", "80 ddegF"),
            ];
            check("water.heat_up_time", &given, minutes, "min", 0.06);
        }
    }

    /// A published worked example: 6 gal and 11.6 gph are 15.8 gal.
    #[test]
    fn the_first_hour_is_most_of_the_tank_and_the_recovery() {
        check(
            "water.first_hour",
            &[("tank", "6 gal"), ("recovery", "11.6 gph")],
            15.8,
            "gal",
            1e-9,
        );
    }

    #[test]
    fn a_mix_lies_between_cold_and_hot() {
        let mix = |cold, hot, mixed| [("cold", cold), ("hot", hot), ("mixed", mixed)];
        check("water.mix", &mix("60 degF", "140 degF", "105 degF"), 56.25, "%", 1e-9);
        check("water.mix", &mix("60 degF", "140 degF", "60 degF"), 0.0, "%", 1e-9);
        for (given, input) in [
            (mix("60 degF", "140 degF", "150 degF"), "mixed"),
            (mix("60 degF", "140 degF", "50 degF"), "mixed"),
            (mix("60 degF", "60 degF", "60 degF"), "hot"),
        ] {
            let problem = refuses("water.mix", &given, "accepted");
            assert!(matches!(problem, Problem::Input { ref name, .. } if name == input));
        }
    }
}
