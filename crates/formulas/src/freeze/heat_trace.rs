//! Heat that keeps an insulated pipe from freezing.

use quantity::{Kind, PowerPerLength, Quantity, Temperature};

use super::insulated_pipe::{Insulation, WIND_CHILL, no_wind_chill};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Heat that conducts through the insulation of each length of pipe: `2πk·ΔT/ln(Do/Di)`.
///
/// # Errors
/// [`Problem::Input`] or [`Problem::OutOfRange`] for insulation that is none; [`Problem::OutOfRange`] for air that
/// is not colder than the pipe.
pub fn conducted_heat(
    insulation: Insulation,
    pipe: Temperature,
    air: Temperature,
) -> Result<PowerPerLength, Problem> {
    if air >= pipe {
        return Err(Problem::out_of_range(
            "in air as warm as the pipe no heat is needed; valid for air colder than the pipe",
        ));
    }
    Ok(PowerPerLength::from_base((pipe.base() - air.base()) / insulation.resistance()?))
}

/// Heat that a tracing cable must give each length of pipe: the conducted heat and a tenth more.
///
/// # Errors
/// As [`conducted_heat`].
pub fn heat_trace(
    insulation: Insulation,
    pipe: Temperature,
    air: Temperature,
) -> Result<PowerPerLength, Problem> {
    Ok(1.1 * conducted_heat(insulation, pipe, air)?)
}

pub(crate) static FORMULA: Formula = Formula {
    name: "freeze.heat_trace",
    summary: "Heat that keeps an insulated pipe at a temperature, for each length of it.",
    inputs: &[
        Input::quantity("pipe_diameter", Kind::Length, "outside diameter of the pipe")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("insulation_diameter", Kind::Length, "diameter over the insulation")
            .accepting(Accepts::Above("0 in")),
        Input::quantity(
            "conductivity",
            Kind::ThermalConductivity,
            "conductivity of the insulation, such as 0.25 Btu in/(h ft2 degF)",
        )
        .accepting(Accepts::Above("0 W/(m K)")),
        Input::quantity(
            "pipe",
            Kind::Temperature,
            "temperature to keep the pipe at, usually 40 degF",
        )
        .accepting(Accepts::AtLeast("0 K")),
        Input::quantity(
            "air",
            Kind::Temperature,
            "lowest temperature of the air, as a thermometer shows it: wind chill is not for pipes",
        )
        .accepting(Accepts::AtLeast("0 K")),
        WIND_CHILL,
    ],
    result: Gives::quantity(
        "power",
        "W/ft",
        "heat of the cable for each length, with a tenth to spare",
    ),
    parts: &[Gives::quantity("conducted", "W/ft", "heat through the insulation alone")],
    valid: "an insulated pipe, air colder than the pipe",
    sources: &[Source {
        document: "heat-trace makers’ design tables",
        section: "W/ft = 2πk·ΔT·1.1/(40.944·ln(Do/Di)), k in Btu in/(h ft2 degF); 10 % for film and radiation",
        confirmed: Confirmed::Quoted,
    }],
    example: &[
        ("pipe_diameter", "2.375 in"),
        ("insulation_diameter", "4.375 in"),
        ("conductivity", "0.25 Btu in/(h ft2 degF)"),
        ("pipe", "40 degF"),
        ("air", "-10 degF"),
    ],
    compute: |inputs| {
        no_wind_chill(inputs)?;
        let insulation = Insulation {
            inside: inputs.get("pipe_diameter")?,
            outside: inputs.get("insulation_diameter")?,
            conductivity: inputs.get("conductivity")?,
        };
        let (pipe, air) = (inputs.get("pipe")?, inputs.get("air")?);
        Ok(Outcome::new(heat_trace(insulation, pipe, air)?)
            .part("conducted", conducted_heat(insulation, pipe, air)?)
            .note(
                "use a cable listed for this dwelling, with ground-fault protection; never lap it over itself \
                 unless it is self-regulating and its maker allows it",
            ))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "freeze.heat_trace";
    static REFERENCE: Table =
        Table::of(include_str!("../../../../reference/pipe_heat/pipe_heat.csv"));

    fn traced<'a>(
        diameter: &'a str,
        insulation: &'a str,
        pipe: &'a str,
        air: &'a str,
    ) -> [(&'a str, &'a str); 5] {
        [
            ("pipe_diameter", diameter),
            ("insulation_diameter", insulation),
            ("conductivity", "0.25 Btu in/(h ft2 degF)"),
            ("pipe", pipe),
            ("air", air),
        ]
    }

    /// A maker's printed table, W/ft for each °F at k 0.25, ½ to 1½ in of insulation, printed to a thousandth.
    #[test]
    fn heat_for_each_degree_follows_the_printed_table() {
        for (outside, watts) in [
            (0.84, [0.054, 0.041, 0.035, 0.028]),
            (1.315, [0.075, 0.055, 0.046, 0.036]),
            (2.375, [0.120, 0.086, 0.069, 0.052]),
        ] {
            for (thickness, want) in [0.5, 0.75, 1.0, 1.5].into_iter().zip(watts) {
                let (pipe, over) =
                    (format!("{outside} in"), format!("{} in", outside + 2.0 * thickness));
                check(NAME, &traced(&pipe, &over, "41 degF", "40 degF"), want, "W/ft", 0.000_6);
            }
        }
    }

    /// 2-in pipe in 1 in, 40 °F in −10 °F: 3.1398 W/ft by conduction (ht 1.2.0, `R_cylinder`), a tenth more in all.
    #[test]
    fn a_tenth_is_added_to_the_conducted_heat() {
        let given = traced("2.375 in", "4.375 in", "40 degF", "-10 degF");
        check(NAME, &given, 3.45, "W/ft", 0.005);
        check_part(NAME, &given, "conducted", 3.139_8, "W/ft", 0.000_1);
    }

    /// 200 pipes computed with ht 1.2.0 (`conduction.R_cylinder`).
    #[test]
    fn two_hundred_pipes_agree_with_the_library() {
        let mut count = 0;
        for row in REFERENCE.rows() {
            let cell = |column, unit: &str| format!("{} {unit}", row.text(column));
            let given = [
                ("pipe_diameter", cell("outside", "in")),
                ("insulation_diameter", cell("insulation", "in")),
                ("conductivity", cell("conductivity", "Btu in/(h ft2 degF)")),
                ("pipe", cell("water", "degF")),
                ("air", cell("air", "degF")),
            ];
            let pairs: Vec<_> = given.iter().map(|(name, text)| (*name, text.as_str())).collect();
            let watts = row.number("watts_a_metre");
            check_part(NAME, &pairs, "conducted", watts, "W/m", watts * 1e-6);
            count += 1;
        }
        assert_eq!(count, 200);
    }

    #[test]
    fn wind_chill_is_refused_with_its_reason() {
        let mut given = traced("2 in", "4 in", "40 degF", "20 degF").to_vec();
        given.push(("wind_chill", "-5 degF"));
        let problem = refuses(NAME, &given, "is not for pipes");
        assert!(matches!(problem, Problem::Input { ref name, .. } if name == "wind_chill"));
    }

    #[test]
    fn warm_air_and_bare_pipe_have_no_answer() {
        for (given, words) in [
            (traced("2 in", "4 in", "40 degF", "40 degF"), "no heat is needed"),
            (traced("2 in", "2 in", "40 degF", "0 degF"), "bare pipe"),
        ] {
            let problem = refuses(NAME, &given, words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let problem = refuses(NAME, &traced("2 in", "1 in", "40 degF", "0 degF"), "less than");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
