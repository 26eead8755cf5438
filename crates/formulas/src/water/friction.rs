//! Pressure that water loses by friction in a straight pipe, after Hazen and Williams.

use quantity::uom::si::length::{foot, inch};
use quantity::uom::si::velocity::foot_per_second;
use quantity::{Kind, Length, Pressure, Speed, VolumeFlow, exact};

use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Mean speed in a full pipe: flow divided by inside area.
#[must_use]
pub fn speed(flow: VolumeFlow, inside_diameter: Length) -> Speed {
    flow / (std::f64::consts::FRAC_PI_4 * inside_diameter * inside_diameter)
}

/// Head that water loses in a straight pipe.
///
/// `h = 0.2083·(100/C)^1.852·Q^1.852/d^4.8655` feet for each 100 feet, Q in gpm, d inside in inches, C the
/// roughness coefficient (150 for smooth plastic and copper). The psi form 4.52·Q^1.85/(C^1.85·d^4.87) is for
/// each foot, not for each hundred, as some calculators have it.
///
/// # Errors
/// [`Problem::OutOfRange`] for C outside 60 to 160.
pub fn head_loss(
    flow: VolumeFlow,
    inside_diameter: Length,
    length: Length,
    roughness_c: f64,
) -> Result<Length, Problem> {
    if !(60.0..=160.0).contains(&roughness_c) {
        return Err(Problem::out_of_range(
            "valid for a roughness coefficient C of 60 (old iron) to 160; smooth plastic and copper have 150",
        ));
    }
    let q = flow.get::<exact::volume_rate::us_gallon_per_minute>();
    let d = inside_diameter.get::<inch>();
    let h =
        0.2083 * libm::pow(100.0 / roughness_c, 1.852) * libm::pow(q, 1.852) / libm::pow(d, 4.8655);
    Ok(length * (h / 100.0))
}

/// Pressure of a head of water: 0.4335 psi for each foot.
#[must_use]
pub fn head_pressure(head: Length) -> Pressure {
    Pressure::new::<exact::pressure::pound_per_square_inch>(0.4335 * head.get::<foot>())
}

/// Pressure that water loses in a straight pipe: [`head_loss`] times 0.4335 psi a foot.
///
/// # Errors
/// As [`head_loss`].
pub fn friction(
    flow: VolumeFlow,
    inside_diameter: Length,
    length: Length,
    roughness_c: f64,
) -> Result<Pressure, Problem> {
    Ok(head_pressure(head_loss(flow, inside_diameter, length, roughness_c)?))
}

/// Adds what the speed calls for.
pub(super) fn note_speed(outcome: Outcome, speed: Speed) -> Outcome {
    if speed.get::<foot_per_second>() > 8.0 {
        outcome.note("faster than 8 ft/s, which the trade advises for cold water (5 ft/s for hot)")
    } else {
        outcome
    }
}

pub(super) const STRAIGHT_ONLY: &str = "straight pipe only: fittings add to it, and insert fittings of plastic pipe are about 30 % narrower";

pub(crate) static FORMULA: Formula = Formula {
    name: "water.friction",
    summary: "Pressure that water loses in a straight pipe, after Hazen and Williams.",
    inputs: &[
        Input::quantity("flow", Kind::VolumeFlow, "flow of water")
            .accepting(Accepts::AtLeast("0 gpm")),
        Input::quantity("inside_diameter", Kind::Length, "inside diameter of the pipe")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("length", Kind::Length, "length of the pipe")
            .accepting(Accepts::AtLeast("0 ft")),
        Input::quantity(
            "roughness_c",
            Kind::Number,
            "roughness coefficient C: 150 for smooth plastic and copper, 140 for older copper, 100 for iron",
        )
        .accepting(Accepts::Above("0")),
    ],
    result: Gives::quantity("drop", "psi", "pressure lost"),
    parts: &[
        Gives::quantity("head", "ft", "the same as a head of water"),
        Gives::quantity("speed", "ft/s", "mean speed in the pipe"),
    ],
    valid: "cold water, turbulent flow, C of 60 to 160",
    sources: &[
        Source {
            document: "California Plumbing Code 2013",
            section: "appendix A, standard for CPVC pipe: equation of Hazen and Williams; 0.4335 psi a foot",
            confirmed: Confirmed::Read,
        },
        Source {
            document: "",
            section: "8 ft/s for cold and 5 ft/s for hot water",
            confirmed: Confirmed::CommonPractice,
        },
    ],
    example: &[
        ("flow", "3 gpm"),
        ("inside_diameter", "0.475 in"),
        ("length", "100 ft"),
        ("roughness_c", "150"),
    ],
    compute: |inputs| {
        let (flow, diameter) = (inputs.get("flow")?, inputs.get("inside_diameter")?);
        let head =
            head_loss(flow, diameter, inputs.get("length")?, inputs.get("roughness_c")?)?;
        let mean = speed(flow, diameter);
        let outcome =
            Outcome::new(head_pressure(head)).part("head", head).part("speed", mean);
        Ok(note_speed(outcome.note(STRAIGHT_ONLY), mean))
    },
};

