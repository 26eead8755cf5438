//! How long standing water in an insulated pipe takes to freeze.

use quantity::{Kind, Length, Quantity, Temperature, Time};

use super::insulated_pipe::{FREEZING, Insulation, WIND_CHILL, air_below_freezing, no_wind_chill};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Heat that a cubic metre of water gives up for each kelvin: 62.4 lb/ft³ at 1 Btu/(lb °F), in J/(m³ K).
const HEAT_OF_WATER: f64 = 62.4 * 0.453_592_37 / (0.3048 * 0.3048 * 0.3048) * 4_186.8;
/// Heat of freezing: 144 Btu/lb, in J/m³ of water of 62.4 lb/ft³.
const HEAT_OF_FREEZING: f64 = 62.4 * 0.453_592_37 / (0.3048 * 0.3048 * 0.3048) * 144.0 * 2_326.0;

/// How far standing water has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreezingTimes {
    /// Until the water has cooled to 32 °F.
    pub to_freezing: Time,
    /// From there until a tenth of it is ice.
    pub to_tenth_ice: Time,
    /// From 32 °F until all of it is ice.
    pub to_solid: Time,
}

/// Times of standing water in an insulated pipe: cooling to 32 °F, and then turning to ice.
///
/// `θ = ρ·c·π(D₁/2)²·R·ln[(tᵢ − tₐ)/(t_f − tₐ)]`, R = ln(D₃/D₂)/(2πk); ice of the share f takes
/// `62.4·A·144·f·R/(t_f − tₐ)` more. ASHRAE Handbook—Fundamentals, chapter on insulation for mechanical systems.
/// The pipe's wall and the film of air are left out, so a still pipe really takes longer.
///
/// # Errors
/// [`Problem::Input`] for diameters in the wrong order; [`Problem::OutOfRange`] in air of 32 °F and more, for water
/// already at 32 °F, or for a bare pipe.
pub fn time_to_freezing(
    inside_diameter: Length,
    insulation: Insulation,
    water: Temperature,
    air: Temperature,
) -> Result<FreezingTimes, Problem> {
    if insulation.inside <= inside_diameter {
        return Err(Problem::input(
            "outside_diameter",
            "is not more than the inside diameter; accepted: the pipe's outside diameter",
        ));
    }
    let resistance = insulation.resistance()?;
    air_below_freezing(air)?;
    if water.base() <= FREEZING + 1e-9 {
        return Err(Problem::out_of_range(
            "the water is at its freezing point already; valid for water above 32 degF",
        ));
    }
    let area = std::f64::consts::FRAC_PI_4 * inside_diameter.base() * inside_diameter.base();
    let below = FREEZING - air.base();
    let cooling = libm::log((water.base() - air.base()) / below);
    let solid = HEAT_OF_FREEZING * area * resistance / below;
    Ok(FreezingTimes {
        to_freezing: Time::from_base(HEAT_OF_WATER * area * resistance * cooling),
        to_tenth_ice: Time::from_base(0.1 * solid),
        to_solid: Time::from_base(solid),
    })
}

pub(crate) static FORMULA: Formula = Formula {
    name: "freeze.time_to_freezing",
    summary: "Time until standing water in an insulated pipe has cooled to 32 degF.",
    inputs: &[
        Input::quantity("inside_diameter", Kind::Length, "inside diameter of the pipe")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("outside_diameter", Kind::Length, "outside diameter of the pipe")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("insulation_diameter", Kind::Length, "diameter over the insulation")
            .accepting(Accepts::Above("0 in")),
        Input::quantity(
            "conductivity",
            Kind::ThermalConductivity,
            "conductivity of the insulation, such as 0.27 Btu in/(h ft2 degF) for foam",
        )
        .accepting(Accepts::Above("0 W/(m K)")),
        Input::quantity("water", Kind::Temperature, "temperature of the water at the start")
            .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "air",
            Kind::Temperature,
            "temperature of the air around the insulation, as a thermometer shows it: wind does not make a pipe \
             colder than the air",
        )
        .accepting(Accepts::AtLeast("0 K")),
        WIND_CHILL,
    ],
    result: Gives::quantity("time", "h", "until the water is at 32 degF"),
    parts: &[
        Gives::quantity("to_tenth_ice", "h", "from there until a tenth of it is ice"),
        Gives::quantity("to_solid", "h", "from 32 degF until all of it is ice"),
    ],
    valid: "standing water above 32 degF, air below 32 degF, an insulated pipe",
    sources: &[Source {
        document: "ASHRAE Handbook—Fundamentals (2009, 2019), insulation for mechanical systems",
        section: "equation 1: time to cool to freezing; as two calculators quote it",
        confirmed: Confirmed::Quoted,
    }],
    example: &[
        ("inside_diameter", "2.067 in"),
        ("outside_diameter", "2.375 in"),
        ("insulation_diameter", "5.375 in"),
        ("conductivity", "0.30 Btu in/(h ft2 degF)"),
        ("water", "42 degF"),
        ("air", "-18 degF"),
    ],
    compute: |inputs| {
        no_wind_chill(inputs)?;
        let insulation = Insulation {
            inside: inputs.get("outside_diameter")?,
            outside: inputs.get("insulation_diameter")?,
            conductivity: inputs.get("conductivity")?,
        };
        let times = time_to_freezing(
            inputs.get("inside_diameter")?,
            insulation,
            inputs.get("water")?,
            inputs.get("air")?,
        )?;
        Ok(Outcome::new(times.to_freezing)
            .part("to_tenth_ice", times.to_tenth_ice)
            .part("to_solid", times.to_solid)
            .note("an estimate, ±50 %: a draught on an elbow freezes first")
            .note("wind only shortens the time, it does not cool below the temperature of the air"))
    },
};

