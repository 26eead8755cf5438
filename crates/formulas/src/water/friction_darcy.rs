//! Pressure that water loses by friction in a straight pipe, after Darcy and Weisbach.

use quantity::uom::si::thermodynamic_temperature::degree_fahrenheit;
use quantity::{Kind, Length, Pressure, Quantity, Temperature, VolumeFlow};

use super::friction::{STRAIGHT_ONLY, note_speed, speed};
use super::properties::{DENSITY, VISCOSITY, density, viscosity};
use crate::{Accepts, Confirmed, Formula, Gives, Input, Outcome, Problem, Source};

/// Darcy's friction factor of a full round pipe.
///
/// Laminar, below a Reynolds number of 2,300, `f = 64/Re`; from 4,000 on the explicit form of Swamee and Jain,
/// `f = 0.25/[log₁₀(ε/(3.7D) + 5.74/Re^0.9)]²`.
///
/// # Errors
/// [`Problem::OutOfRange`] for transitional flow, beyond Re 10⁸, or for a pipe rougher than 1/20 of its bore.
pub fn friction_factor(reynolds: f64, relative_roughness: f64) -> Result<f64, Problem> {
    if relative_roughness > 0.05 {
        return Err(Problem::out_of_range(
            "valid for a roughness up to 1/20 of the inside diameter",
        ));
    }
    if reynolds < 2_300.0 {
        return Ok(64.0 / reynolds);
    }
    if reynolds < 4_000.0 {
        return Err(Problem::out_of_range(
            "this flow is transitional, between laminar and turbulent (Reynolds number 2,300 to 4,000), \
             where no friction is certain to better than 50 %",
        ));
    }
    if reynolds > 1e8 {
        return Err(Problem::out_of_range("valid up to a Reynolds number of 100,000,000"));
    }
    let log = libm::log10(relative_roughness / 3.7 + 5.74 / libm::pow(reynolds, 0.9));
    Ok(0.25 / (log * log))
}

/// Reynolds number of water in a full pipe: `ρ·v·D/μ`.
///
/// # Errors
/// [`Problem::OutOfRange`] where water is not liquid.
pub fn reynolds_number(
    flow: VolumeFlow,
    inside_diameter: Length,
    temperature: Temperature,
) -> Result<f64, Problem> {
    let v = speed(flow, inside_diameter).base();
    Ok(density(temperature)?.base() * v * inside_diameter.base() / viscosity(temperature)?)
}

/// Pressure that water loses in a straight pipe: `Δp = f·L/D·ρv²/2`.
///
/// # Errors
/// As [`friction_factor`] and [`reynolds_number`].
pub fn friction_darcy(
    flow: VolumeFlow,
    inside_diameter: Length,
    length: Length,
    roughness: Length,
    temperature: Temperature,
) -> Result<Pressure, Problem> {
    let reynolds = reynolds_number(flow, inside_diameter, temperature)?;
    if reynolds <= 0.0 {
        return Ok(Pressure::from_base(0.0));
    }
    let f = friction_factor(reynolds, (roughness / inside_diameter).base())?;
    let v = speed(flow, inside_diameter).base();
    let dynamic = density(temperature)?.base() * v * v / 2.0;
    Ok(Pressure::from_base(f * (length / inside_diameter).base() * dynamic))
}

pub(crate) static FORMULA: Formula = Formula {
    name: "water.friction_darcy",
    summary: "Pressure that water loses in a straight pipe, after Darcy and Weisbach.",
    inputs: &[
        Input::quantity("flow", Kind::VolumeFlow, "flow of water")
            .accepting(Accepts::AtLeast("0 gpm")),
        Input::quantity("inside_diameter", Kind::Length, "inside diameter of the pipe")
            .accepting(Accepts::Above("0 in")),
        Input::quantity("length", Kind::Length, "length of the pipe")
            .accepting(Accepts::AtLeast("0 ft")),
        Input::quantity(
            "roughness",
            Kind::Length,
            "height of the wall's roughness; 0.0015 mm without it, for smooth plastic and copper",
        )
        .optional()
        .accepting(Accepts::AtLeast("0 mm")),
        Input::quantity(
            "temperature",
            Kind::Temperature,
            "temperature of the water; 60 degF without it",
        )
        .optional()
        .accepting(Accepts::AtLeast("0 K")),
    ],
    result: Gives::quantity("drop", "psi", "pressure lost"),
    parts: &[
        Gives::quantity("speed", "ft/s", "mean speed in the pipe"),
        Gives::quantity("reynolds", "", "Reynolds number; laminar below 2,300"),
    ],
    valid: "liquid water; Reynolds number below 2,300 or from 4,000 to 100,000,000",
    sources: &[
        Source {
            document: "Swamee and Jain, J. Hydraulics Division ASCE 102 (1976) 657",
            section: "explicit friction factor",
            confirmed: Confirmed::Quoted,
        },
        DENSITY,
        VISCOSITY,
    ],
    example: &[("flow", "3 gpm"), ("inside_diameter", "0.475 in"), ("length", "100 ft")],
    compute: |inputs| {
        let (flow, diameter) = (inputs.get("flow")?, inputs.get("inside_diameter")?);
        let roughness =
            inputs.optional("roughness")?.unwrap_or_else(|| Length::from_base(0.001_5e-3));
        let temperature = inputs
            .optional("temperature")?
            .unwrap_or_else(|| Temperature::new::<degree_fahrenheit>(60.0));
        let drop = friction_darcy(flow, diameter, inputs.get("length")?, roughness, temperature)?;
        let mean = speed(flow, diameter);
        let outcome = Outcome::new(drop)
            .part("speed", mean)
            .part("reynolds", reynolds_number(flow, diameter, temperature)?);
        Ok(note_speed(outcome.note(STRAIGHT_ONLY), mean))
    },
};