#[cfg(test)]
mod tests {
    use crate::Problem;
    use crate::tests::{check, check_part, refuses};

    const NAME: &str = "water.friction";

    fn pipe<'a>(flow: &'a str, d: &'a str, length: &'a str, c: &'a str) -> [(&'a str, &'a str); 4] {
        [("flow", flow), ("inside_diameter", d), ("length", length), ("roughness_c", c)]
    }

    /// Worked from the equation in the California Plumbing Code 2013, appendix A, for 100 ft.
    #[test]
    fn friction_follows_hazen_and_williams() {
        for (flow, d, c, feet, psi, speed) in [
            ("2 gpm", "0.475 in", "150", 13.278, 5.756, 3.62),
            ("3 gpm", "0.475 in", "150", 28.135, 12.196, 5.43),
            ("4 gpm", "0.475 in", "150", 47.933, 20.779, 7.24),
            ("4 gpm", "0.671 in", "150", 8.926, 3.869, 3.63),
            ("10 gpm", "0.671 in", "150", 48.714, 21.117, 9.07),
            ("10 gpm", "0.785 in", "140", 25.797, 11.183, 6.63),
        ] {
            let given = pipe(flow, d, "100 ft", c);
            check(NAME, &given, psi, "psi", 0.001);
            check_part(NAME, &given, "head", feet, "ft", 0.002);
            check_part(NAME, &given, "speed", speed, "ft/s", 0.006);
        }
    }

    /// California Plumbing Code 2013, appendix A: 0.4335 psi a foot, so 2.307 ft a psi; 8.345 lb/gal give the same.
    #[test]
    fn a_psi_is_two_and_a_third_feet_of_water() {
        use super::{Length, exact, foot, head_pressure};
        let psi = |feet| {
            head_pressure(Length::new::<foot>(feet)).get::<exact::pressure::pound_per_square_inch>()
        };
        assert!((psi(2.307) - 1.0).abs() < 0.000_2, "{}", psi(2.307));
        assert!((psi(1.0) - 8.345 * 1_728.0 / 231.0 / 144.0).abs() < 0.000_1);
    }

    /// Some calculators print 0.12 psi for 100 ft of 3/4 in at 10 gpm: that is for one foot.
    #[test]
    fn the_psi_form_is_for_each_foot_and_not_for_each_hundred() {
        let given = pipe("10 gpm", "0.75 in", "100 ft", "150");
        check(NAME, &given, 12.3, "psi", 0.1);
        let q: f64 = 10.0;
        let each_foot =
            4.52 * libm::pow(q, 1.85) / (libm::pow(150.0, 1.85) * libm::pow(0.75, 4.87));
        check(NAME, &pipe("10 gpm", "0.75 in", "1 ft", "150"), each_foot, "psi", 0.001);
    }

    #[test]
    fn standing_water_loses_nothing_and_a_wild_coefficient_is_out_of_range() {
        check(NAME, &pipe("0 gpm", "0.475 in", "100 ft", "150"), 0.0, "psi", 0.0);
        for c in ["40", "180"] {
            let problem = refuses(NAME, &pipe("2 gpm", "0.475 in", "9 ft", c), "60");
            assert!(matches!(problem, Problem::OutOfRange { .. }));
        }
        refuses(NAME, &pipe("2 gpm", "0 in", "9 ft", "150"), "not possible");
    }
}