#[cfg(test)]
mod tests {
    use super::FORMULA;
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "freeze.time_to_freezing";
    static REFERENCE: Table =
        Table::of(include_str!("../../../../reference/pipe_heat/pipe_heat.csv"));

    fn pipe<'a>(
        diameters: (&'a str, &'a str, &'a str),
        conductivity: &'a str,
        water: &'a str,
        air: &'a str,
    ) -> [(&'a str, &'a str); 6] {
        [
            ("inside_diameter", diameters.0),
            ("outside_diameter", diameters.1),
            ("insulation_diameter", diameters.2),
            ("conductivity", conductivity),
            ("water", water),
            ("air", air),
        ]
    }

    const K30: &str = "0.30 Btu in/(h ft2 degF)";
    const TWO_INCH: (&str, &str, &str) = ("2.067 in", "2.375 in", "5.375 in");

    /// The ASHRAE table prints 1.4 h and 4.6 h for 2-in pipe in 1.5 in of insulation.
    #[test]
    fn standing_water_takes_the_handbooks_time() {
        check(NAME, &pipe(TWO_INCH, K30, "42 degF", "-18 degF"), 1.378, "h", 0.000_6);
        check(NAME, &pipe(TWO_INCH, K30, "42 degF", "20 degF"), 4.583, "h", 0.000_6);
    }

    /// Nominal pipe with ½ to 2 in of insulation, 42 to −18 °F; worked from the equation.
    #[test]
    fn thicker_insulation_and_wider_pipe_take_longer() {
        for (inside, outside, hours) in [
            (0.622, 0.84, [0.12, 0.19, 0.23, 0.27]),
            (1.049, 1.315, [0.25, 0.40, 0.52, 0.61]),
            (2.067, 2.375, [0.59, 1.03, 1.38, 1.67]),
            (3.068, 3.5, [0.93, 1.68, 2.30, 2.83]),
        ] {
            for (thickness, want) in [0.5, 1.0, 1.5, 2.0].into_iter().zip(hours) {
                let texts = [inside, outside, outside + 2.0 * thickness].map(|d| format!("{d} in"));
                let diameters = (&*texts[0], &*texts[1], &*texts[2]);
                check(NAME, &pipe(diameters, K30, "42 degF", "-18 degF"), want, "h", 0.006);
            }
        }
    }

    /// ½-in plastic pipe in ½ in of foam, worked from the equation and 144 Btu/lb.
    #[test]
    fn ice_takes_ten_times_as_long_as_cooling() {
        let given = pipe(
            ("0.475 in", "0.625 in", "1.625 in"),
            "0.27 Btu in/(h ft2 degF)",
            "50 degF",
            "10 degF",
        );
        check(NAME, &given, 0.310, "h", 0.000_6);
        check_part(NAME, &given, "to_tenth_ice", 0.340, "h", 0.000_6);
        check_part(NAME, &given, "to_solid", 3.40, "h", 0.006);
    }

    /// 200 pipes, their resistance computed with ht 1.2.0 (`conduction.R_cylinder`).
    #[test]
    fn two_hundred_pipes_agree_with_the_library() {
        let mut count = 0;
        for row in REFERENCE.rows() {
            let cell = |column, unit: &str| format!("{} {unit}", row.text(column));
            let texts = [cell("inside", "in"), cell("outside", "in"), cell("insulation", "in")];
            let conductivity = cell("conductivity", "Btu in/(h ft2 degF)");
            let (water, air) = (cell("water", "degF"), cell("air", "degF"));
            let hours = row.number("hours");
            let given = pipe((&texts[0], &texts[1], &texts[2]), &conductivity, &water, &air);
            check(NAME, &given, hours, "h", hours * 1e-6);
            count += 1;
        }
        assert_eq!(count, 200);
    }

    #[test]
    fn in_air_above_freezing_it_never_freezes() {
        for air in ["32 degF", "40 degF", "0 degC"] {
            let problem = refuses(NAME, &pipe(TWO_INCH, K30, "42 degF", air), "never freezes");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let problem = refuses(NAME, &pipe(TWO_INCH, K30, "32 degF", "0 degF"), "already");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
    }

    #[test]
    fn a_bare_pipe_and_diameters_in_the_wrong_order_are_refused() {
        let bare = ("2.067 in", "2.375 in", "2.375 in");
        let problem = refuses(NAME, &pipe(bare, K30, "42 degF", "0 degF"), "bare pipe");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        for (diameters, input) in [
            (("2.067 in", "2.375 in", "2 in"), "insulation_diameter"),
            (("2.5 in", "2.375 in", "5 in"), "outside_diameter"),
        ] {
            let problem = refuses(NAME, &pipe(diameters, K30, "42 degF", "0 degF"), "accepted");
            assert!(matches!(problem, Problem::Input { ref name, .. } if name == input));
        }
    }

    /// Wind chill is about skin: a pipe never gets colder than the air (National Weather Service).
    #[test]
    fn wind_chill_is_refused_with_its_reason_and_no_other_name_lets_it_in() {
        let mut given = pipe(TWO_INCH, K30, "42 degF", "20 degF").to_vec();
        given.push(("wind_chill", "-18 degF"));
        let problem = refuses(NAME, &given, "is not for pipes");
        assert!(matches!(problem, Problem::Input { ref name, .. } if name == "wind_chill"));
        for name in ["feels_like", "wind"] {
            assert!(FORMULA.input(name).is_none());
            given.pop();
            given.push((name, "-18 degF"));
            refuses(NAME, &given, "has no such input");
        }
    }
}
