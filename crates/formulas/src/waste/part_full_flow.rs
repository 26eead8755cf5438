//! Flow of a drain that runs part full, after Manning.

use quantity::{Kind, Length, Quantity, Ratio, Speed, VolumeFlow};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// What runs in a drain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrainFlow {
    /// Flow.
    pub flow: VolumeFlow,
    /// Mean speed.
    pub velocity: Speed,
}

/// Flow and speed in a round drain filled to a depth.
///
/// `V = (1/n)·R^⅔·S^½`, Q = V·A, with θ = 2·acos(1 − 2y/D), A = D²(θ − sin θ)/8, R = A/(Dθ/2); SI units, S the slope,
/// n Manning's roughness: 0.009 to 0.010 for plastic, 0.013 for clay.
///
/// # Errors
/// [`Problem::OutOfRange`] for a depth over the diameter, or no slope.
pub fn part_full_flow(
    diameter: Length,
    depth: Length,
    slope: Ratio,
    roughness_n: f64,
) -> Result<DrainFlow, Problem> {
    if depth > diameter {
        return Err(Problem::out_of_range(
            "a drain filled over its crown is under pressure, which Manning’s equation does not cover; valid \
             for a depth up to the diameter",
        ));
    }
    if slope.base() <= 0.0 {
        return Err(Problem::out_of_range(
            "without a fall there is no flow by gravity; valid for a slope above zero",
        ));
    }
    let d = diameter.base();
    let theta = 2.0 * libm::acos(1.0 - 2.0 * (depth / diameter).base());
    if theta <= 0.0 {
        return Ok(DrainFlow { flow: VolumeFlow::from_base(0.0), velocity: Speed::from_base(0.0) });
    }
    let area = d * d * (theta - libm::sin(theta)) / 8.0;
    let hydraulic_radius = area / (d * theta / 2.0);
    let v = velocity(hydraulic_radius, slope.base(), roughness_n);
    Ok(DrainFlow { flow: VolumeFlow::from_base(v * area), velocity: Speed::from_base(v) })
}

/// Manning's equation, SI units.
fn velocity(hydraulic_radius: f64, slope: f64, n: f64) -> f64 {
    libm::pow(hydraulic_radius, 2.0 / 3.0) * slope.sqrt() / n
}