#[cfg(test)]
mod tests {
    use super::friction_factor;
    use crate::Problem;
    use crate::table::Table;
    use crate::tests::{call, check, check_part, in_unit, refuses};

    const NAME: &str = "water.friction_darcy";
    static FRICTION: Table =
        Table::of(include_str!("../../../../reference/pipe_flow/friction.csv"));

    fn pipe<'a>(flow: &'a str, diameter: &'a str) -> [(&'a str, &'a str); 3] {
        [("flow", flow), ("inside_diameter", diameter), ("length", "100 ft")]
    }

    /// Computed with fluids 1.3.1: `friction.Swamee_Jain_1976(1e5, 1e-4)`, which has 6.97^0.9 = 5.7406 for 5.74.
    #[test]
    fn the_friction_factor_is_that_of_swamee_and_jain() {
        let f = friction_factor(1e5, 1e-4).unwrap();
        assert!((f - 0.018_452_424_4).abs() < 1e-7, "{f}");
        assert!((friction_factor(1_000.0, 1e-4).unwrap() - 0.064).abs() < 1e-15);
    }

    /// The library's own example, fluids 1.3.1 `one_phase_dP(m=10, rho=1000, mu=1e-5, D=0.1, L=1)` = 63.43447 Pa, is by
    /// another equation (Clamond's solution of Colebrook's): 1 % is how far the two differ in so smooth a pipe.
    #[test]
    fn in_a_smooth_pipe_the_explicit_form_is_within_a_percent_of_the_implicit_one() {
        let speed = 10.0 / (1_000.0 * std::f64::consts::FRAC_PI_4 * 0.01);
        let f = friction_factor(1_000.0 * speed * 0.1 / 1e-5, 0.0).unwrap();
        let drop = f / 0.1 * 1_000.0 * speed * speed / 2.0;
        assert!((drop / 63.434_47 - 1.0).abs() < 0.01, "{drop}");
        // Colebrook's own factor, from the same library: 0.0185138661.
        assert!((friction_factor(1e5, 1e-4).unwrap() / 0.018_513_866_1 - 1.0).abs() < 0.005);
    }

    /// Computed with fluids 1.3.1 at 0.0015 mm and 60 °F.
    #[test]
    fn friction_in_plastic_pipe_agrees_with_the_library() {
        for (flow, diameter, psi) in [
            ("2 gpm", "0.475 in", 6.645),
            ("3 gpm", "0.475 in", 13.484),
            ("4 gpm", "0.475 in", 22.365),
            ("4 gpm", "0.671 in", 4.310),
            ("10 gpm", "0.671 in", 21.726),
        ] {
            check(NAME, &pipe(flow, diameter), psi, "psi", psi * 1e-3);
        }
        let smooth = [pipe("10 gpm", "0.785 in").as_slice(), &[("roughness", "0 mm")]].concat();
        // The library's smooth pipe is by Colebrook's equation, within 1.5 % of Swamee and Jain's.
        check(NAME, &smooth, 10.245, "psi", 10.245 * 0.015);
    }

    /// 200 cases computed with fluids 1.3.1 (`Swamee_Jain_1976`, `one_phase_dP`) on water of iapws 1.5.5; what
    /// differs is the density and viscosity used here.
    #[test]
    fn two_hundred_pipes_agree_with_the_library() {
        let mut count = 0;
        for row in FRICTION.rows() {
            let cell = |column: &str, unit: &str| format!("{} {unit}", row.text(column));
            let given = [
                ("flow", cell("flow", "gpm")),
                ("inside_diameter", cell("inside_diameter", "in")),
                ("length", cell("length", "ft")),
                ("roughness", cell("roughness", "mm")),
                ("temperature", cell("temperature", "degF")),
            ];
            let pairs: Vec<_> = given.iter().map(|(name, text)| (*name, text.as_str())).collect();
            let crate::Output::Quantity(drop) = call(NAME, &pairs).unwrap().result else {
                panic!("no quantity")
            };
            let ratio = in_unit(drop, "Pa") / row.number("drop");
            assert!((ratio - 1.0).abs() < 1e-3, "{pairs:?}: {ratio}");
            count += 1;
        }
        assert_eq!(count, 200);
    }

    #[test]
    fn transitional_flow_has_no_answer() {
        check_part(NAME, &pipe("0.1 gpm", "0.671 in"), "reynolds", 420.0, "", 10.0);
        let problem = refuses(NAME, &pipe("0.7 gpm", "0.671 in"), "transitional");
        assert!(matches!(problem, Problem::OutOfRange { .. }));
        check(NAME, &pipe("0 gpm", "0.671 in"), 0.0, "psi", 0.0);
        let hot = [pipe("2 gpm", "0.671 in").as_slice(), &[("temperature", "230 degF")]].concat();
        refuses(NAME, &hot, "liquid water");
    }
}