pub(crate) static FORMULA: Formula = Formula {
    name: "waste.part_full_flow",
    summary: "Flow and speed in a round drain that runs part full.",
    inputs: &[
        Input::quantity("diameter", Kind::Length, "inside diameter of the drain")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("depth", Kind::Length, "depth of the water in it")
            .accepting(Accepts::AtLeast("0 in")),
        Input::quantity("slope", Kind::Ratio, "slope of the drain, such as 1/4 in/ft"),
        Input::quantity(
            "roughness_n",
            Kind::Number,
            "Manning’s roughness n: 0.009 to 0.010 for plastic, 0.013 for clay or old iron",
        )
        .accepting(Accepts::AboveUpTo("0", "0.2")),
    ],
    result: Gives::quantity("flow", "gpm", "flow"),
    parts: &[Gives::quantity("velocity", "ft/s", "mean speed")],
    valid: "depth up to the diameter; slope above zero",
    sources: &[
        Source {
            document: "Manning’s equation with the geometry of the circular segment",
            section: "",
            confirmed: Confirmed::Derived,
        },
        Source {
            document: "",
            section: "2 ft/s for a drain that cleans itself",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[
        ("diameter", "3.068 in"),
        ("depth", "1.534 in"),
        ("slope", "1/4 in/ft"),
        ("roughness_n", "0.010"),
    ],
    compute: |inputs| {
        let found = part_full_flow(
            inputs.get("diameter")?,
            inputs.get("depth")?,
            inputs.get("slope")?,
            inputs.get("roughness_n")?,
        )?;
        let outcome = Outcome::new(found.flow).part("velocity", found.velocity);
        // 2 ft/s.
        Ok(if found.velocity.base() < 0.609_6 {
            outcome.note("slower than 2 ft/s, at which a drain is said to clean itself")
        } else {
            outcome
        })
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{call, check, check_part, refuses};

    const NAME: &str = "waste.part_full_flow";
    static PART_FULL: Table =
        Table::of(include_str!("../../../../reference/pipe_flow/part_full.csv"));

    fn drain<'a>(d: &'a str, y: &'a str, slope: &'a str, n: &'a str) -> [(&'a str, &'a str); 4] {
        [("diameter", d), ("depth", y), ("slope", slope), ("roughness_n", n)]
    }

    /// A textbook example (Çengel and Cimbala) that fluids 1.3.1 gives as 1.0467782 m/s.
    #[test]
    fn mannings_equation_gives_the_textbook_speed() {
        assert!((super::velocity(0.2859, 0.005_236, 0.03) - 1.046_778_2).abs() < 1e-7);
    }

    /// Published worked examples: 24 in at 0.3 % and n 0.012 13.4 cfs, 8 in at 0.5 % and n 0.013 0.854 cfs. They
    /// use 1.486 for 1.4859.
    #[test]
    fn full_drains_agree_with_published_examples() {
        check(NAME, &drain("24 in", "24 in", "0.3 %", "0.012"), 13.423, "cfs", 0.003);
        let half = drain("24 in", "12 in", "0.3 %", "0.012");
        check(NAME, &half, 6.712, "cfs", 0.002);
        check_part(NAME, &half, "velocity", 4.273, "ft/s", 0.001);
        let small = drain("8 in", "8 in", "0.5 %", "0.013");
        check(NAME, &small, 0.8545, "cfs", 0.000_2);
        check_part(NAME, &small, "velocity", 2.448, "ft/s", 0.001);
    }

    /// 3-in and 1½-in pipe half full, worked from the equation.
    #[test]
    fn usual_drains_half_full() {
        for (d, y, slope, gpm, speed) in [
            ("3.068 in", "1.534 in", "1/4 in/ft", 39.5, 3.43),
            ("3.068 in", "1.534 in", "1/8 in/ft", 27.9, 2.43),
            ("1.61 in", "0.805 in", "1/4 in/ft", 7.08, 2.23),
            ("1.61 in", "0.805 in", "1/8 in/ft", 5.00, 1.58),
        ] {
            let given = drain(d, y, slope, "0.010");
            check(NAME, &given, gpm, "gpm", gpm * 1.5e-3);
            check_part(NAME, &given, "velocity", speed, "ft/s", 0.006);
            let slow = call(NAME, &given).unwrap().notes.iter().any(|note| note.contains("2 ft/s"));
            assert_eq!(slow, speed < 2.0, "{d} {slope}");
        }
    }

    /// Computed from the geometry: flow and speed against those of the full drain.
    #[test]
    fn a_drain_carries_most_a_little_short_of_full() {
        let number = |depth: &str, part: bool| {
            let outcome = call(NAME, &drain("10 in", depth, "1 %", "0.010")).unwrap();
            let output = if part { &outcome.parts[0].1 } else { &outcome.result };
            let crate::Output::Quantity(value) = output else { panic!("no quantity") };
            value.base
        };
        for (depth, flow, speed) in [
            ("2.5 in", 0.1370, 0.7007),
            ("5 in", 0.5, 1.0),
            ("7.5 in", 0.9119, 1.1335),
            ("8 in", 0.9775, 1.1397),
            ("9.38 in", 1.0757, 1.1041),
        ] {
            assert!((number(depth, false) / number("10 in", false) - flow).abs() < 1e-4, "{depth}");
            assert!((number(depth, true) / number("10 in", true) - speed).abs() < 1e-4, "{depth}");
        }
    }

    /// 200 drains computed with fluids 1.3.1 (`V_Manning`, `A_partial_circle`).
    #[test]
    fn two_hundred_drains_agree_with_the_library() {
        let mut count = 0;
        for row in PART_FULL.rows() {
            let (d, y) =
                (row.text("diameter").to_owned() + " in", row.text("depth").to_owned() + " in");
            let slope = row.text("slope").to_owned() + " %";
            let given = drain(&d, &y, &slope, row.text("roughness_n"));
            let (flow, speed) = (row.number("flow"), row.number("velocity"));
            check(NAME, &given, flow, "m3/s", flow * 1e-6);
            check_part(NAME, &given, "velocity", speed, "m/s", speed * 1e-6);
            count += 1;
        }
        assert_eq!(count, 200);
    }

    #[test]
    fn a_dry_drain_carries_nothing_and_a_surcharged_or_level_one_has_no_answer() {
        check(NAME, &drain("3 in", "0 in", "1 %", "0.01"), 0.0, "gpm", 0.0);
        for (y, slope, words) in [
            ("3.1 in", "1 %", "under pressure"),
            ("1 in", "0 %", "gravity"),
            ("1 in", "-1 %", "gravity"),
        ] {
            let problem = refuses(NAME, &drain("3 in", y, slope, "0.01"), words);
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        let problem = refuses(NAME, &drain("3 in", "-1 in", "1 %", "0.01"), "not possible");
        assert!(matches!(problem, Problem::Input { .. }));
    }
}
